from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, box

from hoopwright.core.types import Points
from hoopwright.needle.joining import OFF_EDGE, joined

SHORTEST = 1.0
STRAY = SHORTEST
"""How far a stitch may leave its way, mm: a corner nearer than the shortest stitch to an end of the way is cut."""


def row(*places: tuple[float, float]) -> Points:
    return np.array(places, dtype=float)


def test_rows_that_end_where_the_next_begins_are_one() -> None:
    (whole,) = joined([row((0, 0), (2, 0), (4, 0)), row((4, 0), (4, 3))], 2.5, 1.0)
    assert whole.tolist() == [[0, 0], [2, 0], [4, 0], [4, 3]]


def test_nothing_is_sewn_across_what_stays_visible() -> None:
    rows = [row((0, 0), (2, 0)), row((20, 0), (22, 0))]
    assert len(joined(rows, 2.5, 1.0)) == 2


def test_a_way_leads_along_a_line_that_is_sewn_over() -> None:
    rows = [row((0, 0), (2, 0)), row((20, 0), (22, 0))]
    seam = LineString([(2, -5), (2, 10), (20, 10), (20, -5)])
    (whole,) = joined(rows, 2.5, 1.0, along=[seam])
    steps = np.hypot(*np.diff(whole, axis=0).T)
    assert steps.max() <= 2.5 + 1e-9
    assert steps.min() >= 1.0
    assert [2, 10] in whole.tolist()
    assert [20, 10] in whole.tolist()


def test_a_way_through_hidden_ground_goes_round_its_bays() -> None:
    """A U-shaped ground: the way bends at its two inner corners."""
    ground = box(0, 0, 60, 60).difference(box(20, 20, 40, 61))
    rows = [row((10, 50), (10, 45)), row((50, 45), (50, 50))]
    (whole,) = joined(rows, 2.5, 1.0, hidden=ground)
    assert ground.buffer(-OFF_EDGE / 2).covers(LineString(whole))
    corner = np.hypot(10 - OFF_EDGE, 25 + OFF_EDGE)
    expected = 10 + 2 * corner + 20 + 2 * OFF_EDGE
    assert LineString(whole).length == pytest.approx(expected, rel=0.02)


def test_a_way_that_is_not_worth_it_is_left_to_a_cut() -> None:
    rows = [row((0, 0), (2, 0)), row((80, 0), (82, 0))]
    assert len(joined(rows, 2.5, 1.0, hidden=box(-5, -5, 90, 5))) == 1
    assert len(joined(rows, 2.5, 1.0, hidden=box(-5, -5, 90, 5), worth=50.0)) == 2


def test_rows_that_cross_are_joined_along_themselves() -> None:
    rows = [row((0, 0), (5, 0), (10, 0)), row((5, -5), (5, 0), (5, 5))]
    (whole,) = joined(rows, 2.5, 1.0)
    assert shapely.union_all([LineString(r) for r in rows]).buffer(1e-3).covers(LineString(whole))


spot = st.tuples(st.integers(0, 60), st.integers(0, 60))


@settings(max_examples=60)
@given(
    st.lists(st.tuples(spot, spot).filter(lambda p: p[0] != p[1]), min_size=2, max_size=6),
    st.lists(st.tuples(spot, spot, spot).filter(lambda p: len(set(p)) == 3), max_size=4),
    st.lists(st.tuples(spot, st.integers(4, 15)), max_size=4),
)
def test_ways_keep_to_lines_and_hidden_ground(
    ends: list[tuple[tuple[int, int], tuple[int, int]]],
    seams: list[tuple[tuple[int, int], ...]],
    discs: list[tuple[tuple[int, int], int]],
) -> None:
    rows = [np.array(pair, dtype=float) for pair in ends]
    along = [LineString(s) for s in seams]
    hidden = shapely.union_all([Point(p).buffer(r) for p, r in discs]) if discs else None
    done = joined(rows, 2.5, SHORTEST, hidden, along)
    lines = shapely.union_all([LineString(r) for r in rows] + along).buffer(STRAY)
    allowed = lines if hidden is None else lines.union(hidden.buffer(STRAY - OFF_EDGE))
    for whole in done:
        for a, b in pairwise(whole):
            assert allowed.covers(LineString([a, b]))
    sewn = shapely.union_all([LineString(r) for r in done]).buffer(1.0 + STRAY)
    assert all(sewn.covers(LineString(r)) for r in rows)
    assert len(done) <= len(rows)
