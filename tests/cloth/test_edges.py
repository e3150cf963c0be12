from __future__ import annotations

import pytest
from shapely.geometry import LineString, MultiLineString, Point, box

from hoopwright.cloth.edges import raw_edges
from hoopwright.cloth.handling import flip, fold
from hoopwright.cloth.stitching import stitch
from hoopwright.operations.vocabulary import Face, Role
from tests.cloth.sheets import sheet, stack_of


def test_the_foundation_has_no_edge_that_counts() -> None:
    assert [e.sheet for e in raw_edges(stack_of(sheet("hooped", foundation=True), sheet("a")))] == ["a"]


def test_a_fold_is_no_cut_edge() -> None:
    folded = fold(stack_of(sheet("a")), ((0.0, -20.0), (0.0, 20.0)))
    assert [e.line.length for e in raw_edges(folded)] == pytest.approx([80.0, 80.0], abs=0.1)


def test_a_cut_edge_is_covered_by_what_lies_over_or_under_it() -> None:
    """The strip's two ends stick out; its long edges lie between the other two."""
    stack = stack_of(sheet("low"), sheet("strip", box(-30, -5, 30, 5)), sheet("high", box(-10, -10, 10, 10)))
    strip = raw_edges(stack)[1]
    assert strip.line.length == pytest.approx(140.0)
    assert strip.open_above.length == pytest.approx(140.0 - 40.0, abs=0.1)
    assert strip.open_below.length == pytest.approx(20.0 + 4 * 10.0, abs=0.1)


def test_an_opened_patch_covers_the_edges_at_its_seam() -> None:
    stack = stack_of(sheet("low", box(-6, 0, 20, 10)), sheet("new", box(-6, 0, 20, 10), Face.DOWN))
    opened = flip(stack, "new", ((0.0, 0.0), (0.0, 10.0)))
    low, allowance, body = raw_edges(opened)
    inside = box(-15, 1, 15, 9)
    assert low.open_above.intersection(inside).is_empty
    assert allowance.open_above.intersection(inside).is_empty
    assert body.open_above.intersection(inside).is_empty
    assert low.open_below.intersection(inside).length == pytest.approx(8.0)


def test_stitches_that_close_over_an_edge_bind_it() -> None:
    bound = stitch(stack_of(sheet("a")), LineString([(20, -20), (20, 20)]), "edge", binds=1.5)
    (edge,) = raw_edges(bound)
    assert edge.line.length == pytest.approx(160.0 - 40.0 - 2 * 1.5, abs=0.1)
    assert raw_edges(stitch(stack_of(sheet("a")), LineString([(20, -20), (20, 20)])))[0].line.length == 160.0


def test_satin_goes_with_the_cloth_when_it_is_folded() -> None:
    """A strip bound at both ends and folded in half has no open edge at the bound ends."""
    strip = stack_of(sheet("strip", box(-20, -5, 20, 5)))
    ends = MultiLineString([[(-19.5, -6), (-19.5, 6)], [(19.5, -6), (19.5, 6)]])
    bound = stitch(strip, ends, "Satin edge", role=Role.EDGE, binds=1.5)
    folded = fold(bound, ((0.0, -20.0), (0.0, 20.0)), {"strip"})
    lines = [e.line for e in raw_edges(folded)]
    assert all(line.distance(Point(20.0, 0.0)) > 1.0 for line in lines)
    assert sum(line.length for line in lines) == pytest.approx(2 * 2 * (20.0 - 2.0), abs=0.1)
