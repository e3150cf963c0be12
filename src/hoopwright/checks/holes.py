"""Do needle holes lie so close that they cut the cloth?"""

from __future__ import annotations

from typing import Final

from hoopwright.checks.sites import looser, on_cloth, where
from hoopwright.core.findings import Finding, Severity
from hoopwright.items.plan import Plan
from hoopwright.needle.maps import AREA, KERNEL, hole_map
from hoopwright.needle.needlework import needlework
from hoopwright.needle.shapes import Hooping

MOST: Final = 13
"""Different holes in the disc above which cloth is cut. Four holes a square millimetre, evenly spread, put at most 13 into
it; 3 to 4 a square millimetre are the limit from memory of the trade."""


def holes_not_too_dense(plan: Plan) -> tuple[Finding, ...]:
    """HW604: more than MOST different needle holes in a disc of KERNEL mm somewhere; one finding a hooping, at the worst place."""
    return tuple(f for h in on_cloth(plan) for f in _of_hooping(h))


def _of_hooping(hooping: Hooping) -> tuple[Finding, ...]:
    most, (x, y) = hole_map(hooping).worst()
    if most <= MOST:
        return ()
    work = needlework(hooping)
    holes = work.at[work.holes]
    near = work.holes[((holes - (x, y)) ** 2).sum(axis=1) <= KERNEL**2]
    site, role = where(work, near, (x, y))
    return (
        Finding(
            "HW604",
            Severity.WARNS,
            f"{most / AREA:.1f} needle holes per square millimetre may cut the cloth: {most} lie within {KERNEL:g} mm of one place",
            looser(role),
            site,
        ),
    )
