"""Strips: parallel seams straight across, of widths that vary a little."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from hoopwright.core.types import Degrees
from hoopwright.piecing.layouts.judging import unevenness
from hoopwright.piecing.layouts.search import Numbers, Rule
from hoopwright.piecing.layouts.slicing import MarkedRing, Measures, SliceLine


def rule(ring: MarkedRing, patches: int, angle: Degrees) -> Rule:
    """Return the rule for strips that run in direction ``angle``; the numbers are the widths in parts."""
    across = angle + 90.0
    heights = [x * math.cos(math.radians(across)) + y * math.sin(math.radians(across)) for x, y, _ in ring]
    low, high = min(heights), max(heights)

    def lines(parts: Numbers) -> Sequence[SliceLine]:
        shares = np.cumsum(np.maximum(parts, 0.05)) / float(np.sum(np.maximum(parts, 0.05)))
        return [SliceLine(across, low + (high - low) * float(s)) for s in shares[-2::-1]]

    return Rule(
        start=lambda rng: tuple(float(v) for v in rng.uniform(0.65, 1.35, patches)),
        lines=lines,
        scales=lambda parts: (0.12,) * len(parts),
        taste=_taste,
    )


def _taste(patches: Sequence[Measures], _lines: Sequence[SliceLine]) -> float:
    return unevenness(patches, 0.18 if len(patches) > 2 else 0.0, 0.4)
