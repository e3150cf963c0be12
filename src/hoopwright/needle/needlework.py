"""One hooping as the needle sees it: every hole, every stitch, in tables that all rules share.

Words: a *hole* is a place where the needle goes through, however often it does; holes within one machine step are one. A
*stitch* is the thread between two needle positions that follow each other in one run.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from hoopwright.core.tolerances import MACHINE_STEP
from hoopwright.core.types import Point, Points
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import Role


@dataclass(frozen=True, slots=True, eq=False)
class Needlework:
    """``at`` (n, 2) are the needle positions of a hooping in sewing order, mm; ``step`` and ``run`` (n,) count from 0 the
    step and the run each belongs to. ``holes`` (h,) numbers the first position of each different hole.

    Stitch i of the m stitches leads from ``at[first[i]]`` to the position after it; ``lengths`` (m,) in mm.
    """

    hooping: Hooping
    at: Points
    step: NDArray[np.intp]
    run: NDArray[np.intp]
    holes: NDArray[np.intp]
    first: NDArray[np.intp]
    lengths: NDArray[np.float64]

    @property
    def in_cloth(self) -> NDArray[np.intp]:
        """The holes that go through cloth: all but those of the layout, which is sewn on the bare foundation."""
        bare = np.array([step.stitch.role is Role.LAYOUT for step in self.hooping.steps], dtype=bool)
        if not bare.any():
            return self.holes
        cloth = np.flatnonzero(~bare[self.step])
        return np.asarray(cloth[different(self.at[cloth])], dtype=np.intp)

    def step_of(self, position: int) -> Step:
        """Return the step of a needle position."""
        return self.hooping.steps[int(self.step[position])]

    def place(self, position: int) -> Point:
        """Return a needle position, rounded to a tenth of a millimetre."""
        x, y = self.at[position].tolist()
        return round(x, 1), round(y, 1)


@lru_cache(maxsize=8)
def needlework(hooping: Hooping) -> Needlework:
    """Return a hooping's needle positions as tables; kept while the rules look at it."""
    runs = [(k, run.points) for k, step in enumerate(hooping.steps) for run in step.runs if run.count]
    counts = np.array([len(points) for _, points in runs], dtype=np.intp)
    at = np.concatenate([points for _, points in runs]) if runs else np.empty((0, 2))
    run = np.repeat(np.arange(len(runs)), counts)
    step = np.repeat(np.array([k for k, _ in runs], dtype=np.intp), counts)
    first = np.flatnonzero(run[1:] == run[:-1])
    ways = at[first + 1] - at[first]
    tables = at, step, run, different(at), first, np.hypot(ways[:, 0], ways[:, 1])
    for table in tables:
        table.setflags(write=False)
    return Needlework(hooping, *tables)


def different(at: Points) -> NDArray[np.intp]:
    """Return the numbers of the first position of every different hole, in order; holes in one machine step are one."""
    if not len(at):
        return np.empty(0, dtype=np.intp)
    cells = np.round(at / MACHINE_STEP).astype(np.int64)
    cells -= cells.min(axis=0)
    _, numbers = np.unique(cells[:, 0] * (cells[:, 1].max() + 1) + cells[:, 1], return_index=True)
    return np.sort(numbers)
