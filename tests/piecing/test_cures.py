"""Cures are tried on the drawings that the theory proves cannot be sewn (docs/theory-order.md), and asked for their order."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon, box

from hoopwright.piecing.cure_changes import Kind
from hoopwright.piecing.cures import MOST_CURES, Cure, cures
from hoopwright.piecing.order import sewing_order
from hoopwright.piecing.patch_map_lines import map_from_lines
from hoopwright.piecing.shapes import PatchMap
from hoopwright.plane.strokes import Stroke
from tests.piecing.big_maps import sliced_map
from tests.piecing.drawings import FOUR_SQUARES, STRIPS, T_OF_THREE, WINDMILL, drawn

SQUARE = box(0, 0, 60, 60)
BRICKS = drawn(SQUARE, ((0, 30), (60, 30)), ((20, 30), (20, 60)), ((40, 0), (40, 30)))
QUARTERS = drawn(SQUARE, ((0, 0), (60, 60)), ((0, 60), (60, 0)))
STAR = drawn(SQUARE, ((30, 30), (30, 60)), ((0, 0), (30, 30)), ((60, 0), (30, 30)))
NINE = drawn(SQUARE, *(((x, 0), (x, 60)) for x in (20, 40)), *(((0, y), (60, y)) for y in (20, 40)))
LEANT_ON = drawn(
    box(-45, -50, 45, 50),
    ((-45, 18), (45, 33)),
    ((-7, 50), (5, 26.3)),
    ((28.2, 30.2), (-12, -50)),
    ((16, 5.8), (45, -17)),
)  # of the cut from side to side both halves are ended on
TWO_WINDMILLS = drawn(
    box(0, 0, 120, 60),
    *(
        ((x + ax, ay), (x + bx, by))
        for x in (0, 60)
        for (ax, ay), (bx, by) in (((0, 20), (40, 20)), ((40, 0), (40, 40)), ((20, 40), (60, 40)), ((20, 20), (20, 60)))
    ),
    ((60, 0), (60, 60)),
)


def remade(patches: PatchMap, cure: Cure) -> PatchMap:
    """Make the map anew as a project with these lines would, rounded as the page writes them."""
    strokes = [Stroke(((round(a[0], 2), round(a[1], 2)), (round(b[0], 2), round(b[1], 2)))) for a, b in cure.lines]
    made, findings = map_from_lines(patches.outline, strokes, 0.5, "lines")
    assert not [f for f in findings if f.severity.value == "blocks"], findings
    return made


@pytest.mark.parametrize("patches", [WINDMILL, STAR, TWO_WINDMILLS], ids=["windmill", "star", "two windmills"])
def test_what_cannot_be_sewn_is_cured(patches: PatchMap) -> None:
    assert not sewing_order(patches).sewable
    found = cures(patches)
    assert 2 <= len(found) <= MOST_CURES
    for cure in found:
        assert sewing_order(remade(patches, cure)).sewable, cure.sentence


@pytest.mark.parametrize(
    "patches",
    [FOUR_SQUARES, BRICKS, QUARTERS, NINE, LEANT_ON],
    ids=["2x2", "brick bond", "quarters", "3x3", "leant on"],
)
def test_what_needs_sections_is_brought_on_one_foundation(patches: PatchMap) -> None:
    assert len(sewing_order(patches).sections) > 1
    found = cures(patches)
    assert found
    assert all(len(sewing_order(remade(patches, cure)).sections) == 1 for cure in found)


@pytest.mark.parametrize("patches", [T_OF_THREE, STRIPS, sliced_map(12)], ids=["T", "strips", "slices"])
def test_what_can_be_sewn_needs_no_cure(patches: PatchMap) -> None:
    assert cures(patches) == ()


@pytest.mark.parametrize("patches", [WINDMILL, STAR, NINE], ids=["windmill", "star", "3x3"])
def test_the_nearest_comes_first_and_there_is_a_choice(patches: PatchMap) -> None:
    found = cures(patches)
    single = [c.cost for c in found if len(c.changes) == 1]
    assert single == sorted(single)
    assert found == cures(patches)
    assert len({c.sentence for c in found}) == len(found)


def test_a_star_is_mended_by_its_corner() -> None:
    """By hand: the corner (30, 30) lies 13.4 mm from the line between (0, 0) and (30, 60): 30 / sqrt(5)."""
    first = cures(STAR)[0]
    assert first.changes[0].kind is Kind.STRAIGHTEN
    assert first.cost == pytest.approx(30 / 5**0.5)


def test_a_windmill_is_mended_by_a_seam_drawn_on() -> None:
    """By hand: each of its seams is 20 mm short of the outline, and with one of them drawn on there are six patches."""
    first = cures(WINDMILL)[0]
    assert first.changes[0].kind is Kind.THROUGH
    assert first.changes[0].by == pytest.approx(20.0)
    assert len(remade(WINDMILL, first).letters) == 6


def test_two_knots_take_two_changes() -> None:
    assert all(len(c.changes) == 2 for c in cures(TWO_WINDMILLS))


def test_the_search_ends() -> None:
    assert cures(WINDMILL, work=0) == ()
    assert len(cures(TWO_WINDMILLS, work=500)) <= len(cures(TWO_WINDMILLS))


def test_no_patch_becomes_a_sliver() -> None:
    narrow = drawn(
        Polygon([(0, 0), (60, 0), (60, 60), (0, 60)]), ((0, 0), (60, 60)), ((0, 60), (60, 0)), ((30, 0), (30, 30))
    )
    for cure in cures(narrow):
        assert min(f.area for f in remade(narrow, cure).plane.faces) > 50.0
