from __future__ import annotations

from dataclasses import replace

import pytest
import shapely
from shapely.geometry import LineString

from hoopwright.cloth.handling import lay
from hoopwright.cloth.replay import after_hands, bench_of
from hoopwright.cloth.shapes import Layer, Stack
from hoopwright.cloth.stitching import stitch
from hoopwright.cloth.topology import topology
from hoopwright.cloth.turning import Opening
from hoopwright.core.errors import GeometryError
from hoopwright.items.bookmark import BookmarkSettings, outlines, strip_width
from hoopwright.items.plan import Plan
from hoopwright.operations.vocabulary import Close, Face, Lay, Role, Side, Turn
from tests.cloth.flap import with_face
from tests.items.small_items import (
    blocks,
    findings_of,
    finished,
    lays,
    planned,
    project_of,
    sheets_shown,
    stacks,
    step_of,
)

SIZES: tuple[tuple[object, dict[str, object]], ...] = (
    ("130x180", {}),
    ("130x180", {"count": 2, "length": 160}),
    ("100x100", {"width": 30, "length": 80, "tail": 40, "corner": 8}),
    ("200x300", {"count": 3, "width": "2 in", "length": "8 in", "corner": "1/4 in", "ribbon_width": 10}),
    ("150x240", {"tail": 0, "length": 200, "opening": 60}),
)
NAMES = ["usual", "two", "small and round", "three", "no ribbon"]


def shapes_of(made: Plan) -> tuple[shapely.Polygon, ...]:
    return outlines(BookmarkSettings.model_validate(made.project.make), made.project.piecing.allowance)


@pytest.mark.parametrize(("field", "make"), SIZES, ids=NAMES)
def test_it_builds_in_many_sizes(field: object, make: dict[str, object]) -> None:
    assert blocks(project_of("bookmark", field, **make)) == []


def test_ribbon_then_back_then_one_closing_seam() -> None:
    hooping = planned("bookmark").hoopings[-1]
    placed, basted, closing = hooping.steps[-3:]
    assert [s.stitch.role for s in (placed, basted, closing)] == [Role.PLACEMENT, Role.BASTE, Role.CLOSING]
    assert [h.piece for h in basted.hands if isinstance(h, Lay)] == ["ribbon"]
    assert [(h.piece, h.face) for h in closing.hands if isinstance(h, Lay)] == [("back", Face.DOWN)]
    assert not placed.halt


def test_the_seam_catches_the_ribbon_at_the_top_and_nowhere_else() -> None:
    """Inward until the work is turned, its length is clear of all seams."""
    made = planned("bookmark", tail=100)
    stack = stacks(made)[-2]
    closing = stack.joins[-1]
    held = shapely.union_all([h.line for h in closing.held if h.sheet == "ribbon"])
    (shape,) = shapes_of(made)
    assert held.length == pytest.approx(6, abs=0.01)
    assert held.bounds[1] == held.bounds[3] == pytest.approx(shape.bounds[3])
    (ribbon,) = stack.of("ribbon")
    assert ribbon.region.bounds[3] - shape.bounds[3] == pytest.approx(made.project.piecing.allowance)
    away = closing.path.difference(held.buffer(1.0))
    assert ribbon.region.intersection(shape).distance(away) > 0.5
    assert ribbon.region.bounds[1] - shape.bounds[1] >= 10


@pytest.mark.parametrize("count", [1, 2])
def test_every_seam_leaves_one_straight_gap_in_a_long_side(count: int) -> None:
    made = planned("bookmark", count=count, opening=50)
    paths = step_of(made.hoopings[-1], Role.CLOSING).stitch.paths
    assert len(paths) == count
    for path, shape in zip(paths, shapes_of(made), strict=True):
        gap = shapely.difference(LineString(shape.exterior.coords), path.buffer(0.001))
        assert gap.length == pytest.approx(50, abs=0.05)
        assert gap.bounds[0] == gap.bounds[2] == pytest.approx(shape.bounds[2])


def test_turned_it_shows_right_sides_only_and_the_ribbon_outside() -> None:
    made = planned("bookmark", corner=5)
    (shape,) = shapes_of(made)
    stack = finished(made)
    top, under = (sheets_shown(stack, side, shape.buffer(-0.5)) for side in (Side.TOP, Side.UNDER))
    assert set(top) == {("ribbon", True), *((p.label, True) for p in made.panels[0].patches)}
    assert set(under) == {("back", True)}


def test_the_back_laid_right_side_up_shows_its_wrong_side() -> None:
    made = planned("bookmark")
    spoilt = replace(made, hoopings=(with_face(made.hoopings[-1], "back", Face.UP),))
    assert ("back", False) in sheets_shown(finished(spoilt), Side.UNDER, shapes_of(made)[0].buffer(-0.5))


def test_an_opening_already_closed_cannot_be_turned_through() -> None:
    made = planned("bookmark")
    turn, close = (next(h for h in made.making.assembly if isinstance(h, kind)) for kind in (Turn, Close))
    with pytest.raises(GeometryError, match="sewn shut"):
        after_hands(stacks(made)[-1], (close, turn), bench_of(made.project))


def test_it_is_the_surface_it_promises() -> None:
    """Front and back, each one sheet, sewn by its seam: a bag with one hole; the hole closed, a sphere (plain topology)."""
    made = planned("bookmark", corner=5)
    promise = made.making.promise
    assert promise is not None
    sheet = made.making.pieces[0].cut
    front, back = (Layer(n, "indigo", 0.3, sheet, f, Side.TOP) for n, f in (("front", Face.UP), ("back", Face.DOWN)))
    closing = step_of(made.hoopings[-1], Role.CLOSING)
    stack = stitch(lay(Stack(), front, back), LineString(closing.runs[0].points), role=Role.CLOSING)
    openings = [Opening(h.line, "front", "back") for h in made.making.assembly if isinstance(h, Close)]
    found, shut = topology(stack, openings), topology(stack, openings, closed=True)
    assert (found.components, found.loops, found.euler) == (promise.parts, promise.rims, promise.euler)
    assert (shut.loops, shut.euler) == (promise.closed_rims, promise.closed_euler)
    assert found.can_be_turned and not shut.can_be_turned


def test_two_bookmarks_lie_two_allowances_apart() -> None:
    made = planned("bookmark", count=2)
    one, other = shapes_of(made)
    s = made.project.piecing.allowance
    assert one.distance(other) == pytest.approx(2 * s)
    left, _, right, _ = made.panels[0].outline.bounds
    assert right - left == pytest.approx(strip_width(2, 44, s)) == pytest.approx(2 * 44 + 2 * s)
    keys = [p.key for p in made.making.pieces]
    assert keys == ["back", "ribbon-1", "ribbon-2"]


def test_the_back_is_cut_with_the_allowance() -> None:
    made = planned("bookmark", width=40, length=140)
    left, low, right, high = made.making.pieces[0].cut.bounds
    s = made.project.piecing.allowance
    assert (right - left, high - low) == pytest.approx((40 + 2 * s, 140 + 2 * s))


@pytest.mark.parametrize(
    ("code", "make"),
    [
        ("HW463", {"count": 3}),
        ("HW463", {"length": 180}),
        ("HW465", {"width": 30, "corner": 16, "tail": 0}),
        ("HW468", {"length": 100, "tail": 95}),
        ("HW468", {"corner": 18, "ribbon_width": 10}),
        ("HW413", {"opening": 15}),
        ("HW414", {"opening": 140}),
        ("HW411", {"ribbon": "stalk"}),
        ("HW402", {"width": 20}),
    ],
)
def test_what_cannot_be_is_refused_with_a_cure(code: str, make: dict[str, object]) -> None:
    found = [f for f in findings_of(project_of("bookmark", **make)) if f.severity == "blocks"]
    assert [f.code for f in found] == [code]
    assert found[0].cure


def test_lays_name_piece_cloth_side_and_place() -> None:
    told = {h.piece: h.sentence for h in lays(planned("bookmark", count=2).hoopings[-1])}
    for words in ("ribbon of bookmark 2, madder ribbon", "upper edge", "6.4 mm", "Tape"):
        assert words in told["ribbon-2"], words
    for words in ("back, indigo twill", "right side DOWN", "6.4 mm"):
        assert words in told["back"], words
