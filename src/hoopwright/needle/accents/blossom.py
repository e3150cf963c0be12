"""The blossom: petals with a notch and three veins each, round a ring of knotted dots."""

from __future__ import annotations

import math
import random
from typing import Final

import numpy as np
from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Mm
from hoopwright.needle.accents.edges import CENTRE, curve, polar, rim_of, rim_width, to_rim
from hoopwright.needle.accents.lattice import net_spacing, straight_net
from hoopwright.needle.accents.rings import knots, ring_line, round_a_ring
from hoopwright.needle.accents.shapes import NARROW, AccentWish, Growth, Motif, Rib

NOTCH: Final = 0.06
"""How deep the notch at the end of a petal is, as a part of its length."""

ASKEW: Final = 0.05
"""How much longer or shorter than the others a petal of a blossom with a seed is at most, as a part of its length."""

HEART: Final = 0.21
"""Radius of the ring in the middle, as a part of the blossom's."""


def draw(wish: AccentWish, scale: Mm) -> Growth:
    """Return the blossom, drawn ``scale`` mm across."""
    petals = wish.lobes or BLOSSOM.lobes[1]
    dice, width, radius = random.Random(wish.seed), rim_width(wish.size), scale / 2.0
    lengths = [1.0 + (dice.uniform(-ASKEW, ASKEW) if wish.seed else 0.0) for _ in range(petals)]
    step = 2.0 * math.pi / petals
    edge = [
        polar(CENTRE, radius * _reach(turn, length, wish.fullness), (k + turn / 2.0) * step)
        for k, length in enumerate(lengths)
        for turn in np.linspace(-1.0, 1.0, 49).tolist()
    ]
    rim = rim_of(edge, width)
    heart = HEART * radius
    veins = [_petal(rim, radius, k * step, step, width, heart) for k in range(petals)]
    tree = round_a_ring(veins, heart, step, 0.8 * width, knots(heart - 0.4 * width))
    nets = tuple(straight_net(rim, net_spacing(wish.size), angle) for angle in (45.0, 135.0))
    return Growth(rim, tree, nets, ring_line(1.9 * heart), width)


def _reach(turn: float, length: float, fullness: float) -> float:
    """Return how far a petal reaches, as a part of the radius, at a place from one cleft (-1) to the other (1)."""
    cleft = 0.42 + 0.24 * fullness
    swell = math.sqrt(max(0.0, 1.0 - abs(turn) ** 2.4))
    return (cleft + (length - cleft) * swell) - NOTCH * math.exp(-((turn / 0.22) ** 2))


def _petal(rim: Polygon, radius: Mm, angle: float, step: float, width: Mm, heart: Mm) -> Rib:
    """Return the veins of one petal, from the ring to the rim: one straight, two that fork off."""
    line = to_rim(LineString([polar(CENTRE, heart, angle), polar(CENTRE, 0.5 * radius, angle)]), rim)
    fork = 0.42 * radius
    forks = tuple((fork - heart, _fork(rim, radius, fork, angle, side * step)) for side in (1.0, -1.0))
    return Rib(line, 0.62 * width, NARROW, forks)


def _fork(rim: Polygon, radius: Mm, fork: Mm, angle: float, step: float) -> Rib:
    places = ((fork, 0.0), (0.66 * radius, 0.10), (0.88 * radius, 0.24))
    return Rib(to_rim(curve(*(polar(CENTRE, r, angle + part * step) for r, part in places)), rim), NARROW, NARROW)


BLOSSOM: Final = Motif(
    "blossom",
    "Blossom",
    "Notched petals with three veins each, round a ring of knotted dots",
    "petals",
    (4, 5, 8),
    40.0,
    120.0,
    draw,
)
