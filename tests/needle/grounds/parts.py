"""Regions on which every ground is tried."""

from __future__ import annotations

import math

import numpy as np
import shapely
from scipy.spatial import cKDTree
from shapely.geometry import LineString, Point, Polygon, box

from hoopwright.needle.grounds.shapes import Ground, GroundWish
from hoopwright.needle.routing import one_walk
from hoopwright.needle.working_lines import largest
from tests.needle.grounds.evenness import places_in

FLAP = Polygon(
    [
        (-55.0, 40.0),
        *((-55.0 * math.cos(t), -5.0 - 35.0 * math.sin(t)) for t in np.linspace(0.0, math.pi, 60)),
        (55.0, 40.0),
    ]
)
"""A flap of a hand's size, 110 by 80 mm."""

RING = largest(Point(0.0, 0.0).buffer(40.0, 64).difference(Point(0.0, 0.0).buffer(22.0, 64)))
HOLES = largest(box(-50, -40, 50, 40).difference(Point(-20, 5).buffer(12)).difference(box(10, -20, 30, -5)))
CORNER = Polygon([(0, 0), (90, 0), (90, 30), (35, 30), (35, 80), (0, 80)])
SLIVER = Polygon([(0, 0), (30, 0.6), (0, 1.2)])

PARTS: dict[str, Polygon] = {"flap": FLAP, "ring": RING, "holes": HOLES, "corner": CORNER}


def usual(ground: Ground, seed: int = 1) -> GroundWish:
    return GroundWish(ground.spacing, ground.angle, seed)


def sewn(ground: Ground, part: Polygon, wish: GroundWish | None = None) -> tuple[LineString, ...]:
    """Return a ground as it is sewn: networks as walks."""
    lines = ground.draw(part, wish or usual(ground))
    return one_walk(lines) if ground.network and lines else lines


def barest(part: Polygon, lines: tuple[LineString, ...], pitch: float = 1.0) -> float:
    """Return the largest distance (mm) of a place of the region to its nearest line, on a grid."""
    along = np.concatenate([shapely.get_coordinates(line.segmentize(0.5)) for line in lines])
    return float(np.max(cKDTree(along).query(places_in(part, pitch))[0]))


def once(lines: tuple[LineString, ...]) -> float:
    """Return the length of lines (mm), what is sewn twice counted once."""
    return float(shapely.union_all(list(lines), grid_size=1e-4).length)
