from __future__ import annotations

import numpy as np
import pytest
from shapely.geometry import LineString, box

from hoopwright.cloth.handling import flip, fold
from hoopwright.cloth.stitching import caught, free, stitch, thickness_at
from hoopwright.operations.vocabulary import Face, Role
from tests.cloth.sheets import sheet, stack_of

LEVEL = LineString([(-30, 0), (30, 0)])


def test_a_line_joins_every_layer_under_it_over_its_length() -> None:
    stack = stack_of(sheet("low"), sheet("half", box(0, -20, 20, 20), Face.DOWN), sheet("away", box(0, 10, 20, 20)))
    held = caught(stack, LEVEL)
    assert [(h.sheet, h.face, h.length) for h in held] == [("low", Face.UP, 40.0), ("half", Face.DOWN, 20.0)]


def test_what_is_free_is_told_with_its_clearance_the_nearest_first() -> None:
    stack = stack_of(sheet("low"), sheet("far", box(0, 10, 20, 20)), sheet("near", box(0, 2, 20, 20)))
    assert [(f.sheet, f.clearance) for f in free(stack, LEVEL)] == [("near", 2.0), ("far", 10.0)]


def test_a_folded_sheet_is_caught_twice_but_its_length_counts_once() -> None:
    folded = fold(stack_of(sheet("a")), ((0.0, -20.0), (0.0, 20.0)))
    (join,) = stitch(folded, LEVEL, "seam", role=Role.SEAM).joins
    assert [h.sheet for h in join.held] == ["a", "a"]
    assert join.length_of("a") == pytest.approx(20.0, abs=0.03)
    assert join.length_of("b") == 0.0


def test_a_needle_on_the_fold_catches_both_parts() -> None:
    opened = flip(stack_of(sheet("new", box(-6, -20, 20, 20))), "new", ((0.0, -20.0), (0.0, 20.0)))
    held = caught(opened, LineString([(0, -20), (0, 20)]))
    assert [round(h.length, 3) for h in held] == [40.0, 40.0]


def test_a_join_remembers_the_places_of_the_sheet_when_it_is_flipped_later() -> None:
    sewn = stitch(stack_of(sheet("new", box(-6, -20, 20, 20))), LineString([(10, -5), (10, 5)]))
    opened = flip(sewn, "new", ((0.0, -20.0), (0.0, 20.0)))
    assert opened.joins[0].held[0].own_line.equals(LineString([(10, -5), (10, 5)]))
    later = stitch(opened, LineString([(-10, -5), (-10, 5)]))
    assert later.joins[1].held[-1].own_line.equals(LineString([(10, -5), (10, 5)]))


def test_thickness_is_that_of_every_layer_there() -> None:
    stack = stack_of(sheet("low", thickness=1.0), sheet("half", box(0, -20, 20, 20), thickness=0.25))
    assert thickness_at(stack, np.array([(-10.0, 0.0), (10.0, 0.0), (30.0, 0.0)])).tolist() == [1.0, 1.25, 0.0]
