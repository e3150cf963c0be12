from __future__ import annotations

import pytest
from shapely.geometry import Polygon, box

from hoopwright.cloth.columns import columns, thickness_map, visible
from hoopwright.cloth.handling import flip
from hoopwright.cloth.shapes import Stack
from hoopwright.operations.vocabulary import Face, Side
from tests.cloth.sheets import sheet, stack_of

STEPS = stack_of(
    sheet("low", box(0, 0, 30, 10), thickness=1.0),
    sheet("middle", box(10, 0, 30, 10), Face.DOWN, thickness=0.5),
    sheet("high", box(20, 0, 40, 10), thickness=0.25),
)


def test_a_staircase_is_counted_and_measured() -> None:
    table = columns(STEPS)
    at = {round(c.centroid.x): i for i, c in enumerate(table.cells)}
    assert [int(table.counts[at[x]]) for x in (5, 15, 25, 35)] == [1, 2, 3, 1]
    assert [float(table.thickness[at[x]]) for x in (5, 15, 25, 35)] == [1.0, 1.5, 1.75, 0.25]
    assert table.area == pytest.approx(400.0)
    assert table.thickest() == 1.75
    assert [p.sheet for p in table.layers_of(at[25])] == ["low", "middle", "high"]
    assert {t: r.area for t, r in thickness_map(table)} == pytest.approx(
        {0.25: 100.0, 1.0: 100.0, 1.5: 100.0, 1.75: 100.0}
    )


def test_each_side_shows_its_outermost_layers_and_their_faces() -> None:
    top = {(s.sheet, s.right, round(s.region.area)) for s in visible(STEPS, Side.TOP)}
    assert top == {("low", True, 100), ("middle", False, 100), ("high", True, 200)}
    under = {(s.sheet, s.right, round(s.region.area)) for s in visible(STEPS, Side.UNDER)}
    assert under == {("low", False, 300), ("high", False, 100)}


def test_an_opened_patch_hides_its_own_allowance() -> None:
    opened = flip(stack_of(sheet("new", box(-6, 0, 20, 10), Face.DOWN)), "new", ((0.0, 0.0), (0.0, 10.0)))
    (shown,) = visible(opened)
    assert (shown.layer, shown.right, shown.region.bounds) == (1, True, (-20.0, 0.0, 0.0, 10.0))
    assert {(s.layer, s.right) for s in visible(opened, Side.UNDER)} == {(0, True), (1, False)}


def test_an_empty_stack_shows_nothing() -> None:
    assert visible(Stack()) == visible(Stack(), Side.UNDER) == ()
    assert columns(Stack()).thickest() == 0.0


def test_a_hole_shows_what_lies_below() -> None:
    ring = Polygon(box(0, 0, 10, 10).exterior, [box(4, 4, 6, 6).exterior])
    shown = {s.sheet: s.region.area for s in visible(stack_of(sheet("low", box(0, 0, 10, 10)), sheet("ring", ring)))}
    assert shown == pytest.approx({"low": 4.0, "ring": 96.0})
