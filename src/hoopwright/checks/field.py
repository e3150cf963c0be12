"""Does everything lie where the needle can reach?"""

from __future__ import annotations

import numpy as np

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Point, Points
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.project.lengths import show_measure, show_size


def inside_field(plan: Plan) -> tuple[Finding, ...]:
    """HW601: a needle position lies outside the field less its margin. One finding a hooping, at the worst place."""
    margin = plan.project.hoop.margin
    half = (plan.field[0] / 2 - margin, plan.field[1] / 2 - margin)
    return tuple(f for h in plan.hoopings for f in _of_hooping(plan, h, half))


def _of_hooping(plan: Plan, hooping: Hooping, half: tuple[float, float]) -> tuple[Finding, ...]:
    worst, place, index = 0.0, (0.0, 0.0), 0
    for step in hooping.steps:
        for run in step.runs:
            over, at = _furthest(run.points, half)
            if over > worst + SAME_PLACE:
                worst, place, index = over, at, step.index
    if worst <= SAME_PLACE:
        return ()
    size = show_size(*plan.field, plan.project.units)
    return (
        Finding(
            "HW601",
            Severity.BLOCKS,
            f"The stitches reach {show_measure(worst, plan.project.units)} past the field of {size} less its margin",
            "Choose a larger field, turn the panel, make it smaller, or set a smaller margin.",
            Where(operation=index, point=place, hooping=hooping.key),
        ),
    )


def _furthest(points: Points, half: tuple[float, float]) -> tuple[float, Point]:
    over = np.max(np.abs(points) - np.array(half), axis=1)
    i = int(np.argmax(over))
    return float(over[i]), (float(points[i, 0]), float(points[i, 1]))
