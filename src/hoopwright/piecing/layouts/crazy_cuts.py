"""Crazy patchwork by random cuts: each slices a patch off what remains, from whatever side."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

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
from hoopwright.piecing.layouts.slicing import MarkedRing, Measures, SliceLine, slice_off


def rule(ring: MarkedRing, patches: int, promises: Promises) -> Rule:
    """Return the rule for this outline and number of patches."""
    size = size_of(ring)
    return Rule(
        start=lambda rng: _start(rng, ring, patches, promises),
        lines=lines_of,
        scales=lambda numbers: scales_for(numbers, size),
        taste=lambda made, lines: _taste(made, lines, ring),
        careful=patches > MANY,
    )


def _start(rng: np.random.Generator, ring: MarkedRing, patches: int, promises: Promises) -> Numbers:
    numbers: list[float] = []
    angle = float(rng.uniform(0, 360))
    for left in range(patches, 1, -1):
        line = (
            careful_line(rng, ring, left, promises, (angle, 180.0))
            if patches > MANY
            else SliceLine(angle, slicing_offset(ring, angle, float(rng.uniform(0.9, 1.6)) / left))
        )
        numbers += [line.angle, line.offset]
        taken = slice_off(ring, line)
        ring = taken.rest if taken else ring
        angle += float(rng.uniform(60, 300))
    return tuple(numbers)


def _taste(patches: Sequence[Measures], lines: Sequence[SliceLine], ring: MarkedRing) -> float:
    spread = (0.25, 0.45) if len(patches) > 3 else (0.1, 0.45)
    return slimness(patches) + unevenness(patches, *spread) + likeness(lines, ring, 10.0) + too_many_corners(patches, 5)
