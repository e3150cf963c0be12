"""What both crazy ways share: slice lines with free directions and offsets."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from hoopwright.core.types import Degrees, Mm, Mm2
from hoopwright.piecing.layouts.judging import Promises, fault, slimness
from hoopwright.piecing.layouts.search import PROMISE, Numbers
from hoopwright.piecing.layouts.slicing import MarkedRing, Measures, Slice, SliceLine, measure, slice_off


def lines_of(numbers: Numbers) -> tuple[SliceLine, ...]:
    """Read angle and offset of every line from the row of numbers."""
    return tuple(SliceLine(a, d) for a, d in zip(numbers[::2], numbers[1::2], strict=True))


def scales_for(numbers: Numbers, size: Mm) -> Numbers:
    """Return how far angles and offsets are moved at a time."""
    return (9.0, 0.04 * size) * (len(numbers) // 2)


def likeness(lines: Sequence[SliceLine], ring: MarkedRing, least: Degrees) -> float:
    """Return the points against seams that run nearly parallel to one another or to a long side of the outline."""
    angles = [line.angle for line in lines]
    pairs = [_apart(a, b) for i, a in enumerate(angles) for b in angles[i + 1 :]]
    long_sides = _long_sides(ring)
    rim = [_apart(a, b) for a in angles for b in long_sides]
    return 2.0 * sum(max(0.0, 1.0 - d / least) for d in pairs) + sum(max(0.0, 1.0 - 2.0 * d / least) for d in rim)


def _apart(a: Degrees, b: Degrees) -> Degrees:
    turn = abs(a - b) % 180.0
    return min(turn, 180.0 - turn)


def _long_sides(ring: MarkedRing) -> list[Degrees]:
    """Return the normal directions of sides longer than a quarter of the outline's size."""
    size = size_of(ring)
    sides = zip(ring, (*ring[1:], ring[0]), strict=True)
    return [
        math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) - 90.0
        for a, b in sides
        if math.hypot(b[0] - a[0], b[1] - a[1]) > 0.25 * size
    ]


def size_of(ring: MarkedRing) -> Mm:
    """Return the diagonal of the bounding box."""
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    return math.hypot(max(xs) - min(xs), max(ys) - min(ys))


def slicing_offset(ring: MarkedRing, angle: Degrees, share: float) -> Mm:
    """Return the offset of a line in direction ``angle`` that takes off about ``share`` of the ring's extent."""
    heights = [x * math.cos(math.radians(angle)) + y * math.sin(math.radians(angle)) for x, y, _ in ring]
    return max(heights) - share * (max(heights) - min(heights))


def too_many_corners(patches: Sequence[Measures], most: int) -> float:
    """Return the points against patches of more than ``most`` sides."""
    return sum(max(0, len(p.sides) - most) for p in patches) * 1.0


MANY = 9
"""Above this number of patches, starts are built slice by slice with care: drawn at random they would rarely fit."""

TRIES = 8
"""Directions tried for each slice of a careful start."""

HALVINGS = 6
"""Halvings that find the offset at which a line takes off the wished area."""


def careful_line(
    rng: np.random.Generator, ring: MarkedRing, left: int, promises: Promises, around: tuple[Degrees, Degrees]
) -> SliceLine:
    """Return the best of some lines that take off about one of ``left`` equal shares.

    ``around`` is the wished direction and how far it may turn to either side.
    """
    whole = measure(ring).area
    tried: list[tuple[float, int, SliceLine]] = []
    for n in range(TRIES):
        angle = around[0] + around[1] * float(rng.uniform(-1, 1))
        line = _taking(ring, angle, whole / left * float(rng.uniform(0.6, 1.4)))
        made = slice_off(ring, line)
        tried.append((_against(made, promises) if made else math.inf, n, line))
    return min(tried, key=lambda t: t[:2])[2]


def _against(made: Slice, promises: Promises) -> float:
    off, rest = measure(made.off), measure(made.rest)
    return PROMISE * fault(off, promises) + slimness([off, rest]) - off.roundness


def _taking(ring: MarkedRing, angle: Degrees, area: Mm2) -> SliceLine:
    """Return the line in direction ``angle`` that takes off about this area."""
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        share = (low + high) / 2.0
        made = slice_off(ring, SliceLine(angle, slicing_offset(ring, angle, share)))
        low, high = (low, share) if made and measure(made.off).area > area else (share, high)
    return SliceLine(angle, slicing_offset(ring, angle, (low + high) / 2.0))
