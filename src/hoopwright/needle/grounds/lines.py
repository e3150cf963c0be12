"""Grounds of straight lines."""

from __future__ import annotations

import math

import shapely
from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Degrees, Mm
from hoopwright.needle.grounds.shapes import Ground, GroundWish


def parallels(part: Polygon, spacing: Mm, angle: Degrees) -> tuple[LineString, ...]:
    """Return parallel lines, ``spacing`` apart, clipped to ``part``, crumbs left out."""
    left, low, right, high = part.bounds
    middle, reach = part.envelope.centroid, math.hypot(right - left, high - low)
    u, v = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    lines = []
    for k in range(-int(reach / spacing), int(reach / spacing) + 1):
        x, y = middle.x - v * k * spacing, middle.y + u * k * spacing
        whole = LineString([(x - u * reach, y - v * reach), (x + u * reach, y + v * reach)])
        lines += [
            p
            for p in shapely.get_parts(whole.intersection(part))
            if isinstance(p, LineString) and p.length > spacing / 4
        ]
    return tuple(lines)


def crosshatch(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Two sets of parallel lines at right angles, with the border they end on."""
    border = [LineString(r.coords) for r in (part.exterior, *part.interiors)]
    crossed = (*parallels(part, wish.spacing, wish.angle), *parallels(part, wish.spacing, wish.angle + 90.0))
    return (*border, *crossed)


GROUNDS = (
    Ground(
        "crosshatch",
        "Crosshatch",
        "Two sets of straight lines at right angles.",
        8.0,
        3.0,
        45.0,
        crosshatch,
        network=True,
    ),
)
