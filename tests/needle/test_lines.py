from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point

from hoopwright.needle.lines import LOCK_STITCHES, RING_OVERLAP, even_stitches, kept_apart, locked, repeated

coordinates = st.floats(-200, 200).map(lambda v: round(v, 2))
places = st.tuples(coordinates, coordinates)


def steps(points: np.ndarray[tuple[int, int], np.dtype[np.float64]]) -> list[float]:
    return [float(v) for v in np.hypot(*np.diff(points, axis=0).T)]


def test_a_straight_seam_has_equal_stitches() -> None:
    points = even_stitches(LineString([(0, 0), (100, 0)]), 2.5, 1.0)
    assert len(points) == 41
    assert steps(points) == pytest.approx([2.5] * 40)


def test_corners_are_kept() -> None:
    points = even_stitches(LineString([(0, 0), (10, 0), (10, 7)]), 3.0, 1.0)
    assert [10.0, 0.0] in points.tolist()


@given(st.lists(places, min_size=2, max_size=12, unique=True), st.floats(1.5, 7.0))
def test_stitches_stay_on_the_line_and_inside_the_limits(row: list[tuple[float, float]], length: float) -> None:
    line = LineString(row)
    if line.length < 2.0:
        return
    points = even_stitches(line, length, 1.0)
    assert points[0].tolist() == pytest.approx(row[0], abs=1e-9)
    assert points[-1].tolist() == pytest.approx(row[-1], abs=1e-9)
    assert max(line.distance(Point(p)) for p in points) < 1e-6
    assert max(steps(points)) <= max(length, 2.0) + 1e-9  # a piece between corners is not cut below the shortest


@given(st.floats(2, 120), st.floats(2.0, 6.0))
def test_a_circle_is_closed_and_even(radius: float, length: float) -> None:
    ring = LineString(Point(0, 0).buffer(radius, quad_segs=64).exterior.coords)
    points = even_stitches(ring, length, 1.0)
    gaps = steps(points)
    assert points[0].tolist() == pytest.approx(points[-1].tolist())
    assert max(gaps) <= length + 1e-9
    assert min(gaps) > 0.8 * max(gaps)


def test_a_closed_line_is_sewn_on_past_its_start() -> None:
    ring = even_stitches(LineString([(0, 0), (20, 0), (20, 20), (0, 20), (0, 0)]), 2.5, 1.0)
    twice = repeated(ring, 2)
    assert len(twice) == 2 * len(ring) - 1 + RING_OVERLAP
    assert twice[len(ring) - 1].tolist() == [0.0, 0.0]


def test_an_open_line_goes_back_and_forth() -> None:
    line = even_stitches(LineString([(0, 0), (10, 0)]), 2.5, 1.0)
    thrice = repeated(line, 3)
    assert thrice[-1].tolist() == [10.0, 0.0]
    assert len(thrice) == 3 * len(line) - 2


@given(st.floats(0.3, 0.8), st.floats(1.0, 7.0))
def test_locks_are_tiny_and_start_and_end_in_place(lock: float, length: float) -> None:
    points = locked(np.array([[0.0, 0.0], [length, 0.0], [length, length]]), lock)
    gaps = steps(points)
    tiny = gaps[: LOCK_STITCHES - 1] + gaps[-LOCK_STITCHES + 1 :]
    assert tiny == pytest.approx([min(lock, length / 2)] * (2 * (LOCK_STITCHES - 1)))
    assert points[0].tolist() == [0.0, 0.0]
    assert points[-1].tolist() == [length, length]
    assert math.isclose(max(gaps), length)


def test_positions_too_near_to_the_one_before_are_left_out_and_ends_stay() -> None:
    row = np.array([(0.0, 0.0), (2.0, 0.0), (2.0, 0.3), (2.1, 0.0), (4.0, 0.0), (6.0, 0.0), (6.2, 0.0)])
    kept = kept_apart(row, 1.0)
    assert kept.tolist() == [[0.0, 0.0], [2.0, 0.0], [4.0, 0.0], [6.2, 0.0]]
    assert kept_apart(kept, 1.0) is kept
    assert kept_apart(row[1:3], 1.0).tolist() == row[1:3].tolist()
