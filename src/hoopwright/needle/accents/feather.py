"""The feather: a bent shaft and fine slanting barbs; here and there its edge has parted."""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from typing import Final

import numpy as np
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Spot

from hoopwright.core.types import Mm, Point
from hoopwright.needle.accents.edges import curve, rim_of, rim_width, to_rim
from hoopwright.needle.accents.lattice import net_spacing, straight_net
from hoopwright.needle.accents.shapes import NARROW, AccentWish, Growth, Motif, Rib

BEND: Final = 0.16
"""How far the shaft bends to one side, as a part of the feather's length."""

SLANT: Final = 0.16
"""How much higher than its root a barb ends, as a part of the feather's length."""

SLENDER: Final = 0.75
"""The rim is that of a broader motif of this part of the feather's length."""

LOWEST: Final = 0.14
HIGHEST: Final = 0.80
"""Heights at which the first and the last barbs leave the shaft."""

QUILL: Final = 0.09
QUILL_BREADTH: Final = 0.25
"""How long the quill is, as a part of the length, and how broad, as a part of the greatest breadth."""

SIDES: Final = (1.0, -1.0)

SPLITS: Final = ((0.60, 1.0), (0.44, -1.0))
"""Where the edge of a feather without a seed has parted: height, and side."""

SPLIT: Final = 0.45
"""How deep the edge has parted at most, as a part of half the feather's breadth there."""


def draw(wish: AccentWish, scale: Mm) -> Growth:
    """Return the feather, drawn ``scale`` mm long, its quill below."""
    barbs = wish.lobes or FEATHER.lobes[1]
    width, broad = rim_width(SLENDER * wish.size), 0.12 + 0.08 * wish.fullness
    dice = random.Random(wish.seed)
    bend = BEND * (dice.choice((-1.0, 1.0)) * dice.uniform(0.5, 1.2) if wish.seed else 1.0)
    splits = tuple((dice.uniform(0.38, 0.76), side) for side in SIDES) if wish.seed else SPLITS

    def at(t: float, part: float) -> Point:
        """Return the place at a height t, ``part`` of the way from the shaft to the edge."""
        return scale * (part * broad + bend * t * (t - 0.6)), scale * t

    ts = np.linspace(0.0, 1.0, 241).tolist()
    left, right = ([at(t, s * _half(t, tuple(u for u, side in splits if side == s))) for t in ts] for s in SIDES)
    rim = rim_of([*left, *reversed(right)], width)
    shaft = LineString([at(t, 0.0) for t in ts]).intersection(rim)
    assert isinstance(shaft, LineString)
    feet = np.linspace(LOWEST, HIGHEST, barbs).tolist()
    rows = tuple((shaft.project(Spot(at(t, 0.0))), _barb(rim, t, side, at)) for t in feet for side in SIDES)
    nets = tuple(straight_net(rim, net_spacing(wish.size), angle) for angle in (48.0, 132.0))
    return Growth(rim, Rib(shaft, width, NARROW, rows), nets, shaft, width)


def _barb(rim: Polygon, foot: float, side: float, at: Callable[[float, float], Point]) -> Rib:
    line = curve(at(foot, 0.0), at(foot + 0.4 * SLANT, 0.62 * side), at(foot + SLANT, 1.1 * side))
    return Rib(to_rim(line, rim), NARROW, NARROW)


def _half(t: float, splits: tuple[float, ...]) -> float:
    """Return half the breadth at a height from quill to tip, as a part of the greatest."""
    vane = max(0.0, (t - QUILL) / (1.0 - QUILL))
    lens = QUILL_BREADTH + (1.0 - QUILL_BREADTH) * math.sin(math.pi * vane**0.8) ** 0.75 if t < 1.0 else 0.0
    lens *= math.pow(min(1.0, (1.0 - t) / 0.06), 0.6)
    notch = sum(SPLIT * math.exp(-abs(t - u) / 0.018) for u in splits)
    return lens * (1.0 - min(notch, SPLIT))


FEATHER: Final = Motif(
    "feather",
    "Feather",
    "A bent shaft with fine slanting barbs; its edge has parted here and there",
    "pairs of barbs",
    (4, 9, 16),
    60.0,
    150.0,
    draw,
)
