from __future__ import annotations

from collections import Counter

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon, box

from hoopwright.needle.grounds.along_edge import joined_along_edge, marks_on_edge
from hoopwright.needle.routing import one_walk
from tests.needle.grounds.parts import once

SQUARE = box(0, 0, 100, 100)


def odd_places(lines: tuple[LineString, ...]) -> list[tuple[float, float]]:
    noded = shapely.get_parts(shapely.union_all(list(lines), grid_size=1e-4))
    ends: Counter[tuple[float, float]] = Counter()
    for piece in noded:
        for place in (piece.coords[0], piece.coords[-1]):
            ends[round(place[0], 3), round(place[1], 3)] += 1
    return [place for place, count in ends.items() if count % 2]


def test_two_parallel_lines_become_one_ring() -> None:
    rows = [LineString([(0, y), (100, y)]) for y in (40, 60)]
    lines = joined_along_edge(rows, SQUARE)
    assert len(lines) == 4
    assert sum(line.length for line in lines) == pytest.approx(240)
    assert odd_places(lines) == []


def test_the_shorter_of_the_two_ways_is_taken() -> None:
    rows = [LineString([(0, y), (100, y)]) for y in (10, 90)]
    lines = joined_along_edge(rows, SQUARE)
    assert sum(line.length for line in lines) == pytest.approx(200 + 2 * 80)


def test_what_crosses_is_one_walk_without_a_stitch_sewn_twice() -> None:
    """Four crossing lines: every second arc makes all places even."""
    rows = [LineString([(0, 30), (100, 30)]), LineString([(0, 70), (100, 70)])]
    columns = [LineString([(30, 0), (30, 100)]), LineString([(70, 0), (70, 100)])]
    lines = joined_along_edge(rows + columns, SQUARE)
    assert odd_places(lines) == []
    (walk,) = one_walk(lines)
    assert walk.length == pytest.approx(once(lines))


chords = st.tuples(st.integers(1, 99), st.integers(1, 99), st.booleans())


@given(st.lists(chords, min_size=1, max_size=9, unique=True))
@settings(max_examples=60, deadline=None)
def test_any_chords_become_one_network_with_few_odd_places(cuts: list[tuple[int, int, bool]]) -> None:
    lines = [LineString([(a, 0), (b, 100)] if up else [(0, a), (100, b)]) for a, b, up in cuts]
    joined = joined_along_edge(lines, SQUARE)
    assert len(one_walk(joined)) == 1
    assert all(SQUARE.buffer(1e-6).covers(line) for line in joined)
    extra = [line for line in joined[len(lines) :] if line.length > 0]
    assert all(SQUARE.exterior.buffer(1e-6).covers(line) for line in extra)
    parts = len(shapely.get_parts(shapely.union_all(lines).buffer(1e-3)))
    assert len(odd_places(joined)) <= 2 * max(0, parts - 1)


def test_a_hole_s_edge_joins_too_and_an_odd_ring_leaves_one_end() -> None:
    ring = Point(50, 50).buffer(40).difference(Point(50, 50).buffer(15))
    assert isinstance(ring, Polygon)
    spokes = [
        LineString([(50, 50), (50 + 60 * x, 50 + 60 * y)]).intersection(ring) for x, y in ((1, 0), (-1, 1), (-1, -1))
    ]
    joined = joined_along_edge([s for s in spokes if isinstance(s, LineString)], ring)
    assert len(marks_on_edge(joined[:3], ring)) == 2
    assert len(one_walk(joined)) == 1
    assert len(odd_places(joined)) == 2


def test_a_stray_figure_that_nothing_reaches_is_left_out() -> None:
    rows = [LineString([(0, y), (100, y)]) for y in (20, 80)]
    stray = LineString(Point(50, 50).buffer(1.0).exterior.coords)
    assert stray not in joined_along_edge([*rows, stray], SQUARE)
    large = LineString(Point(50, 50).buffer(20.0).exterior.coords)
    assert large in joined_along_edge([*rows, large], SQUARE)


def test_nothing_stays_nothing() -> None:
    assert joined_along_edge([], SQUARE) == ()
