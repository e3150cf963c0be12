from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from hoopwright.plane.arcs import arc, ellipse
from hoopwright.plane.pieces import area_of, crossings, length_of, mean_width, split, with_vertex

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
STAR = tuple((math.cos(t) * r, math.sin(t) * r) for t, r in ((i * math.pi / 7, (5, 10)[i % 2]) for i in range(14)))


@given(angle=st.floats(0, 2 * math.pi), off=st.floats(-9, 9))
def test_crossings_agree_with_shapely(angle: float, off: float) -> None:
    u = (math.cos(angle), math.sin(angle))
    start = (-30 * u[0] - off * u[1], -30 * u[1] + off * u[0])
    end = (30 * u[0] - off * u[1], 30 * u[1] + off * u[0])
    inside = LineString([start, end]).intersection(Polygon(STAR)).length
    assert sum(c.leave - c.enter for c in crossings([STAR], start, end)) == pytest.approx(inside, abs=0.01)


def test_a_line_along_an_edge_crosses_nothing() -> None:
    assert crossings([SQUARE], (0, 0), (10, 0)) == ()
    assert crossings([SQUARE], (-5, 0), (0, -5)) == ()


def test_neighbours_get_the_same_vertex() -> None:
    right = ((10.0, 0.0), (20.0, 0.0), (20.0, 10.0), (10.0, 10.0))
    rings, place = with_vertex([SQUARE, right], 0, (10.0, 4.0))
    assert place == (10.0, 4.0)
    assert all(place in ring for ring in rings)
    assert [area_of(r) for r in rings] == [100.0, 100.0]


def test_a_vertex_nearby_is_taken_instead() -> None:
    rings, place = with_vertex([SQUARE], 0, (9.95, 0.0), 0.1)
    assert (rings, place) == ((SQUARE,), (10.0, 0.0))


@given(i=st.integers(0, 13), step=st.integers(2, 12))
def test_the_parts_of_a_split_are_left_and_right(i: int, step: int) -> None:
    square = tuple((math.cos(t), math.sin(t)) for t in (k * math.pi / 7 for k in range(14)))
    start, end = square[i], square[(i + step) % 14]
    left, right = split(square, start, end)
    assert area_of(left) > 0 and area_of(right) > 0
    assert area_of(left) + area_of(right) == pytest.approx(area_of(square))
    for part, sign in ((left, 1), (right, -1)):
        x, y = Polygon(part).centroid.coords[0]
        assert sign * ((end[0] - start[0]) * (y - start[1]) - (end[1] - start[1]) * (x - start[0])) > 0


def test_measures_of_a_strip() -> None:
    strip = ((0.0, 0.0), (100.0, 0.0), (100.0, 1.0), (0.0, 1.0))
    assert length_of(strip) == 202.0
    assert mean_width(strip) == pytest.approx(1.0, rel=0.02)


@given(radius=st.floats(0.5, 400), sweep=st.floats(1, 360))
def test_chords_stay_near_the_circle(radius: float, sweep: float) -> None:
    points = arc((0, 0), radius, 10, 10 + sweep)
    for a, b in itertools.pairwise(points):
        assert radius - math.hypot((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) <= 0.02 + 1e-9
    assert math.dist(points[0], points[-1]) == pytest.approx(
        2 * radius * abs(math.sin(math.radians(sweep / 2))), abs=1e-6
    )


def test_an_ellipse_has_its_extremes_and_area() -> None:
    points = ellipse((0, 0), 60, 45)
    assert {(60.0, 0.0), (0.0, 45.0), (-60.0, 0.0), (0.0, -45.0)} <= set(points)
    assert area_of(points) == pytest.approx(math.pi * 60 * 45, rel=1e-3)
