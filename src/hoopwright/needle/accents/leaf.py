"""The leaf: a midrib, and pairs of veins that curve into the lobes of its edge."""

from __future__ import annotations

import math
import random
from typing import Final

import numpy as np
from shapely.geometry import LineString

from hoopwright.core.types import Mm, Point
from hoopwright.needle.accents.edges import curve, rim_of, rim_width, to_rim
from hoopwright.needle.accents.lattice import net_spacing, straight_net
from hoopwright.needle.accents.shapes import NARROW, AccentWish, Growth, Motif, Rib

BOW: Final = 0.09
"""How far a leaf with a seed bends at most, as a part of its length."""

FOOT: Final = 0.12
"""The lowest pair of veins leaves the midrib at this part of its length."""

SWELL: Final = 0.045
"""How far the edge swells between the veins, as a part of its breadth."""


def draw(wish: AccentWish, scale: Mm) -> Growth:
    """Return the leaf, drawn ``scale`` mm long."""
    lobes = wish.lobes or LEAF.lobes[1]
    bow = random.Random(wish.seed).uniform(-BOW, BOW) if wish.seed else 0.0
    broad, width = 0.23 + 0.15 * wish.fullness, rim_width(wish.size)

    def at(t: float, across: float) -> Point:
        return scale * (across + bow * 4.0 * t * (1.0 - t)), scale * t

    ts = np.linspace(0.0, 1.0, 161).tolist()
    edge = [at(t, _half(t, broad, lobes)) for t in ts]
    rim = rim_of([*edge, *(at(t, -_half(t, broad, lobes)) for t in reversed(ts))], width)
    middle = LineString([at(t, 0.0) for t in ts]).intersection(rim)
    assert isinstance(middle, LineString)
    veins = []
    for k in range(lobes):
        head = _head(k, lobes)
        foot = FOOT + (head - FOOT) * 0.62
        root = middle.interpolate(foot, normalized=True)
        for side in (1.0, -1.0):
            half = _half(head, broad, lobes) * side
            line = curve((root.x, root.y), at(foot + (head - foot) * 0.45, half * 0.62), at(head, half))
            veins.append((foot * middle.length, Rib(to_rim(line, rim), 0.62 * width, NARROW)))
    tree = Rib(middle, width, NARROW, tuple(veins))
    nets = tuple(straight_net(rim, net_spacing(wish.size), angle) for angle in (50.0, 130.0))
    return Growth(rim, tree, nets, middle, width)


def _head(k: int, lobes: int) -> float:
    """Return the height, from base to tip, at which a vein ends."""
    return 0.27 + 0.60 * k / max(lobes - 1, 1)


def _half(t: float, broad: float, lobes: int) -> float:
    """Return half the breadth at a height from base to tip: broadest below the middle, and a lobe for every vein."""
    lens = math.sin(math.pi * t**0.82) ** 0.92 if 0.0 < t < 1.0 else 0.0
    fade = min(1.0, max(0.0, (t - 0.12) / 0.12)) * min(1.0, max(0.0, (0.98 - t) / 0.1))
    turn = (t - _head(0, lobes)) / 0.60 * max(lobes - 1, 1)
    return broad * lens * (1.0 + SWELL * fade * math.cos(2.0 * math.pi * turn))


LEAF: Final = Motif(
    "leaf",
    "Leaf",
    "A midrib with pairs of curved veins; its edge swells between them",
    "pairs of veins",
    (2, 5, 9),
    30.0,
    120.0,
    draw,
)
