"""Does thread pile up so high that it makes a hard lump, or breaks?"""

from __future__ import annotations

from typing import Final

import numpy as np
from scipy.ndimage import label

from hoopwright.checks.sites import looser, where
from hoopwright.core.findings import Finding, Severity
from hoopwright.core.types import Mm, Mm2
from hoopwright.items.plan import Plan
from hoopwright.needle.maps import SQUARE, thread_map
from hoopwright.needle.needlework import needlework
from hoopwright.needle.shapes import Hooping

LAID: Final[Mm] = 0.4
"""Width that a thread of 40 weight covers when it lies on cloth (docs/sources.md)."""
MOST: Final = 14.0
"""Millimetres of needle thread on a square millimetre above which a spot becomes a lump. A satin column at the usual 0.4 mm
lays 5, with underlay 6 to 7; sewn twice, as where a closed column runs over its own start, 13. Three columns: 15 (calculated;
that the third is too much is common practice, no source)."""
WIDE: Final = 9.5
"""What may not lie over more than SPOT: two columns one over the other, 10 and more."""
SPOT: Final[Mm2] = 25.0
"""As much as columns need to cross or to run over their own start."""


def thread_not_piled_up(plan: Plan) -> tuple[Finding, ...]:
    """HW608: more than MOST mm of thread on a square millimetre somewhere, or more than WIDE over more than SPOT.

    One finding a hooping, at the worst place.
    """
    return tuple(f for h in plan.hoopings for f in _of_hooping(h))


def _of_hooping(hooping: Hooping) -> tuple[Finding, ...]:
    map_ = thread_map(hooping)
    heavy = map_.thread > WIDE
    if not heavy.any():
        return ()
    spots, _ = label(heavy)
    areas = np.bincount(spots.ravel()) * SQUARE**2
    areas[0] = 0.0
    spread = areas.max() > SPOT
    at = np.where(spots == int(np.argmax(areas)), map_.thread, 0.0) if spread else map_.thread
    i, j = np.unravel_index(int(np.argmax(at)), at.shape)
    most = float(map_.thread[i, j])
    if most <= MOST and not spread:
        return ()
    x, y = map_.place(int(i), int(j))
    work = needlework(hooping)
    near = work.first[np.abs(work.at[work.first] - (x, y)).max(axis=1) <= 2.0 * SQUARE]
    site, role = where(work, near if len(near) else work.first, (x, y))
    reach = f", over {areas.max():.0f} square millimetres" if spread else ""
    return (
        Finding(
            "HW608",
            Severity.WARNS,
            f"Thread lies about {most * LAID:.0f} layers thick{reach}: {most:.0f} mm of it on each square millimetre make a hard "
            "lump on which needle and thread break",
            looser(role),
            site,
        ),
    )
