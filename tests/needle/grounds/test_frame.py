from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import LineString, box

from hoopwright.needle.grounds.frame import CRUMB, clipped, clipped_rows, frame_of, middles, steps_for
from tests.needle.grounds.parts import FLAP, HOLES


@given(st.floats(1.0, 100.0), st.floats(1.0, 20.0))
def test_places_are_symmetric_even_and_leave_about_half_a_spacing(half: float, spacing: float) -> None:
    places = middles(half, spacing)
    assert places == pytest.approx(-places[::-1])
    assert np.diff(places) == pytest.approx(np.full(len(places) - 1, spacing))
    if 2.0 * half >= spacing:
        assert 0.25 * spacing <= half - places[-1] + 1e-9
        assert half - places[-1] <= 0.75 * spacing + 1e-9


def test_places_past_the_edge_lie_on_the_same_grid_and_none_is_missing() -> None:
    near, far = middles(20.0, 6.0), middles(20.0, 6.0, past=5.0)
    assert set(near.round(9)) <= set(far.round(9))
    assert far[-1] <= 25.0 < far[-1] + 6.0


@pytest.mark.parametrize("angle", [0.0, 30.0, 90.0, -135.0])
def test_a_frame_fits_its_region(angle: float) -> None:
    frame = frame_of(FLAP, angle)
    turned = affinity.rotate(FLAP, -angle, origin=(0, 0))
    left, low, right, high = turned.bounds
    assert (frame.half_length, frame.half_height) == pytest.approx(((right - left) / 2, (high - low) / 2))
    back = affinity.rotate(shapely.Point((left + right) / 2, (low + high) / 2), angle, origin=(0, 0))
    assert (frame.x, frame.y) == pytest.approx((back.x, back.y))


def test_chords_stay_near_their_arc() -> None:
    """An arc of radius r drawn with chords c leaves them by r - sqrt(r^2 - c^2 / 4)."""
    for radius in (2.0, 10.0, 60.0):
        chord = math.pi * radius / steps_for(math.pi * radius, radius)
        assert radius - math.sqrt(radius**2 - chord**2 / 4.0) <= 0.02 + 1e-9


def test_pieces_know_their_row_and_short_ones_are_dropped() -> None:
    rows = np.array([LineString([(-60, y), (60, y)]) for y in (0.0, 30.0)], dtype=np.object_)
    cut = clipped_rows(rows, HOLES, 5.0)
    assert [row for _, row in cut] == [0, 0, 1]
    corner = np.array([LineString([(-51, 39), (-49, 41)]), LineString([(-51, 20), (-31, 40.5)])], dtype=np.object_)
    spacing = corner[0].intersection(HOLES).length / CRUMB + 1.0
    assert len(clipped(corner, HOLES, spacing)) == 1


def test_a_piece_that_hugs_the_edge_is_dropped_and_one_that_only_passes_a_hole_is_not() -> None:
    along_side = np.array([LineString([(-60, -39.5), (60, -39.5)])], dtype=np.object_)
    assert clipped(along_side, HOLES, 5.0) == ()
    past_hole = np.array([LineString([(-60, -20.5), (60, -20.5)])], dtype=np.object_)
    assert len(clipped(past_hole, HOLES, 5.0)) == 1


def test_a_crumb_that_carries_another_line_stays() -> None:
    region = box(0, 0, 40, 40)
    crumb = LineString([(38.5, 41), (41, 38.5)])
    other = LineString([(20, 20), (39.75, 39.75)])
    assert len(clipped(np.array([crumb], dtype=np.object_), region, 10.0)) == 0
    assert len(clipped(np.array([crumb, other], dtype=np.object_), region, 10.0)) == 2
