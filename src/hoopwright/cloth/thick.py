"""Proof that everything goes under the presser foot."""

from __future__ import annotations

import numpy as np

from hoopwright.cloth.materials import THICKNESS_LIMIT
from hoopwright.cloth.stitching import thickness_at
from hoopwright.cloth.trial import Fault, Trial
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm
from hoopwright.project.lengths import show_apart


def under_the_foot(trial: Trial, limit: Mm = THICKNESS_LIMIT) -> tuple[Fault, ...]:
    """HW520: more than ``limit`` mm of cloth under the needle somewhere; one finding a hooping, at the worst place."""
    worst, at, step = 0.0, (0.0, 0.0), 0
    for number, stack in zip(trial.hooping.steps, trial.stacks, strict=False):
        points = np.concatenate([run.points for run in number.runs])
        thick = thickness_at(stack, points)
        most = int(thick.argmax())
        if thick[most] > worst + MERGE:
            worst, at, step = float(thick[most]), (float(points[most, 0]), float(points[most, 1])), number.index
    if worst <= limit + MERGE:
        return ()
    where = Where(operation=step, point=(round(at[0], 1), round(at[1], 1)), hooping=trial.hooping.key)
    found, fits = show_apart(worst, limit, trial.project.units)
    message = f"{found} of cloth lie under the foot, where {fits} fit"
    cure = "Trim the allowances there in steps, move the seam stitch away, or choose thinner cloth or batting."
    return (Fault(Finding("HW520", Severity.WARNS, message, cure, where), ()),)
