from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import MultiPoint, Polygon, box

from hoopwright.core.errors import GeometryError
from hoopwright.piecing.templates import LONGEST_POINT, corners_of, is_convex, pointed_template, template_of
from tests.piecing.patch_makers import regular

ALLOWANCE = 6.35
PLACES = st.lists(st.tuples(st.floats(-60, 60), st.floats(-60, 60)), min_size=3, max_size=9)


def wedge(angle: float, length: float = 50.0) -> Polygon:
    """Return a triangle with the given angle at the origin, opening to the right evenly."""
    half = math.radians(angle) / 2
    return Polygon([(0, 0), (length, -length * math.tan(half)), (length, length * math.tan(half))])


@pytest.mark.parametrize("angle", [0.2, 1, 5, 20, 45, 60, 80])
def test_sharp_corners_end_one_allowance_past_the_corner(angle: float) -> None:
    template = template_of(wedge(angle), ALLOWANCE)
    assert template.bounds[0] == pytest.approx(-ALLOWANCE, abs=1e-3)


@pytest.mark.parametrize("angle", [84, 90, 120])
def test_right_and_wide_corners_keep_their_points(angle: float) -> None:
    template = template_of(wedge(angle), ALLOWANCE)
    assert template.bounds[0] == pytest.approx(-ALLOWANCE / math.sin(math.radians(angle) / 2), abs=1e-3)
    assert -template.bounds[0] <= LONGEST_POINT * ALLOWANCE


@settings(max_examples=150)
@given(PLACES)
def test_every_place_within_an_allowance_of_a_convex_area_is_inside(places: list[tuple[float, float]]) -> None:
    hull = MultiPoint(places).convex_hull
    if not isinstance(hull, Polygon) or hull.area < 25:
        return
    template = template_of(hull, ALLOWANCE)
    assert template.buffer(1e-2).covers(hull.buffer(ALLOWANCE))
    corners = [shapely.Point(c) for c in template.exterior.coords]
    assert max(hull.distance(c) for c in corners) <= LONGEST_POINT * ALLOWANCE + 1e-3
    assert len(template.exterior.coords) <= 2 * len(corners_of(hull)) + 1


def test_area_with_a_dent_keeps_its_allowance_everywhere() -> None:
    star = Polygon([(0, 40), (-8, 8), (-40, 0), (-8, -8), (0, -40), (8, -8), (40, 0), (8, 8)])
    template = template_of(star, ALLOWANCE)
    assert template.buffer(1e-2).covers(star.buffer(ALLOWANCE))
    assert template.bounds == pytest.approx((-46.35, -46.35, 46.35, 46.35), abs=1e-3)


def test_curved_edges_stay_smooth_and_one_allowance_away() -> None:
    disc = regular(120, 50)
    ring = shapely.get_coordinates(template_of(disc, ALLOWANCE).exterior)
    assert len(ring) == 121
    assert np.hypot(*ring.T) == pytest.approx(50 + ALLOWANCE, abs=0.05)
    assert np.hypot(*ring.T).min() >= 50 + ALLOWANCE - 0.03


def test_vertices_on_straight_edges_are_left_out() -> None:
    square = Polygon([(5, 0), (10, 0), (10, 4), (10, 10), (3, 10), (0, 10), (0, 0)])
    assert len(corners_of(square)) == 4
    assert len(template_of(square, ALLOWANCE).exterior.coords) == 5


def test_pointed_template_of_a_wedge_runs_out_to_its_point() -> None:
    assert pointed_template(wedge(30), ALLOWANCE).bounds[0] == pytest.approx(-ALLOWANCE / math.sin(math.radians(15)))


def test_a_square_is_convex_and_a_dented_one_is_not() -> None:
    assert is_convex(box(0, 0, 10, 10))
    assert not is_convex(Polygon([(0, 0), (10, 0), (10, 10), (5, 9), (0, 10)]))


@pytest.mark.parametrize("maker", [template_of, pointed_template])
def test_nothing_and_no_allowance_are_refused(maker: object) -> None:
    assert callable(maker)
    with pytest.raises(GeometryError):
        maker(Polygon(), ALLOWANCE)
    with pytest.raises(GeometryError):
        maker(box(0, 0, 1, 1), 0.0)
