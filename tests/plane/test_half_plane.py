from __future__ import annotations

import pytest
from shapely.geometry import Point, box

from hoopwright.core.errors import GeometryError
from hoopwright.plane.half_plane import left_of


def test_left_is_left_of_the_way() -> None:
    """Going east, north lies to the left."""
    north = left_of((0, 0), (5, 0))
    assert north.contains(Point(3, 1))
    assert not north.intersects(Point(3, -0.001))


def test_it_can_begin_beyond_the_line() -> None:
    assert box(-10, -10, 10, 10).intersection(left_of((0, 0), (0, 7), by=4)).bounds == pytest.approx((-10, -10, -4, 10))


def test_two_equal_places_have_no_side() -> None:
    with pytest.raises(GeometryError):
        left_of((1, 1), (1, 1))
