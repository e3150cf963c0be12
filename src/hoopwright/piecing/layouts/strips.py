"""Strips: seams straight across, of widths that vary a little, level or slanting to and fro."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from hoopwright.core.types import Degrees, Mm
from hoopwright.piecing.layouts.judging import unevenness
from hoopwright.piecing.layouts.search import PLAIN, Numbers, Rule
from hoopwright.piecing.layouts.slicing import MarkedRing, Measures, SliceLine

MOST_SLANT: Final[Degrees] = 9.0
"""No strip's seam is turned further from its direction (by eye)."""

SLANT_PART: Final = 0.55
"""At the ends of a slanting seam a strip of middling width is narrower by at most this part."""

LEVEL_EVERY: Final = 3
"""With every so many seeds, the first one among them, all seams are parallel; with the others they slant."""


def rule(ring: MarkedRing, patches: int, angle: Degrees, seed: int, calm: int) -> Rule:
    """Return the rule for strips that run in direction ``angle``; its numbers are widths in parts, then slants if any.

    The seed decides whether seams slant, which way the first one does, and whether strips grow wider from one side to the
    other. Where slanting seams do not fit calmer ones may: they slant less, and from PLAIN on they are parallel.
    """
    along, (low, high) = _extent(ring, angle), _extent(ring, angle + 90.0)
    middle, wide = (along[0] + along[1]) / 2.0, (along[1] - along[0]) / 2.0
    level = calm >= PLAIN or seed % LEVEL_EVERY == 1
    most = 0.0 if level else _slant((high - low) / patches, wide) * (1.0 - calm / PLAIN)
    first = 1.0 if seed % 2 else -1.0
    growth = np.ones(patches) if calm else _growth(patches, seed)
    leaning = patches - 1 if most else 0

    def start(rng: np.random.Generator) -> Numbers:
        widths = growth * rng.uniform(0.65, 1.35, patches)
        slants = first * most * rng.uniform(0.6, 1.0, leaning) * (-1.0) ** np.arange(leaning)
        return (*map(float, widths), *map(float, slants))

    def lines(numbers: Numbers) -> Sequence[SliceLine]:
        widths = np.maximum(numbers[:patches], 0.05)
        shares = np.cumsum(widths) / float(np.sum(widths))
        heights = [low + (high - low) * float(s) for s in shares[:-1]]
        slants = np.clip(numbers[patches:], -most, most) if leaning else np.zeros(patches - 1)
        return [_line(angle, middle, h, float(s)) for h, s in zip(heights, slants, strict=True)][::-1]

    def taste(made: Sequence[Measures], _: Sequence[SliceLine]) -> float:
        return unevenness(made, 0.18 if len(made) > 2 else 0.0, 0.4)

    scales = (*((0.12,) * patches), *((0.15 * most,) * leaning))
    return Rule(start=start, lines=lines, scales=lambda _: scales, taste=taste)


def _extent(ring: MarkedRing, direction: Degrees) -> tuple[Mm, Mm]:
    """Return from where to where the ring reaches in a direction."""
    cosine, sine = math.cos(math.radians(direction)), math.sin(math.radians(direction))
    places = [x * cosine + y * sine for x, y, _ in ring]
    return min(places), max(places)


def _slant(width: Mm, wide: Mm) -> Degrees:
    """Return how far seams may turn so that two that lean together leave room: both take half of what is allowed."""
    return min(MOST_SLANT, math.degrees(math.atan(SLANT_PART * width / 2.0 / wide)))


def _growth(patches: int, seed: int) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Return by how much strips are wider than the mean one: growing from one side, or bulging, or even, by seed."""
    ramp = np.linspace(-1.0, 1.0, patches) if patches > 1 else np.zeros(1)
    shape = (np.zeros(patches), ramp, -ramp, 0.5 - np.abs(ramp), np.abs(ramp) - 0.5)[seed * 2 % 5]
    grown: np.ndarray[tuple[int], np.dtype[np.float64]] = 1.0 + 0.4 * shape
    return grown


def _line(angle: Degrees, middle: Mm, height: Mm, slant: Degrees) -> SliceLine:
    """Return the seam at a height over the middle of the strips, turned there by ``slant``."""
    return SliceLine(
        angle + 90.0 + slant, height * math.cos(math.radians(slant)) - middle * math.sin(math.radians(slant))
    )
