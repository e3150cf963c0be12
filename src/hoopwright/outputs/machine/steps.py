"""From millimetres to machine steps. The only place where positions are rounded."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from hoopwright.core.tolerances import MACHINE_STEP, SAME_PLACE
from hoopwright.core.types import Mm, Points
from hoopwright.outputs.machine.kinds import LONGEST_STITCH


def to_steps(points: Points) -> NDArray[np.int64]:
    """Return positions in whole machine steps, shape (n, 2), x to the right, y DOWN as the stitch files' writer wants.

    Positions are rounded, never moves, so that no error adds up; halves go to the even neighbour.
    """
    return (np.rint(points / MACHINE_STEP) * (1.0, -1.0)).astype(np.int64)


def divided(points: Points, longest: Mm = LONGEST_STITCH) -> Points:
    """Return the positions with every stitch longer than ``longest`` (mm) divided into equal shorter ones."""
    if len(points) < 2:
        return points
    lengths = np.hypot(*np.diff(points, axis=0).T)
    if not np.any(lengths > longest + SAME_PLACE):
        return points
    rows = [points[:1]]
    for a, b, length in zip(points[:-1], points[1:], lengths, strict=True):
        parts = max(1, math.ceil(length / longest - SAME_PLACE))
        rows.append(a + (b - a) * (np.arange(1, parts + 1) / parts)[:, None])
    return np.concatenate(rows)
