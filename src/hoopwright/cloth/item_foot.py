"""Proof that everything of an item goes under the presser foot."""

from __future__ import annotations

from typing import Final

import numpy as np

from hoopwright.cloth.course import Course
from hoopwright.cloth.materials import THICKNESS_LIMIT
from hoopwright.cloth.stitching import thickness_at
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm
from hoopwright.project.lengths import show_apart

NEVER: Final[Mm] = 5.0
"""More than this goes under no foot of a home machine, mm, from memory."""


def goes_under_the_foot(course: Course, limit: Mm = THICKNESS_LIMIT) -> tuple[Finding, ...]:
    """HW563 (warns): more than ``limit`` mm under the needle; HW564: more than NEVER. One finding a hooping, at the worst place."""
    worst, at, title, number = 0.0, (0.0, 0.0), "", 0
    for step, stack in course.sewn():
        if not step.runs:
            continue
        points = np.concatenate([run.points for run in step.runs])
        thick = thickness_at(stack, points)
        most = int(thick.argmax())
        if thick[most] > worst + MERGE:
            worst, at = float(thick[most]), (round(float(points[most, 0]), 1), round(float(points[most, 1]), 1))
            title, number = step.stitch.title, step.index
    if worst <= limit + MERGE:
        return ()
    code, severity = ("HW564", Severity.BLOCKS) if worst > NEVER else ("HW563", Severity.WARNS)
    found, fits = show_apart(worst, limit, course.plan.project.units)
    message = f"{found} of cloth lie under the foot in “{title}”, where {fits} fit"
    cure = "Grade the allowances there, choose thinner cloth or batting, or make the stiffener smaller."
    return (Finding(code, severity, message, cure, Where(operation=number, point=at, hooping=course.hooping.key)),)
