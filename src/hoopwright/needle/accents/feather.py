"""The feather: a bent shaft and fine slanting barbs; here and there its edge has parted."""

from __future__ import annotations

import math
import random
from typing import Final

import numpy as np
from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Mm, Point
from hoopwright.needle.accents.edges import curve, rim_of, rim_width, to_rim
from hoopwright.needle.accents.lattice import net_spacing, straight_net
from hoopwright.needle.accents.shapes import NARROW, AccentWish, Growth, Motif, Rib

BEND: Final = 0.10
"""How far the shaft bends to one side, as a part of the feather's length."""

SLANT: Final = 0.16
"""How much higher than its root a barb ends, as a part of the feather's length."""

SPLIT: Final = 0.42
"""How deep the edge has parted at most, as a part of half the feather's breadth there."""


def draw(wish: AccentWish, scale: Mm) -> Growth:
    """Return the feather, drawn ``scale`` mm long, its quill below."""
    barbs = wish.lobes or FEATHER.lobes[1]
    width, broad = rim_width(wish.size), 0.12 + 0.08 * wish.fullness
    dice = random.Random(wish.seed)
    bend = BEND * (dice.choice((-1.0, 1.0)) * dice.uniform(0.5, 1.2) if wish.seed else 1.0)
    splits = [(dice.uniform(0.38, 0.8), side) for side in (1.0, -1.0) for _ in range(1)] if wish.seed else _SPLITS

    def at(t: float, across: float) -> Point:
        return scale * (across + bend * (t * t - t * 0.6)), scale * t

    ts = np.linspace(0.0, 1.0, 241).tolist()
    sides = {s: [at(t, s * _half(t, broad, [u for u, side in splits if side == s])) for t in ts] for s in (1.0, -1.0)}
    rim = rim_of([*sides[1.0], *reversed(sides[-1.0])], width)
    shaft = LineString([at(t, 0.0) for t in ts]).intersection(rim)
    assert isinstance(shaft, LineString)
    rows = []
    for k in range(barbs):
        foot = 0.16 + 0.66 * k / barbs
        for side in (1.0, -1.0):
            rows.append((foot * shaft.length, _barb(shaft, rim, foot, side, at, broad, width)))
    nets = tuple(straight_net(rim, net_spacing(wish.size), angle) for angle in (48.0, 132.0))
    return Growth(rim, Rib(shaft, width, NARROW, tuple(rows)), nets, shaft, width)


_SPLITS: Final = [(0.62, 1.0), (0.45, -1.0)]
"""Where the edge of a feather without a seed has parted: height, and side."""


def _barb(shaft: LineString, rim: Polygon, foot: float, side: float, at: object, broad: float, width: Mm) -> Rib:
    root = shaft.interpolate(foot, normalized=True)
    assert callable(at)
    line = curve(
        (root.x, root.y),
        at(foot + SLANT * 0.45, side * broad * 0.62),
        at(foot + SLANT, side * broad * 1.1),
    )
    return Rib(to_rim(line, rim), NARROW, NARROW)


def _half(t: float, broad: float, splits: list[float]) -> float:
    """Return half the breadth at a height from quill to tip."""
    lens = (
        0.20 * min(1.0, t / 0.02) + 0.80 * math.sin(math.pi * max(0.0, (t - 0.10) / 0.90) ** 0.85) ** 0.7
        if t < 1.0
        else 0.0
    )
    lens *= min(1.0, (1.0 - t) / 0.04) ** 0.5 if t > 0.96 else 1.0
    notch = sum(SPLIT * math.exp(-abs(t - u) / 0.022) for u in splits)
    return broad * lens * (1.0 - min(notch, SPLIT))


FEATHER: Final = Motif(
    "feather",
    "Feather",
    "A bent shaft with fine slanting barbs; its edge has parted here and there",
    "pairs of barbs",
    (3, 8, 14),
    50.0,
    150.0,
    draw,
)
