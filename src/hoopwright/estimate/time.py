"""How long it takes: the machine's minutes and the hands' minutes.

Model of the machine (common practice, no source): each stitch takes one turn at the speed set; from FULL_SPEED mm on
the hoop cannot follow and the turn takes longer in proportion to the stitch; each cut of the thread takes a few
seconds, travel included. So 12,000 stitches at 600 a minute are 20 minutes. Model of the hands: so many
minutes a task, from experience; all figures are settings.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.core.types import Minutes, Mm
from hoopwright.needle.shapes import Step
from hoopwright.operations.vocabulary import (
    Close,
    Flip,
    Fold,
    Hand,
    HandWork,
    Hoop,
    Lay,
    Open,
    Press,
    Release,
    Trim,
    Turn,
)


@dataclass(frozen=True, slots=True)
class HandMinutes:
    """Minutes the hands need for one task of each sort. Common practice, no source."""

    hoop: Minutes = 3.0
    lay: Minutes = 0.75
    trim: Minutes = 1.0
    flip: Minutes = 0.5
    press: Minutes = 0.5
    hand: Minutes = 2.0
    release: Minutes = 1.0
    fold: Minutes = 0.5
    open: Minutes = 0.25
    turn: Minutes = 4.0
    close: Minutes = 5.0
    thread: Minutes = 0.75
    """Changing the thread of a one-needle machine."""


@dataclass(frozen=True, slots=True)
class MachineTime:
    """How the machine spends its time: stitches longer than ``full_speed`` (mm) are slower, a cut takes ``trim`` minutes."""

    full_speed: Mm = 4.0
    trim: Minutes = 0.1


def sewing_minutes(
    lengths: NDArray[np.float64], positions: int, trims: int, speed: float, time: MachineTime | None = None
) -> Minutes:
    """Return the minutes for so many needle positions, whose sewn stitches have these lengths (mm), at ``speed`` a minute."""
    time = time or MachineTime()
    slower = np.maximum(lengths / time.full_speed - 1.0, 0.0).sum()
    return float((positions + slower) / speed + trims * time.trim)


def step_lengths(step: Step) -> NDArray[np.float64]:
    """Return the length of every sewn stitch of a step in mm, travels left out."""
    rows = [np.hypot(*np.diff(run.points, axis=0).T) for run in step.runs if run.count > 1]
    return np.concatenate(rows) if rows else np.empty(0)


def hand_minutes(work: tuple[HandWork, ...], table: HandMinutes) -> Minutes:
    """Return the minutes the hands need for these tasks."""
    return sum(_task(w, table) for w in work)


def _task(work: HandWork, table: HandMinutes) -> Minutes:
    match work:
        case Hoop():
            return table.hoop
        case Lay():
            return table.lay
        case Trim():
            return table.trim
        case Flip():
            return table.flip
        case Press():
            return table.press
        case Hand():
            return table.hand
        case Release():
            return table.release
        case Fold():
            return table.fold
        case Open():
            return table.open
        case Turn():
            return table.turn
        case Close():
            return table.close
