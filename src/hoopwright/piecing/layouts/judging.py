"""Judging a layout: promises that must hold, and what pleases the eye.

Marks are in points; a layout that keeps every promise has a fault of 0. The measures of what pleases are taste and
practice, found by looking at many layouts; they have no source.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from hoopwright.core.tolerances import STRAIGHT_DEGREES
from hoopwright.core.types import Degrees, Mm, Mm2
from hoopwright.piecing.layouts.slicing import CORNER, Measures


@dataclass(frozen=True, slots=True)
class Promises:
    """Least area (mm2), length of a side (mm) and angle (degrees) of every patch."""

    area: Mm2
    edge: Mm
    angle: Degrees

    def with_spare(self, part: float) -> Promises:
        """Return promises harder to keep by this part, so that a coarse outline cannot break them.

        Angles depend little on it, and a maker who asks for strips at 30 degrees wants just these: they get none.
        """
        return Promises(self.area * (1.0 + part), self.edge * (1.0 + part), self.angle)


def fault(patch: Measures, promises: Promises) -> float:
    """Return how far a patch is from keeping the promises, 0 when it keeps them.

    Sides and corners that are the outline's own are left alone: no layout can mend them.
    """
    total = _short(patch.area, promises.area)
    for side in patch.sides:
        if side.marks != (CORNER, CORNER):
            total += _short(side.length, promises.edge)
    return total + sum(_short(angle + STRAIGHT_DEGREES, promises.angle) for angle in patch.angles)


def _short(value: float, least: float) -> float:
    return max(0.0, 1.0 - value / least) if least > 0.0 else 0.0


LEAST_ROUNDNESS: Final = 0.55
"""Patches thinner than this look like slivers."""


def slimness(patches: Sequence[Measures]) -> float:
    """Return the points against slim patches."""
    return sum(max(0.0, LEAST_ROUNDNESS - p.roundness) ** 2 for p in patches) * 40.0


def variation(patches: Sequence[Measures]) -> float:
    """Return the coefficient of variation of the areas (standard deviation over mean)."""
    areas = [p.area for p in patches]
    mean = math.fsum(areas) / len(areas)
    return math.sqrt(math.fsum((a - mean) ** 2 for a in areas) / len(areas)) / mean


def unevenness(patches: Sequence[Measures], least: float, most: float) -> float:
    """Return the points against areas that vary less or more than is pleasant, or lie too far apart."""
    areas = sorted(p.area for p in patches)
    spread = variation(patches)
    outside = max(0.0, least - spread) + max(0.0, spread - most)
    return 8.0 * outside + max(0.0, areas[-1] / max(areas[0], 1.0) - 3.5)
