"""A fan: blades spread from a pivot beyond a corner or an edge; a base across their narrow ends is sewn last."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from hoopwright.core.types import Degrees, Mm, Point
from hoopwright.piecing.layouts.crazy import size_of
from hoopwright.piecing.layouts.judging import unevenness
from hoopwright.piecing.layouts.search import Numbers, Rule
from hoopwright.piecing.layouts.slicing import MarkedRing, Measures, SliceLine, measure, slice_off

LEAST_WITH_BASE = 4
"""From this number of patches on, one of them is the base."""


def rule(ring: MarkedRing, patches: int, angle: Degrees) -> Rule:
    """Return the rule for a fan whose pivot lies below the outline, or turned from there by ``angle``."""
    based = patches >= LEAST_WITH_BASE
    blades = patches - 1 if based else patches
    size = size_of(ring)
    depth = (0.02, 0.12) if based else (0.2, 0.5)

    def start(rng: np.random.Generator) -> Numbers:
        parts = rng.uniform(0.8, 1.2, blades)
        return (size * float(rng.uniform(*depth)), size * float(rng.uniform(0.12, 0.25)), 0.0, *map(float, parts))

    def lines(numbers: Numbers) -> Sequence[SliceLine]:
        return _lines(ring, 270.0 + angle, based, numbers)

    return Rule(
        start=start,
        lines=lines,
        scales=lambda _: (0.04 * size, 0.03 * size, 0.0, *((0.1,) * blades)),
        taste=lambda made, _: unevenness(made, 0.1 if len(made) > 2 else 0.0, 0.45) + _large_base(made, based),
    )


def _lines(ring: MarkedRing, towards: Degrees, based: bool, numbers: Numbers) -> Sequence[SliceLine]:
    depth, height, lean, *parts = numbers
    towards += lean
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
