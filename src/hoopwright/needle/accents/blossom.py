"""The blossom: petals with a notch and three veins each, round a ring of knotted dots."""

from __future__ import annotations

import math
import random
from typing import Final

import numpy as np
from shapely.geometry import LineString, Point
from shapely.ops import substring

from hoopwright.core.types import Mm
from hoopwright.core.types import Point as Place
from hoopwright.needle.accents.edges import curve, polar, rim_of, rim_width, to_rim
from hoopwright.needle.accents.lattice import net_spacing, straight_net
from hoopwright.needle.accents.shapes import NARROW, AccentWish, Growth, Motif, Rib

NOTCH: Final = 0.06
"""How deep the notch at the end of a petal is, as a part of its length."""

ASKEW: Final = 0.05
"""How much longer or shorter than the others a petal of a blossom with a seed is at most, as a part of its length."""

HEART: Final = 0.21
"""Radius of the ring in the middle, as a part of the blossom's."""

CENTRE: Final[Place] = (0.0, 0.0)


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
    entry, *others = [_petal(rim, radius, k * step, step, width) for k in range(petals)]
    way = LineString(entry.line.coords[::-1])
    back = way.length
    forks = tuple((back - at, fork) for at, fork in entry.children)
    ring = LineString([polar(CENTRE, heart, a) for a in np.linspace(0.0, 2.0 * math.pi, 65).tolist()])
    tree = Rib(
        way,
        entry.tip,
        entry.root,
        (*forks, *((back, one) for one in others)),
        ((back - heart, Rib(ring, 0.8 * width, 0.8 * width)),),
        _dots(heart - 0.4 * width),
    )
    nets = tuple(straight_net(rim, net_spacing(wish.size), angle) for angle in (30.0, 90.0, 150.0))
    return Growth(rim, tree, nets, Point(CENTRE).buffer(1.9 * heart, quad_segs=16).exterior, width)


def _reach(turn: float, length: float, fullness: float) -> float:
    """Return how far a petal reaches, as a part of the radius, at a place from one cleft (-1) to the other (1)."""
    cleft = 0.42 + 0.24 * fullness
    swell = math.sqrt(max(0.0, 1.0 - abs(turn) ** 2.4))
    return (cleft + (length - cleft) * swell) - NOTCH * math.exp(-((turn / 0.22) ** 2))


def _petal(rim: object, radius: Mm, angle: float, step: float, width: Mm) -> Rib:
    """Return the veins of one petal, from the middle to the rim: one straight, two that fork off."""
    from shapely.geometry import Polygon

    assert isinstance(rim, Polygon)
    line = to_rim(LineString([CENTRE, polar(CENTRE, 0.5 * radius, angle)]), rim)
    fork = 0.42 * radius
    forks = tuple(
        (
            fork,
            Rib(
                to_rim(
                    curve(
                        polar(CENTRE, fork, angle),
                        polar(CENTRE, 0.66 * radius, angle + 0.10 * side * step),
                        polar(CENTRE, 0.88 * radius, angle + 0.24 * side * step),
                    ),
                    rim,
                ),
                NARROW,
                NARROW,
            ),
        )
        for side in (1.0, -1.0)
    )
    return Rib(substring(line, 0.0, line.length), 0.62 * width, NARROW, forks)


def _dots(room: Mm) -> tuple[Place, ...]:
    """Return the places of the knots inside the ring: one, or one with six round it."""
    if room < 3.2:
        return (CENTRE,)
    around = min(room - 1.2, 2.6)
    return (*(polar(CENTRE, around, k * math.pi / 3.0) for k in range(6)), CENTRE)


BLOSSOM: Final = Motif(
    "blossom",
    "Blossom",
    "Notched petals with three veins each, round a ring of knotted dots",
    "petals",
    (4, 5, 8),
    36.0,
    120.0,
    draw,
)
