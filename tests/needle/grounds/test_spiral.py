from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Point, Polygon, box

from hoopwright.needle.grounds.shapes import GroundWish
from hoopwright.needle.grounds.spiral import spiral
from tests.needle.grounds.evenness import clearance, evenness
from tests.needle.grounds.test_meander import FLAP, REGIONS


def drawn(region: Polygon, spacing: float) -> tuple[LineString, ...]:
    return spiral(region, GroundWish(spacing, 0.0))


@pytest.mark.parametrize("spacing", [3.0, 6.0, 10.0])
@pytest.mark.parametrize("name", REGIONS)
def test_one_line_inside_that_does_not_cross_itself(name: str, spacing: float) -> None:
    (line,) = drawn(REGIONS[name], spacing)
    assert line.is_simple
    assert REGIONS[name].contains(line)


def test_nothing_where_nothing_fits() -> None:
    assert drawn(box(0, 0, 200, 3), 4.0) == ()


def test_the_same_every_time() -> None:
    assert drawn(FLAP, 5.0)[0].equals_exact(drawn(FLAP, 5.0)[0], 0.0)


def test_it_runs_from_the_middle_outwards() -> None:
    """In a disc every turn lies farther out than the one before: the distance from the middle only grows, but for the step to the edge."""
    (line,) = drawn(Point(0, 0).buffer(40, quad_segs=64), 5.0)
    assert not line.is_closed
    far = np.hypot(*shapely.get_coordinates(line.segmentize(0.5)).T)
    assert far[0] < 5.0
    assert far[-1] > 37.0
    assert (far[1:] - far[:-1]).min() > -0.1


def test_its_turns_lie_a_spacing_apart() -> None:
    (line,) = drawn(Point(0, 0).buffer(40, quad_segs=64), 5.0)
    ray = LineString([(0, 0), (-38, 21)])
    crossings = sorted(math.dist((0, 0), p.coords[0]) for p in shapely.get_parts(ray.intersection(line)))
    assert len(crossings) >= 7
    assert np.diff(crossings[1:-2]) == pytest.approx(5.0, abs=0.05)
    assert (
        3.5 < crossings[-1] - crossings[-2] < 7.5
    )  # the outermost ring is whole, so the turn beside it comes and goes


def test_it_lies_evenly() -> None:
    (line,) = drawn(FLAP, 4.0)
    found = evenness(FLAP, (line,), 4.0)
    assert found.variation < 0.62
    assert found.maximum < 1.0
    assert clearance(line, 4.0) > 0.4


def test_round_a_hole_it_ends_on_the_hole() -> None:
    (line,) = drawn(REGIONS["ring"], 4.0)
    assert not line.is_closed
    assert line.distance(Point(0, 0).buffer(22)) < 4.0
    assert clearance(line, 4.0) > 0.4
