"""The star: ribs into every point, from a ring with knotted dots."""

from __future__ import annotations

import math
from typing import Final

from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Mm
from hoopwright.needle.accents.edges import CENTRE, polar, rim_of, rim_width, to_rim
from hoopwright.needle.accents.lattice import net_spacing, straight_net
from hoopwright.needle.accents.rings import knots, ring_line, round_a_ring
from hoopwright.needle.accents.shapes import NARROW, AccentWish, Growth, Motif, Rib

ROUNDED: Final = 0.85
"""The rim is eased more in the points of a star, where it turns sharply: radius of its bend as a part of its width."""

TIED: Final = 0.42
"""Radius of the ring from which the ribs rise, as a part of the distance of the inner corners from the middle."""


def draw(wish: AccentWish, scale: Mm) -> Growth:
    """Return the star, drawn ``scale`` mm across."""
    points = wish.lobes or STAR.lobes[1]
    width, radius = rim_width(wish.size), scale / 2.0
    inner, step = radius * (0.54 + 0.18 * wish.fullness), 2.0 * math.pi / points
    edge = [p for k in range(points) for p in (polar(CENTRE, radius, k * step), polar(CENTRE, inner, (k + 0.5) * step))]
    rim = rim_of(edge, width, ROUNDED)
    tied = TIED * inner
    ribs = [_rib(rim, tied, radius, k * step, width) for k in range(points)]
    tree = round_a_ring(ribs, tied, step, 0.8 * width, knots(tied - 0.4 * width))
    nets = tuple(straight_net(rim, net_spacing(wish.size), angle) for angle in (22.5, 112.5))
    return Growth(rim, tree, nets, ring_line(1.5 * tied), width)


def _rib(rim: Polygon, tied: Mm, radius: Mm, angle: float, width: Mm) -> Rib:
    line = LineString([polar(CENTRE, tied, angle), polar(CENTRE, (tied + radius) / 2.0, angle)])
    return Rib(to_rim(line, rim), 0.9 * width, NARROW)


STAR: Final = Motif(
    "star",
    "Star",
    "Ribs into every point from a ring with knotted dots",
    "points",
    (5, 8, 12),
    34.0,
    120.0,
    draw,
)
