"""Do needle holes lie so close that they cut the cloth?"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from hoopwright.checks.columns import satin
from hoopwright.checks.sites import looser, on_cloth, where
from hoopwright.core.findings import Finding, Severity
from hoopwright.core.types import Point
from hoopwright.items.plan import Plan
from hoopwright.needle.maps import AREA, KERNEL, hole_map
from hoopwright.needle.needlework import Needlework, needlework
from hoopwright.needle.shapes import Hooping

MOST: Final = 13
"""Different holes in the disc above which cloth is cut. Four holes a square millimetre, evenly spread, put at most 13 into
it; 3 to 4 a square millimetre are the limit from memory of the trade."""
MOST_OF_SATIN: Final = 16
"""The same where most holes are of satin: five a square millimetre. So many lie in a column 1 mm wide at the usual 0.4 mm
(docs/sources.md), and the thread of satin holds together what it pierces (decision 0076)."""


def holes_not_too_dense(plan: Plan) -> tuple[Finding, ...]:
    """HW604: more than MOST different needle holes through cloth in a disc of KERNEL mm somewhere, of satin more than MOST_OF_SATIN.

    One finding a hooping, at the worst place.
    """
    return tuple(f for h in on_cloth(plan) for f in _of_hooping(h))


def _of_hooping(hooping: Hooping) -> tuple[Finding, ...]:
    map_ = hole_map(hooping)
    if map_.worst()[0] <= MOST:
        return ()
    work = needlework(hooping)
    of_satin, holes = satin(work)[work.in_cloth], work.at[work.in_cloth]
    dense = np.argwhere(map_.counts > MOST)
    ranked = sorted((-int(map_.counts[i, j]), i, j) for i, j in dense.tolist())
    for count, i, j in ranked:
        x, y = map_.place(i, j)
        near = ((holes - (x, y)) ** 2).sum(axis=1) <= KERNEL**2
        if -count > (MOST_OF_SATIN if 2 * of_satin[near].sum() >= near.sum() else MOST):
            return (_finding(work, work.in_cloth[near], (x, y)),)
    return ()


def _finding(work: Needlework, near: NDArray[np.intp], place: Point) -> Finding:
    site, role = where(work, near, place)
    return Finding(
        "HW604",
        Severity.WARNS,
        f"{len(near) / AREA:.1f} needle holes per square millimetre may cut the cloth: {len(near)} lie within {KERNEL:g} mm of one place",
        looser(role),
        site,
    )
