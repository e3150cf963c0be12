"""The shell: ribs that fan out from a hinge between two ears to a scalloped edge."""

from __future__ import annotations

import math
import random
from itertools import pairwise
from typing import Final

import numpy as np
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Spot

from hoopwright.core.types import Mm
from hoopwright.needle.accents.edges import CENTRE, polar, rim_of, rim_width, to_rim
from hoopwright.needle.accents.lattice import arcs_net, net_spacing
from hoopwright.needle.accents.shapes import NARROW, AccentWish, Growth, Motif, Rib
from hoopwright.needle.working_lines import largest

HINGE: Final = 0.24
"""The ribs begin this far from the point they fan out from, as a part of the shell's height."""

SCALLOP: Final = 0.05
"""How deep the scallops between the ribs are, as a part of the shell's height."""

LONGER: Final = 0.06
"""How much higher the middle of the shell is than its sides."""


def draw(wish: AccentWish, scale: Mm) -> Growth:
    """Return the shell, drawn ``scale`` mm high, its hinge below."""
    ribs = wish.lobes or SHELL.lobes[1]
    width = rim_width(wish.size)
    lean = random.Random(wish.seed).uniform(-0.05, 0.05) if wish.seed else 0.0
    spread = math.radians(46.0 + 24.0 * wish.fullness)
    step = 2.0 * spread / (ribs + 1)
    angles = [-spread + step * (k + 1) + lean for k in range(ribs)]
    edge = [
        polar(CENTRE, scale * _reach(a / spread, (a + spread) / step), a + lean)
        for a in np.linspace(spread, -spread, 40 * (ribs + 1)).tolist()
    ]
    ear = 0.30 + 0.05 * wish.fullness
    hinge = [(scale * x, scale * y) for x, y in ((ear, 0.20), (ear, 0.05), (-ear, 0.05), (-ear, 0.20))]
    fan = largest(Polygon([*edge, CENTRE]).union(Polygon(hinge)))
    rim = rim_of([(x, y) for x, y in fan.exterior.coords], width)
    band = _band(rim, HINGE * scale)
    fans = tuple(_rib(band, rim, a, HINGE * scale, width) for a in sorted(angles, reverse=True))
    gaps = [-spread + lean, *sorted(angles), spread + lean]
    nets = (
        arcs_net(
            rim, net_spacing(wish.size), CENTRE, (HINGE * scale) % net_spacing(wish.size) + net_spacing(wish.size)
        ),
        _pairs(rim, gaps, HINGE * scale),
    )
    middle = min(fans, key=lambda f: abs(f[1].line.coords[-1][0]))[1].line
    return Growth(rim, Rib(band, 0.8 * width, 0.8 * width, fans), nets, middle, width)


def _reach(across: float, ribs: float) -> float:
    """Return how far the edge lies from the point of the fan, as a part of the height: a scallop between two ribs."""
    return 1.0 - LONGER * across**2 - SCALLOP * (1.0 - abs(math.sin(math.pi * ribs)))


def _pairs(rim: Polygon, angles: list[float], radius: Mm) -> tuple[LineString, ...]:
    """Return two lines between each two neighbouring angles as one: from the rim down to the band, along it, up to the rim again.

    The outermost are left out where there is no room beside the rim.
    """
    found = []
    for low, high in pairwise(angles):
        pair = (low + (high - low) / 3.0, high - (high - low) / 3.0)
        if all(rim.contains(Spot(polar(CENTRE, radius, a))) for a in pair):
            ways = [to_rim(LineString([polar(CENTRE, r * radius, a) for r in (1.0, 1.2)]), rim) for a in pair]
            found.append(LineString([*ways[0].coords[::-1], *ways[1].coords]))
    return tuple(found)


def _band(rim: Polygon, radius: Mm) -> LineString:
    """Return the arc from which the ribs rise, from rim to rim."""
    arc = LineString([polar(CENTRE, radius, a) for a in np.linspace(1.9, -1.9, 121).tolist()]).intersection(rim)
    parts = [p for p in getattr(arc, "geoms", (arc,)) if isinstance(p, LineString)]
    return max(parts, key=lambda p: p.length)


def _rib(band: LineString, rim: Polygon, angle: float, radius: Mm, width: Mm) -> tuple[Mm, Rib]:
    """Return one rib and where on the band it rises."""
    foot = polar(CENTRE, radius, angle)
    line = to_rim(LineString([foot, polar(CENTRE, 1.5 * radius, angle)]), rim)
    return band.project(Spot(foot)), Rib(line, NARROW, 0.8 * width)


SHELL: Final = Motif(
    "shell",
    "Shell",
    "Ribs fan out from a hinge between two ears to a scalloped edge",
    "ribs",
    (4, 7, 11),
    34.0,
    120.0,
    draw,
)
