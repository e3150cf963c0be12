"""Proof that nothing decorative is sewn over a crossing so thick that its stitches come out crooked."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np
import shapely

from hoopwright.cloth.materials import THICKNESS_LIMIT
from hoopwright.cloth.shapes import Stack
from hoopwright.cloth.stitching import thickness_at
from hoopwright.cloth.trial import Fault, Trial
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm, Point, Points
from hoopwright.core.words import counted
from hoopwright.needle.shapes import Step
from hoopwright.operations.vocabulary import Role
from hoopwright.project.lengths import show_apart

CLOTH_LIMIT: Final[Mm] = 2.0
"""Cloth above the foundation over which a decorative stitch still lies well, mm: six layers of quilting cotton, where a seam
crosses another (five) and a little more (from memory; cotton is 0.25 to 0.35)."""

SEEN: Final = frozenset({Role.ORNAMENT, Role.LETTERING, Role.PLACED})
"""Blocks that are sewn to be looked at."""


def decoration_lies_flat(trial: Trial, limit: Mm = CLOTH_LIMIT) -> tuple[Fault, ...]:
    """HW521: a decorative stitch over more than ``limit`` mm of cloth, foundation not counted; one finding a hooping.

    What does not go under the foot at all is left to HW520.
    """
    worst, at, step, stack = 0.0, (0.0, 0.0), None, None
    for one, below in zip(trial.hooping.steps, trial.stacks, strict=False):
        if one.stitch.role in SEEN and one.count:
            thick, place = _thickest(np.concatenate([run.points for run in one.runs]), below)
            if thick > worst + MERGE:
                worst, at, step, stack = thick, place, one, below
    if worst <= limit + MERGE or step is None or stack is None:
        return ()
    return (Fault(_told(trial, step, at, _layers(stack, at), worst, limit), ()),)


def _thickest(points: Points, stack: Stack) -> tuple[Mm, Point]:
    """Return the most cloth above the foundation under any of the points that goes under the foot, and where."""
    cloth = thickness_at(replace(stack, layers=tuple(p for p in stack.layers if not p.foundation)), points)
    backing = thickness_at(replace(stack, layers=tuple(p for p in stack.layers if p.foundation)), points)
    cloth[cloth + backing > THICKNESS_LIMIT + MERGE] = 0.0
    most = int(cloth.argmax())
    return float(cloth[most]), (float(points[most, 0]), float(points[most, 1]))


def _layers(stack: Stack, at: Point) -> int:
    """Return how many layers of cloth lie at a place, the foundation not counted."""
    return sum(bool(shapely.intersects_xy(p.region, *at)) for p in stack.layers if not p.foundation)


def _told(trial: Trial, step: Step, at: Point, layers: int, thick: Mm, limit: Mm) -> Finding:
    found, lies_well = show_apart(thick, limit, trial.project.units)
    message = (
        f"“{step.stitch.title}” is sewn over {counted(layers, 'layer')} of cloth, {found}, where seams cross: over more than "
        f"{lies_well} its stitches come out crooked"
    )
    cure = "Trim the allowances there in steps, leave this seam plain or move what is placed there, or choose thinner cloth."
    where = Where(operation=step.index, point=(round(at[0], 1), round(at[1], 1)), hooping=trial.hooping.key)
    return Finding("HW521", Severity.WARNS, message, cure, where)
