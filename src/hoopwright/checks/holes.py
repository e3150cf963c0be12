"""Do needle holes lie so close that they cut the cloth?"""

from __future__ import annotations

from typing import Final

import numpy as np

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MACHINE_STEP
from hoopwright.core.types import Point, Points
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping

CELL: Final = 2.0
"""Side in mm of the square over which holes are counted."""
MOST: Final = 4.0
"""Holes per mm2 above which cloth is cut; 3 to 4 from memory of the trade."""


def holes_not_too_dense(plan: Plan) -> tuple[Finding, ...]:
    """HW604: more than MOST different needle holes per mm2 somewhere; one finding a hooping, at the worst place.

    Holes are counted in squares of CELL mm on two grids half a square apart; holes within a machine step are one.
    """
    return tuple(f for h in plan.hoopings for f in _of_hooping(h))


def _of_hooping(hooping: Hooping) -> tuple[Finding, ...]:
    runs = [run.points for step in hooping.steps for run in step.runs]
    if not runs:
        return ()
    holes = np.unique(np.round(np.concatenate(runs) / MACHINE_STEP).astype(np.int64), axis=0) * MACHINE_STEP
    most, place = max(_densest(np.asarray(holes, dtype=np.float64), shift) for shift in (0.0, CELL / 2))
    if most <= MOST:
        return ()
    return (
        Finding(
            "HW604",
            Severity.WARNS,
            f"{most:.1f} needle holes per square millimetre may cut the cloth",
            "Choose a wider or more open seam stitch there, or leave one of the seams that meet there plain.",
            Where(point=place, hooping=hooping.key),
        ),
    )


def _densest(holes: Points, shift: float) -> tuple[float, Point]:
    cells = np.floor((holes + shift) / CELL).astype(np.int64)
    unique, counts = np.unique(cells, axis=0, return_counts=True)
    i = int(np.argmax(counts))
    x, y = ((unique[i] + 0.5) * CELL - shift).tolist()
    return float(counts[i]) / CELL**2, (x, y)
