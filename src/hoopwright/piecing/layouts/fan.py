"""A fan: blades spread from a pivot beyond a corner or an edge; a base across their narrow ends is sewn last."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from hoopwright.core.types import Degrees, Mm, Point
from hoopwright.piecing.layouts.crazy import size_of
from hoopwright.piecing.layouts.judging import unevenness
from hoopwright.piecing.layouts.search import PLAIN, Numbers, Rule
from hoopwright.piecing.layouts.slicing import MarkedRing, Measures, SliceLine, measure, slice_off

LEAST_WITH_BASE = 4
"""From this number of patches on, one of them is the base."""

WITH_BASE: Final = 2
"""From this calmness on a fan has a base."""

BELOW: Final[Degrees] = 270.0
"""Direction of the pivot of a plain fan."""

PLACES: Final = 8
"""Edges and corners at which the pivot may lie."""

STRIDE: Final = 3
"""From one seed to the next the pivot goes on by so many of the eight edges and corners."""

MOST_TILT: Final[Degrees] = 12.0
"""A lively fan leans to one side by at most this (by eye)."""

MOST_GROWTH: Final = 1.16
"""The widest blades of a lively fan are so much wider than their neighbours (by eye)."""

BLADES_OF_SEED: Final = 0xFA
"""Keeps the dice for the look of a fan apart from those of the search."""


@dataclass(frozen=True, slots=True)
class _Look:
    """What a seed decides: direction of the pivot, how far it lies beyond the rim and how high the base is as parts of
    the outline's size, and how much each blade is wider than the one before it."""

    towards: Degrees
    depth: float
    height: float
    growth: float


def rule(ring: MarkedRing, patches: int, angle: Degrees, seed: int, calm: int) -> Rule:
    """Return the rule for a fan whose pivot lies beyond an edge or corner that the seed chooses.

    With an ``angle`` other than 0 it lies below the outline, turned by it. Where a lively fan does not fit a calmer one
    may: from ``calm`` 1 on it does not lean, from 2 on it has a base, and from PLAIN on its pivot lies below as well.
    """
    plain = calm >= PLAIN
    based = patches >= LEAST_WITH_BASE and (calm >= WITH_BASE or seed // PLACES % 2 == 0)
    blades = patches - 1 if based else patches
    size = size_of(ring)
    look = _plain_look(based) if plain else _look(ring, based, seed, 0.0 if calm else MOST_TILT)
    towards = BELOW + angle if plain or angle else look.towards

    def start(rng: np.random.Generator) -> Numbers:
        parts = look.growth ** np.arange(blades) * rng.uniform(0.85, 1.15, blades)
        depth, height = look.depth * float(rng.uniform(0.7, 1.3)), look.height * float(rng.uniform(0.8, 1.2))
        return (size * depth, size * height, *map(float, parts / parts.mean()))

    def taste(made: Sequence[Measures], _: Sequence[SliceLine]) -> float:
        return unevenness(made, 0.1 if len(made) > 2 else 0.0, 0.45) + _large_base(made, based)

    return Rule(
        start=start,
        lines=lambda numbers: _lines(ring, towards, based, numbers),
        scales=lambda _: (0.2 * look.depth * size, 0.02 * size, *((0.1,) * blades)),
        taste=taste,
    )


def _plain_look(based: bool) -> _Look:
    return _Look(BELOW, 0.07 if based else 0.35, 0.18, 1.0)


def _look(ring: MarkedRing, based: bool, seed: int, tilt: Degrees) -> _Look:
    """Return the look of a seed: neighbouring seeds take different places; rounds of seeds have a base by turns."""
    dice = np.random.Generator(np.random.PCG64(np.random.SeedSequence([seed, BLADES_OF_SEED])))
    places = _places(ring)
    depth = dice.uniform(0.02, 0.4) if based else dice.uniform(0.2, 0.6)
    growth = float(dice.uniform(1.0, MOST_GROWTH)) ** (1 if dice.integers(2) else -1)
    towards = places[seed * STRIDE % PLACES] + tilt * float(dice.uniform(-1.0, 1.0))
    return _Look(towards, float(depth), float(dice.uniform(0.1, 0.24)), growth)


def _places(ring: MarkedRing) -> tuple[Degrees, ...]:
    """Return the directions of the four edges and four corners of the bounding box, seen from its middle."""
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    corner = math.degrees(math.atan2(max(ys) - min(ys), max(xs) - min(xs)))
    return (BELOW, 180.0 + corner, 180.0, 180.0 - corner, 90.0, corner, 0.0, -corner)


def _lines(ring: MarkedRing, towards: Degrees, based: bool, numbers: Numbers) -> Sequence[SliceLine]:
    depth, height, *parts = numbers
    rim = _exit(ring, towards)
    unit = (math.cos(math.radians(towards)), math.sin(math.radians(towards)))
    pivot = (rim[0] + unit[0] * max(depth, 0.0), rim[1] + unit[1] * max(depth, 0.0))
    done: list[SliceLine] = []
    if based:
        base = SliceLine(towards, rim[0] * unit[0] + rim[1] * unit[1] - max(height, 1.0))
        taken = slice_off(ring, base)
        ring = taken.rest if taken else ring
        done.append(base)
    return [*done, *_blades(ring, pivot, towards, parts)]


def _blades(ring: MarkedRing, pivot: Point, towards: Degrees, parts: Sequence[float]) -> list[SliceLine]:
    """Return the rays between the blades, the last blade in turning direction taken off first."""
    seen = [_seen(p, pivot, towards) for p in ring]
    low, high = min(seen), max(seen)
    shares = np.cumsum(np.maximum(parts, 0.1)) / float(np.sum(np.maximum(parts, 0.1)))
    rays = [towards + 180.0 + low + (high - low) * float(s) for s in shares[-2::-1]]
    return [_beyond(pivot, ray) for ray in rays]


def _seen(point: Sequence[float], pivot: Point, towards: Degrees) -> Degrees:
    """Return under what angle the pivot sees a point, 0 straight across the outline."""
    angle = math.degrees(math.atan2(point[1] - pivot[1], point[0] - pivot[0])) - towards - 180.0
    return (angle + 180.0) % 360.0 - 180.0


def _beyond(pivot: Point, ray: Degrees) -> SliceLine:
    """Return the line along a ray that takes off what lies to its left."""
    normal = ray + 90.0
    return SliceLine(normal, pivot[0] * math.cos(math.radians(normal)) + pivot[1] * math.sin(math.radians(normal)))


def _large_base(patches: Sequence[Measures], based: bool) -> float:
    """Return the points against a base that is larger than the other patches."""
    mean = sum(p.area for p in patches) / len(patches)
    return 6.0 * max(0.0, patches[0].area / mean - 1.1) if based else 0.0


def _exit(ring: MarkedRing, towards: Degrees) -> Point:
    """Return the farthest place on the ring seen from its middle in this direction."""
    middle = measure(ring).middle
    ux, uy = math.cos(math.radians(towards)), math.sin(math.radians(towards))
    best: Mm = 0.0
    for (ax, ay, _), (bx, by, _) in zip(ring, (*ring[1:], ring[0]), strict=True):
        ha, hb = (ay - middle[1]) * ux - (ax - middle[0]) * uy, (by - middle[1]) * ux - (bx - middle[0]) * uy
        if (ha > 0.0) != (hb > 0.0):
            t = ha / (ha - hb)
            best = max(best, (ax + (bx - ax) * t - middle[0]) * ux + (ay + (by - ay) * t - middle[1]) * uy)
    return (middle[0] + ux * best, middle[1] + uy * best)
