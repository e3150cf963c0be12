from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from shapely.geometry import Polygon, box

from hoopwright.core.errors import GeometryError
from hoopwright.plane.inscribed import pole_of_inaccessibility


def test_the_incentre_of_a_three_four_five_triangle() -> None:
    # the inradius of a right triangle is (a + b - c) / 2: (30 + 40 - 50) / 2 = 10 (school geometry)
    place, radius = pole_of_inaccessibility(Polygon([(0, 0), (30, 0), (0, 40)]))
    assert radius == pytest.approx(10.0, abs=0.02)
    assert place == pytest.approx((10.0, 10.0), abs=0.2)


def test_no_grid_point_is_farther_from_the_edge() -> None:
    shape = box(0, 0, 60, 20).union(box(40, 0, 70, 45)).difference(box(50, 10, 55, 15))
    assert isinstance(shape, Polygon)
    place, radius = pole_of_inaccessibility(shape)
    xs, ys = np.meshgrid(np.arange(0, 70, 0.5), np.arange(0, 45, 0.5))
    dots = shapely.points(xs.ravel(), ys.ravel())
    inside = dots[shapely.contains(shape, dots)]
    assert shapely.contains(shape, shapely.Point(place))
    assert radius >= float(shapely.distance(inside, shape.boundary).max()) - 0.02


def test_no_area_no_place() -> None:
    with pytest.raises(GeometryError):
        pole_of_inaccessibility(Polygon())


def test_the_distance_is_that_to_the_boundary() -> None:
    shape = Polygon([(math.cos(t) * 40, math.sin(t) * 25) for t in np.linspace(0, 2 * math.pi, 80, endpoint=False)])
    place, radius = pole_of_inaccessibility(shape)
    assert shape.exterior.distance(shapely.Point(place)) == pytest.approx(radius, abs=0.02)
