"""Rounds: strips laid round a middle, one side after the other, outwards."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from hoopwright.core.types import Degrees, Mm, Point
from hoopwright.piecing.layouts.judging import unevenness
from hoopwright.piecing.layouts.search import Numbers, Rule
from hoopwright.piecing.layouts.slicing import MarkedRing, Measures, SliceLine, measure

SIDES = 4


def rule(ring: MarkedRing, patches: int, angle: Degrees) -> Rule:
    """Return the rule for strips along ``angle`` and across it.

    The numbers are the place of the middle (two), the size of the middle in strip widths, the side where the rounds
    begin, and the width of every strip in parts, from the inside out.
    """
    middle = measure(ring).middle
    strips = patches - 1

    def start(rng: np.random.Generator) -> Numbers:
        size = float(rng.uniform(1.0, 1.6))
        side = float(rng.integers(0, SIDES))
        return (0.0, 0.0, size, side, *map(float, rng.uniform(0.92, 1.08, strips)))

    return Rule(
        start=start,
        lines=lambda numbers: _lines(ring, middle, angle, numbers),
        scales=lambda _: (2.0, 2.0, 0.15, 0.0, *((0.05,) * strips)),
        taste=_taste,
    )


def _lines(ring: MarkedRing, middle: Point, angle: Degrees, numbers: Numbers) -> list[SliceLine]:
    dx, dy, size, side, *parts = numbers
    centre = (middle[0] + dx, middle[1] + dy)
    placed: list[SliceLine] = []
    for way in range(SIDES):
        normal = angle + 90.0 * ((side + way) % SIDES)
        own = parts[way::SIDES]
        if own:
            reach = _reach(ring, centre, normal)
            width = reach / (max(size, 0.2) / 2.0 + sum(own))
            inner = [max(size, 0.2) / 2.0 + sum(own[:i]) for i in range(len(own))]
            base = centre[0] * math.cos(math.radians(normal)) + centre[1] * math.sin(math.radians(normal))
            placed += [SliceLine(normal, base + width * i) for i in inner]
    rows = [placed[i] for i in _order(len(parts))]
    return rows[::-1]


def _order(strips: int) -> list[int]:
    """Return the places of the strips in the list by sides, in the order they go round."""
    counts = [len(range(way, strips, SIDES)) for way in range(SIDES)]
    first = [sum(counts[:way]) for way in range(SIDES)]
    return [first[k % SIDES] + k // SIDES for k in range(strips)]


def _reach(ring: MarkedRing, centre: Point, normal: Degrees) -> Mm:
    ux, uy = math.cos(math.radians(normal)), math.sin(math.radians(normal))
    return max((x - centre[0]) * ux + (y - centre[1]) * uy for x, y, _ in ring)


def _taste(patches: Sequence[Measures], _lines: Sequence[SliceLine]) -> float:
    return unevenness(patches, 0.0, 0.45)
