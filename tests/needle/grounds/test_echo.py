from __future__ import annotations

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Point, Polygon, box

from hoopwright.needle.grounds.echo import echo
from hoopwright.needle.grounds.shapes import GroundWish
from tests.needle.grounds.evenness import clearance, evenness
from tests.needle.grounds.test_meander import FLAP, REGIONS


def drawn(region: Polygon, spacing: float) -> tuple[LineString, ...]:
    return echo(region, GroundWish(spacing, 0.0))


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


def test_it_follows_the_outline_at_even_depths() -> None:
    """In a disc, all but the bridges lies 1/2, 3/2, 5/2 ... spacings inside the edge."""
    disc, spacing = Point(0, 0).buffer(40, quad_segs=64), 5.0
    (line,) = drawn(disc, spacing)
    assert line.is_ring
    depths = 40 - np.hypot(*shapely.get_coordinates(line.segmentize(0.5)).T)
    off = np.abs((depths / spacing - 0.5 + 0.5) % 1.0 - 0.5)
    assert (off < 0.06).mean() > 0.92


def test_it_lies_evenly() -> None:
    """The variation is that of parallel lines, 0.577, but for the bridges and the middle."""
    (line,) = drawn(FLAP, 4.0)
    found = evenness(FLAP, (line,), 4.0)
    assert found.variation < 0.60
    assert found.bare < 0.05
    assert clearance(line, 4.0) > 0.4


def test_rings_of_a_hole_and_of_the_edge_are_one_line() -> None:
    (line,) = drawn(REGIONS["holes"], 4.0)
    assert line.is_ring
    assert evenness(REGIONS["holes"], (line,), 4.0).bare < 0.1
