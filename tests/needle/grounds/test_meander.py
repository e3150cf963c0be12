from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Polygon, box

from hoopwright.needle.grounds.cells import connected_parts
from hoopwright.needle.grounds.meander import meander
from hoopwright.needle.grounds.shapes import GroundWish
from hoopwright.plane.arcs import ellipse

FLAP = Polygon([(-55, 0), (55, 0), (55, 55), *(p for p in ellipse((0, 55), 55, 25) if p[1] > 55.1), (-55, 55)])
RING = Polygon(ellipse((0, 0), 50, 50), [ellipse((0, 0), 22, 22)])
HOLES = Polygon(
    box(0, 0, 120, 90).exterior,
    [ellipse((30, 30), 12, 12), box(65, 50, 95, 75).exterior.coords, [(70, 10), (105, 15), (85, 35)]],
)
STAR = Polygon([(r * math.sin(k * math.pi / 5), r * math.cos(k * math.pi / 5)) for k, r in enumerate([50, 22] * 5)])
STRIP = box(0, 0, 200, 15)
REGIONS: dict[str, Polygon] = {"flap": FLAP, "ring": RING, "holes": HOLES, "star": STAR, "strip": STRIP}


def drawn(region: Polygon, spacing: float, seed: int = 1) -> tuple[LineString, ...]:
    return meander(region, GroundWish(spacing, 0.0, seed))


@pytest.mark.parametrize("spacing", [3.0, 6.0, 10.0])
@pytest.mark.parametrize("name", REGIONS)
def test_one_closed_line_inside(name: str, spacing: float) -> None:
    (line,) = drawn(REGIONS[name], spacing)
    assert line.is_ring
    assert REGIONS[name].contains(line)


def test_the_same_seed_draws_the_same_line_and_another_another() -> None:
    assert drawn(FLAP, 6.0)[0].equals_exact(drawn(FLAP, 6.0)[0], 0.0)
    assert not drawn(FLAP, 6.0)[0].equals_exact(drawn(FLAP, 6.0, seed=2)[0], 1.0)


def test_turns_are_soft() -> None:
    """No needle need come down in a corner: the line bends by less than 25 degrees at every place."""
    steps = np.diff(shapely.get_coordinates(drawn(FLAP, 4.0)[0]), axis=0)
    turns = np.arctan2(steps[:, 1], steps[:, 0])
    bends = (np.diff(turns) + math.pi) % (2 * math.pi) - math.pi
    assert math.degrees(np.abs(bends).max()) < 25.0


def test_a_region_cut_in_two_by_a_thin_neck_gets_two_lines() -> None:
    dumbbell = shapely.union_all([box(0, 0, 30, 30), box(29, 13, 61, 16), box(60, 0, 90, 30)])
    assert isinstance(dumbbell, Polygon)
    assert len(drawn(dumbbell, 4.0)) == len(connected_parts(dumbbell, 4.0)) == 2
    assert len(drawn(dumbbell, 2.9)) == 1


def test_nothing_where_nothing_fits() -> None:
    assert drawn(box(0, 0, 200, 3), 4.0) == ()
    assert drawn(box(0, 0, 5, 5), 4.0) == ()
