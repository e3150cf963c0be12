from __future__ import annotations

import math

import numpy as np
import pytest
from shapely.geometry import LineString, Point, Polygon, box

from hoopwright.needle.grounds.midline import midline
from tests.needle.grounds.parts import HOLES, RING


def test_a_strip_has_its_midline_half_way() -> None:
    found = midline(box(0, 0, 120, 16))
    assert found is not None
    assert not found.closed
    assert found.clearance == pytest.approx(8.0, abs=0.05)
    assert found.points[:, 1] == pytest.approx(np.full(len(found.points), 8.0), abs=3.0)
    middle = found.points[(found.points[:, 0] > 15) & (found.points[:, 0] < 105)]
    assert middle[:, 1] == pytest.approx(np.full(len(middle), 8.0), abs=0.1)
    assert LineString(found.points).length > 100


def test_the_midline_of_a_ring_is_the_circle_half_way() -> None:
    """Circles of 22 and 40 mm: the midline is one of 31 mm, its length 2 pi 31."""
    found = midline(RING)
    assert found is not None
    assert found.closed
    assert tuple(found.points[0]) == tuple(found.points[-1])
    assert np.hypot(*found.points.T) == pytest.approx(np.full(len(found.points), 31.0), abs=0.1)
    assert LineString(found.points).length == pytest.approx(2 * math.pi * 31, rel=0.01)


def test_a_bent_band_is_followed_round_its_corner() -> None:
    found = midline(Polygon([(0, 0), (90, 0), (90, 18), (18, 18), (18, 80), (0, 80)]))
    assert found is not None
    line = LineString(found.points)
    assert line.distance(Point(9, 70)) < 0.2
    assert line.distance(Point(80, 9)) < 0.2
    assert line.is_simple


def test_every_place_is_equally_far_from_two_edges() -> None:
    """Oracle: at places of the midline of a wedge both long sides are equally near."""
    wedge = Polygon([(0, 0), (100, 5), (100, 20), (0, 30)])
    found = midline(wedge)
    assert found is not None
    below, above = LineString([(0, 0), (100, 5)]), LineString([(0, 30), (100, 20)])
    inner = [Point(p) for p in found.points if 20 < p[0] < 85]
    assert len(inner) > 20
    for place in inner:
        assert below.distance(place) == pytest.approx(above.distance(place), abs=0.15)


def test_two_holes_or_a_crumb_have_none() -> None:
    assert midline(HOLES) is None
    assert midline(box(0, 0, 1, 1)) is None
