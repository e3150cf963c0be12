"""Does the thread turn back on itself so often on one spot that it nests under the cloth?"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from hoopwright.checks.sites import looser, where
from hoopwright.core.findings import Finding, Severity
from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm
from hoopwright.items.plan import Plan
from hoopwright.needle.needlework import Needlework, needlework

SHORT: Final[Mm] = 1.0
"""Between stitches shorter than this a turn pulls no thread tight (the shortest useful stitch; common practice, no source)."""
SHARP: Final = -0.5
"""Cosine of the turn from which the thread comes back on itself: 120 degrees."""
SPOT: Final[Mm] = 1.0
"""Radius of the spot on which turns are counted."""
MOST: Final = 12
"""Turns on a spot that go well: four locks have eight, and the ends of their rows four (common practice, no source)."""


def thread_does_not_nest(plan: Plan) -> tuple[Finding, ...]:
    """HW613: more than MOST sharp turns between short stitches on one spot; one finding a hooping, at the worst place."""
    return tuple(f for h in plan.hoopings for f in _of_hooping(needlework(h)))


def _of_hooping(work: Needlework) -> tuple[Finding, ...]:
    turns = short_turns(work)
    if len(turns) <= MOST:
        return ()
    at = work.at[turns]
    near = np.asarray(cKDTree(at).query_ball_point(at, SPOT, return_length=True))
    worst = int(np.argmax(near))
    if near[worst] <= MOST:
        return ()
    place = work.place(int(turns[worst]))
    site, role = where(work, turns[((at - at[worst]) ** 2).sum(axis=1) <= SPOT**2], place)
    message = (
        f"The thread turns back on itself {int(near[worst])} times within {SPOT:g} mm, in stitches under {SHORT:g} mm: it nests "
        "under the cloth"
    )
    return (Finding("HW613", Severity.WARNS, message, looser(role), site),)


def short_turns(work: Needlework) -> NDArray[np.intp]:
    """Return the needle positions at which a short stitch comes sharply back from another short one."""
    short = (work.lengths < SHORT - SAME_PLACE) & (work.lengths > SAME_PLACE)
    pairs = np.flatnonzero(short[:-1] & short[1:] & (np.diff(work.first) == 1))
    middle = work.first[pairs] + 1
    came, goes = work.at[middle] - work.at[middle - 1], work.at[middle + 1] - work.at[middle]
    turn = (came * goes).sum(axis=1) <= SHARP * work.lengths[pairs] * work.lengths[pairs + 1]
    return np.asarray(middle[turn])
