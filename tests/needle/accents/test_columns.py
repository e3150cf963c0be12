from __future__ import annotations

import numpy as np
import pytest
from shapely.geometry import LineString, Point

from hoopwright.needle.accents.columns import CROWDED, column, sides
from hoopwright.needle.accents.shapes import SPACING

STRAIGHT = LineString([(0.0, 0.0), (20.0, 0.0)])


def test_a_straight_column_goes_from_side_to_side_at_its_spacing() -> None:
    points = column(STRAIGHT, 2.0, 2.0)
    assert points[:, 1].tolist() == pytest.approx([1.0 if k % 2 == 0 else -1.0 for k in range(len(points))])
    assert np.diff(points[:, 0]).max() <= SPACING / 2.0 + 1e-9
    assert np.diff(points[:, 0]).min() > 0.4 * SPACING


def test_a_column_tapers_evenly() -> None:
    points = column(STRAIGHT, 3.0, 1.0)
    assert np.abs(points[:, 1]).tolist() == pytest.approx((1.5 - points[:, 0] / 20.0).tolist(), abs=0.02)


def test_it_keeps_to_the_ends_of_its_line() -> None:
    points = column(LineString([(0.0, 0.0), (6.0, 3.0), (9.0, 9.0)]), 2.0, 2.0)
    assert np.hypot(*points[0]) == pytest.approx(1.0, abs=0.02)
    assert np.hypot(*(points[-1] - (9.0, 9.0))) == pytest.approx(1.0, abs=0.02)


def test_on_a_wide_ring_both_sides_stay_half_the_width_off_its_middle() -> None:
    ring = LineString(Point(0.0, 0.0).buffer(10.0, quad_segs=64).exterior.coords)
    away = np.hypot(*column(ring, 2.0, 2.0).T)
    assert set(np.round(away).astype(int)) == {9, 11}
    assert np.abs(np.abs(away - 10.0) - 1.0).max() < 0.05


def test_on_the_inside_of_a_sharp_bend_every_other_stitch_stops_short() -> None:
    """Stitches that stop short on the inner side of a bend are common practice, no source."""
    ring = LineString(Point(0.0, 0.0).buffer(1.6, quad_segs=64).exterior.coords)
    points = column(ring, 2.4, 2.4)
    inner = np.hypot(*points[1::2].T) if np.hypot(*points[0]) > np.hypot(*points[1]) else np.hypot(*points[::2].T)
    assert inner.max() - inner.min() > 0.5
    left = inner[inner < 1.0]
    assert 0.3 < len(left) / len(inner) < 0.7
    apart = 2.0 * np.pi * 0.4 / len(inner)
    assert apart < CROWDED * SPACING, "the bend of this test crowds its stitches"


def test_sides_are_drawn_finer_than_they_are_sewn() -> None:
    left, right = sides(STRAIGHT, 2.0, 2.0)
    assert len(left) == len(right) > 20.0 / SPACING * 2
