"""Does thread pile up so high that it makes a hard lump, or breaks?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import label

from hoopwright.checks.needlework import Needlework, needlework
from hoopwright.checks.sites import looser, where
from hoopwright.core.findings import Finding, Severity
from hoopwright.core.types import Mm, Mm2, Point
from hoopwright.items.plan import Plan
from hoopwright.needle.sampling import sampled
from hoopwright.needle.shapes import Hooping

CELL: Final[Mm] = 1.0
"""Side of the squares in which thread is measured; the map gives the mean of two by two of them."""
PIECE: Final[Mm] = 0.5
"""Stitches are cut into pieces of at most this, and each piece is counted where its middle lies."""
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


@dataclass(frozen=True, slots=True, eq=False)
class ThreadMap:
    """Needle thread on each place of a grid, mm a square millimetre, by rows of x, then y.

    ``thread[i, j]`` is the mean over the square of 2 CELL by 2 CELL round ``origin`` + CELL * (i, j); ``cell`` is CELL.
    """

    thread: NDArray[np.float64]
    origin: Point
    cell: Mm

    def place(self, i: int, j: int) -> Point:
        """Return the place of an entry, mm."""
        return self.origin[0] + self.cell * i, self.origin[1] + self.cell * j


def thread_map(hooping: Hooping) -> ThreadMap:
    """Return the map of the needle thread of a hooping."""
    return _map_of(needlework(hooping))


def _map_of(work: Needlework) -> ThreadMap:
    if not len(work.first):
        return ThreadMap(np.zeros((0, 0)), (0.0, 0.0), CELL)
    places, lengths = sampled(work.at[work.first], work.at[work.first + 1], PIECE)
    cells = np.floor(places / CELL).astype(np.int64)
    low = cells.min(axis=0) - 1
    size = cells.max(axis=0) + 2 - low
    flat = (cells - low) @ np.array([size[1], 1])
    grid = np.bincount(flat, lengths, minlength=int(size.prod())).reshape(size) / CELL**2
    mean = (grid[1:, 1:] + grid[:-1, 1:] + grid[1:, :-1] + grid[:-1, :-1]) / 4.0
    return ThreadMap(mean, (float(low[0] + 1) * CELL, float(low[1] + 1) * CELL), CELL)


def thread_not_piled_up(plan: Plan) -> tuple[Finding, ...]:
    """HW608: more than MOST mm of thread on a square millimetre somewhere, or more than WIDE over more than SPOT.

    One finding a hooping, at the worst place.
    """
    return tuple(f for h in plan.hoopings for f in _of_hooping(needlework(h)))


def _of_hooping(work: Needlework) -> tuple[Finding, ...]:
    map_ = _map_of(work)
    heavy = map_.thread > WIDE
    if not heavy.any():
        return ()
    spots, _ = label(heavy)
    areas = np.bincount(spots.ravel()) * CELL**2
    areas[0] = 0.0
    spread = areas.max() > SPOT
    at = np.where(spots == int(np.argmax(areas)), map_.thread, 0.0) if spread else map_.thread
    i, j = np.unravel_index(int(np.argmax(at)), at.shape)
    most = float(map_.thread[i, j])
    if most <= MOST and not spread:
        return ()
    x, y = map_.place(int(i), int(j))
    near = work.first[np.abs(work.at[work.first] - (x, y)).max(axis=1) <= 2.0 * CELL]
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
