from __future__ import annotations

from dataclasses import replace

import pytest
import shapely
from shapely.geometry import box

from hoopwright.cloth.replay import CLOSED_BY_HAND, after_hands, bench_of
from hoopwright.cloth.turning import Opening, parting
from hoopwright.core.errors import GeometryError
from hoopwright.core.findings import blocking
from hoopwright.operations.vocabulary import Face, Lay, Release, Role, Side, Trim, Turn
from tests.cloth.flap import with_face
from tests.items.small_items import (
    blocks,
    findings_of,
    finished,
    lays,
    patchwork_faults,
    planned,
    project_of,
    sheets_shown,
    stacks,
    step_of,
)

SIZES: tuple[tuple[object, dict[str, object]], ...] = (
    ("130x180", {}),
    ("100x100", {"width": 80, "height": 86, "overlap": 25, "corner": 5}),
    ("200x300", {"width": 180, "height": 280, "overlap": 60, "hem": 15}),
    ("200x200", {"width": "7 in", "height": "6 in", "corner": "1/2 in", "back": "indigo"}),
)


@pytest.mark.parametrize(("field", "make"), SIZES, ids=[str(s[0]) for s in SIZES])
def test_it_builds_in_many_sizes(field: object, make: dict[str, object]) -> None:
    assert blocks(project_of("mat", field, **make)) == []


def test_the_backs_are_laid_after_the_patchwork_and_closed_without_an_opening() -> None:
    hooping = planned("mat").hoopings[-1]
    assert [s.stitch.role for s in hooping.steps][-1] is Role.CLOSING
    assert Role.OUTLINE not in [s.stitch.role for s in hooping.steps]
    closing = hooping.steps[-1]
    assert [h.piece for h in closing.hands if isinstance(h, Lay)] == ["back-lower", "back-upper"]
    assert all(h.face is Face.DOWN for h in closing.hands if isinstance(h, Lay))
    assert closing.stitch.paths[0].is_ring and closing.stitch.style.times == 2  # type: ignore[union-attr]
    assert [type(h) for h in hooping.after] == [Release, Trim]


def test_only_one_halt_follows_the_seam_stitches() -> None:
    steps = planned("mat").hoopings[-1].steps
    last = max(s.index for s in steps if s.stitch.role is Role.ORNAMENT)
    assert [s.index for s in steps if s.halt and s.index > last] == [len(steps)]


def test_the_closing_seam_catches_front_and_back_all_round() -> None:
    made = planned("mat")
    stack = stacks(made)[-2]
    closing = stack.joins[-1]
    seam = made.panels[0].outline.exterior
    for sheets in (["back-lower", "back-upper"], [p.label for p in made.panels[0].patches]):
        held = shapely.union_all([h.line.buffer(0.05) for h in closing.held if h.sheet in sheets])
        assert shapely.difference(seam, held).length < 0.01, sheets


def test_the_seam_does_not_close_the_overlap() -> None:
    """Only at the two sides, where the seam crosses the overlap, are the backs sewn together."""
    made = planned("mat", overlap=40)
    closing = stacks(made)[-2].joins[-1]
    both = [shapely.union_all([h.line for h in closing.held if h.sheet == s]) for s in ("back-lower", "back-upper")]
    shared = shapely.intersection(both[0].buffer(0.01), both[1].buffer(0.01))
    assert {round(x) for x in (shared.bounds[0], shared.bounds[2])} == {-58, 58}
    assert all(min(abs(p.bounds[0] + 57.5), abs(p.bounds[2] - 57.5)) < 0.1 for p in shapely.get_parts(shared))
    assert sum(abs(p.bounds[3] - p.bounds[1] - 40) < 0.1 for p in shapely.get_parts(shared)) == 2


def test_turned_it_shows_right_sides_only() -> None:
    made = planned("mat", corner=10)
    outline = made.panels[0].outline.buffer(-0.5)
    stack = finished(made)
    top, under = (sheets_shown(stack, side, outline) for side in (Side.TOP, Side.UNDER))
    assert set(top) == {(p.label, True) for p in made.panels[0].patches}
    assert sum(top.values()) == pytest.approx(outline.area, abs=1)
    assert set(under) == {("back-lower", True), ("back-upper", True)}
    assert sum(under.values()) == pytest.approx(outline.area, abs=1)


def test_the_back_laid_first_lies_outside_over_the_whole_overlap() -> None:
    made = planned("mat", overlap=30, height=160)
    outline = made.panels[0].outline
    under = sheets_shown(finished(made), Side.UNDER, outline)
    assert under["back-lower", True] == pytest.approx(115 * (80 + 15), abs=1)


@pytest.mark.parametrize("piece", ["back-lower", "back-upper"])
def test_a_back_laid_right_side_up_shows_its_wrong_side(piece: str) -> None:
    made = planned("mat")
    spoilt = replace(made, hoopings=(with_face(made.hoopings[-1], piece, Face.UP),))
    assert (piece, False) in sheets_shown(finished(spoilt), Side.UNDER, made.panels[0].outline.buffer(-0.5))


def test_backs_joined_across_the_overlap_cannot_be_turned() -> None:
    made = planned("mat")
    turn = next(h for h in made.making.assembly if isinstance(h, Turn))
    stack = stacks(made)[-1]
    parting(stack, Opening(turn.line, turn.below, turn.above))
    from hoopwright.cloth.stitching import stitch

    shut = stitch(stack, turn.line, CLOSED_BY_HAND)
    with pytest.raises(GeometryError, match="sewn shut"):
        after_hands(shut, (turn,), bench_of(made.project))


def test_backs_are_cut_as_the_rule_says() -> None:
    made = planned("mat", width=100, height=150, overlap=30, hem=10)
    allowance = made.project.piecing.allowance
    assert [p.key for p in made.making.pieces] == ["back-lower", "back-upper"]
    for piece in made.making.pieces:
        left, low, right, high = piece.cut.bounds
        assert right - left == pytest.approx(100 + 2 * allowance)
        assert high - low == pytest.approx(75 + 15 + 10 + allowance)
        assert piece.cut.area == pytest.approx((right - left) * (high - low))


def test_the_hem_is_folded_to_the_wrong_side() -> None:
    """Folded, each back ends at its crease and lies double over the width of its hem."""
    made = planned("mat", overlap=30, hem=12)
    stack = stacks(made)[-2]
    for sheet, crease, strip in (
        ("back-lower", 15.0, box(-50, 3.5, 50, 14.5)),
        ("back-upper", -15.0, box(-50, -14.5, 50, -3.5)),
    ):
        layers = stack.of(sheet)
        assert len(layers) == 2
        assert {layer.face for layer in layers} == {Face.DOWN, Face.UP}
        edges = [e for layer in layers for e in (layer.region.bounds[1], layer.region.bounds[3])]
        assert sum(abs(e - crease) < 0.01 for e in edges) == 2
        assert all(layer.region.covers(strip) for layer in layers)


@pytest.mark.parametrize(
    ("code", "make"),
    [
        ("HW460", {"width": 160}),
        ("HW461", {"width": 80, "height": 80, "overlap": 60}),
        ("HW462", {"width": 70, "corner": 40}),
        ("HW411", {"back": "lawnn"}),
        ("HW402", {"overlap": 20}),
    ],
)
def test_what_cannot_be_is_refused_with_a_cure(code: str, make: dict[str, object]) -> None:
    found = [f for f in findings_of(project_of("mat", **make)) if f.severity == "blocks"]
    assert [f.code for f in found] == [code]
    assert found[0].cure


def test_the_largest_size_named_fits_and_a_little_more_does_not() -> None:
    assert blocks(project_of("mat", width=118, height=168)) == []
    too_wide = findings_of(project_of("mat", width=118.5, height=168))
    assert "118 × 168 mm" in next(f.message for f in too_wide if f.code == "HW460")


def test_a_cloth_not_named_is_chosen_and_told() -> None:
    made = planned("mat")
    assert {p.cloth for p in made.making.pieces} == {"indigo"}
    assert "indigo twill for the backs" in next(f.message for f in made.findings if f.code == "HW412")
    assert not [f for f in planned("mat", back="foam").findings if f.code == "HW412"]


def test_lays_name_piece_cloth_side_and_distance() -> None:
    for hand in [h for h in lays(planned("mat").hoopings[-1]) if h.piece.startswith("back")]:
        for words in ("back, indigo twill", "right side DOWN", "6.4 mm", "edge"):
            assert words in hand.sentence, words


def test_sections_of_the_front_come_first() -> None:
    grid = {"way": "cuts", "cuts": [[[0, -80], [0, 80]], [[-57.5, 0], [0, 0]], [[0, 0], [57.5, 0]]]}
    made = planned("mat", patchwork=grid)
    assert [h.key for h in made.hoopings] == ["mat-section-1", "mat"]
    assert blocking(patchwork_faults(made)) == ()
    assert (step_of(made.hoopings[-1], Role.CLOSING).index) == len(made.hoopings[-1].steps)
