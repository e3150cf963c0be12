from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point

from hoopwright.core.types import Points
from hoopwright.needle.curved_stitches import SAG, curved_stitches
from hoopwright.needle.lines import even_stitches

LENGTH, SHORTEST = 2.5, 1.0


def stitches(points: Points) -> list[float]:
    return [math.dist(a, b) for a, b in pairwise(points)]


def circle(radius: float) -> LineString:
    return LineString(Point(0, 0).buffer(radius, quad_segs=90).exterior.coords)


def off(points: Points, line: LineString) -> float:
    """How far the middle of a stitch lies from the line, at most."""
    return max(Point((a + b) / 2).distance(line) for a, b in pairwise(points))


@pytest.mark.parametrize("radius", [1.5, 2.0, 3.0, 5.0, 20.0, 200.0])
def test_a_circle_is_followed_within_the_sag(radius: float) -> None:
    """A chord c of a circle lies r - sqrt(r^2 - c^2/4) inside it (Euclid): no more than SAG, unless the shortest stitch forbids it."""
    points = curved_stitches(circle(radius), LENGTH, SHORTEST)
    chord = max(stitches(points))
    sag = radius - math.sqrt(radius**2 - chord**2 / 4)
    assert sag <= SAG * 1.05
    assert off(points, circle(radius)) == pytest.approx(sag, abs=0.01)
    fewest = math.ceil(2 * math.pi * radius / min(LENGTH, math.sqrt(8 * radius * SAG)))
    assert len(points) - 1 <= fewest + 1


def test_a_very_small_circle_keeps_the_shortest_stitch() -> None:
    points = curved_stitches(circle(0.6), LENGTH, SHORTEST)
    assert min(stitches(points)) >= SHORTEST - 1e-9


def test_a_straight_line_and_corners_are_sewn_evenly() -> None:
    line = LineString([(0, 0), (17, 0), (17, 9), (3, 4)])
    assert curved_stitches(line, LENGTH, SHORTEST).tolist() == even_stitches(line, LENGTH, SHORTEST).tolist()


def test_where_a_line_bends_stitches_are_closer_than_where_it_runs_straight() -> None:
    turn = [(20 + 2 * math.sin(t), 2 - 2 * math.cos(t)) for t in np.linspace(0, math.pi, 40)]
    points = curved_stitches(LineString([(0, 0), *turn, (0, 4)]), LENGTH, SHORTEST)
    lengths = np.array(stitches(points))
    bent = (points[:-1, 0] > 20) & (points[1:, 0] > 20)
    straight = (points[:-1, 0] < 17) & (points[1:, 0] < 17)
    assert lengths[bent].max() < 1.6 < 2.2 < lengths[straight].min()


@given(
    st.lists(st.tuples(st.integers(-20, 20), st.integers(-20, 20)), min_size=2, max_size=12, unique=True),
    st.sampled_from([0.0, 1.5, 4.0]),
)
def test_no_line_is_sewn_worse_than_evenly(corners: list[tuple[int, int]], rounded: float) -> None:
    line = LineString(corners)
    if rounded:
        line = LineString(line.buffer(rounded).exterior.coords)
    if line.length < 2 * SHORTEST:
        return
    curved, even = curved_stitches(line, LENGTH, SHORTEST), even_stitches(line, LENGTH, SHORTEST)
    assert len(curved) >= len(even)
    assert np.allclose([curved[0], curved[-1]], [even[0], even[-1]], atol=1e-9)
    assert max(stitches(curved)) <= max(LENGTH, *stitches(even)) + 1e-9
    assert min(stitches(curved)) >= min(SHORTEST, *stitches(even)) - 1e-9
