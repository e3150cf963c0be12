"""The star: ribs from the middle into every point, and a ring that ties them."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from shapely.geometry import LineString, Point, Polygon

from hoopwright.core.types import Mm
from hoopwright.core.types import Point as Place
from hoopwright.needle.accents.edges import polar, rim_of, rim_width, to_rim
from hoopwright.needle.accents.lattice import net_spacing, straight_net
from hoopwright.needle.accents.shapes import NARROW, AccentWish, Growth, Motif, Rib

TIED: Final = 0.5
"""Radius of the ring that ties the ribs, as a part of the distance of the inner corners from the middle."""

CENTRE: Final[Place] = (0.0, 0.0)


def draw(wish: AccentWish, scale: Mm) -> Growth:
    """Return the star, drawn ``scale`` mm across."""
    points = wish.lobes or STAR.lobes[1]
    width, radius = rim_width(wish.size), scale / 2.0
    inner, step = radius * (0.52 + 0.2 * wish.fullness), 2.0 * math.pi / points
    edge = [p for k in range(points) for p in (polar(CENTRE, radius, k * step), polar(CENTRE, inner, (k + 0.5) * step))]
    rim = rim_of(edge, width)
    tied = TIED * inner
    ring = LineString([polar(CENTRE, tied, a) for a in np.linspace(0.0, 2.0 * math.pi, 97).tolist()])
    entry, *others = [_rib(rim, radius, k * step, width) for k in range(points)]
    way = LineString(entry.line.coords[::-1])
    children = ((way.length - tied, Rib(ring, 0.7 * width, 0.7 * width)), *((way.length, one) for one in others))
    tree = Rib(way, entry.tip, entry.root, children)
    nets = tuple(straight_net(rim, net_spacing(wish.size), angle) for angle in (22.5, 112.5))
    return Growth(rim, tree, nets, Point(CENTRE).buffer(tied, quad_segs=16).exterior, width)


def _rib(rim: Polygon, radius: Mm, angle: float, width: Mm) -> Rib:
    return Rib(to_rim(LineString([CENTRE, polar(CENTRE, 0.3 * radius, angle)]), rim), 0.9 * width, NARROW)


STAR: Final = Motif(
    "star",
    "Star",
    "Ribs from the middle into every point, tied by a ring",
    "points",
    (5, 8, 12),
    34.0,
    120.0,
    draw,
)
