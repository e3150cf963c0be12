"""Crazy patchwork from the centre: a middle patch of four to six sides, a little off the middle, and patches round it."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from hoopwright.core.types import Point
from hoopwright.piecing.layouts.crazy import (
    MANY,
    careful_line,
    likeness,
    lines_of,
    scales_for,
    size_of,
    slicing_offset,
    too_many_corners,
)
from hoopwright.piecing.layouts.judging import Promises, slimness, unevenness
from hoopwright.piecing.layouts.search import Numbers, Rule
from hoopwright.piecing.layouts.slicing import MarkedRing, Measures, SliceLine, measure, slice_off


def rule(ring: MarkedRing, patches: int, promises: Promises) -> Rule:
    """Return the rule for this outline and number of patches."""
    whole = measure(ring)
    size = size_of(ring)
    return Rule(
        start=lambda rng: _start(rng, ring, whole, patches, promises),
        lines=lines_of,
        scales=lambda numbers: scales_for(numbers, size),
        taste=lambda made, lines: _taste(made, lines, ring, whole),
        careful=patches > MANY,
    )


def _start(rng: np.random.Generator, ring: MarkedRing, whole: Measures, patches: int, promises: Promises) -> Numbers:
    """Choose a middle, go round it with its own lines, and before these with lines farther out."""
    cuts = patches - 1
    sides = min(cuts, int(rng.integers(4, 7)))
    radius = math.sqrt(whole.area / patches / math.pi) * float(rng.uniform(0.85, 1.1))
    shift = 0.1 * math.sqrt(whole.area)
    centre = (
        whole.middle[0] + shift * float(rng.uniform(-1, 1)),
        whole.middle[1] + shift * float(rng.uniform(-1, 1)),
    )
    turn = 360.0 / max(sides, 3) * (1.0 if rng.random() < 0.5 else -1.0)
    first = float(rng.uniform(0, 360))
    numbers: list[float] = []
    rest = ring
    for k in range(cuts - sides):
        angle = first - turn * (cuts - sides - k)
        line = (
            careful_line(rng, rest, patches - k, promises, (angle, 50.0))
            if patches > MANY
            else _outer(rest, centre, angle, radius, patches - k, rng)
        )
        numbers += [line.angle, line.offset]
        taken = slice_off(rest, line)
        rest = taken.rest if taken else rest
    if patches > MANY:
        left = measure(rest)
        centre, radius = left.middle, math.sqrt(left.area / (sides + 1) / math.pi)
    for k in range(sides):
        angle = first + turn * k + float(rng.uniform(-0.2, 0.2)) * turn
        numbers += [angle, _from(centre, angle) + radius * float(rng.uniform(0.8, 1.15))]
    return tuple(numbers)


def _outer(
    rest: MarkedRing, centre: Point, angle: float, radius: float, left: int, rng: np.random.Generator
) -> SliceLine:
    """Return a line that takes off about its share, well clear of the middle."""
    angle += float(rng.uniform(-25, 25))
    share = slicing_offset(rest, angle, float(rng.uniform(1.0, 1.8)) / left)
    return SliceLine(angle, max(share, _from(centre, angle) + 1.4 * radius))


def _from(centre: Point, angle: float) -> float:
    return centre[0] * math.cos(math.radians(angle)) + centre[1] * math.sin(math.radians(angle))


def _taste(patches: Sequence[Measures], lines: Sequence[SliceLine], ring: MarkedRing, whole: Measures) -> float:
    spread = (0.25, 0.42) if len(patches) > 3 else (0.1, 0.45)
    return (
        slimness(patches)
        + unevenness(patches, *spread)
        + likeness(lines, ring, 9.0)
        + too_many_corners(patches[:-1], 5)
        + (_middle(patches, whole) if len(patches) > 4 else 0.0)
    )


def _middle(patches: Sequence[Measures], whole: Measures) -> float:
    """Return the points against the middle patch."""
    middle = patches[-1]
    share = middle.area * len(patches) / whole.area
    off = math.dist(middle.middle, whole.middle) / math.sqrt(whole.area)
    sides = len(middle.sides)
    return (
        (6.0 if middle.on_rim else 0.0)
        + 2.0 * (max(0, 4 - sides) + max(0, sides - 6))
        + 4.0 * (max(0.0, 0.85 - share) + max(0.0, share - 1.5))
        + 15.0 * (max(0.0, 0.04 - off) + max(0.0, off - 0.15))
        + 10.0 * max(0.0, 0.73 - middle.roundness)
    )
