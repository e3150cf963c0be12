"""Do needle holes lie so close that they cut the cloth?"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hoopwright.checks.needlework import Needlework, needlework
from hoopwright.checks.sites import looser, where
from hoopwright.core.findings import Finding, Severity
from hoopwright.core.types import Mm, Point, Points
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping

KERNEL: Final[Mm] = 1.0
"""Radius in mm of the disc over which holes are counted: a little more than the blade of a needle to each side."""
CELL: Final[Mm] = 0.5
"""Distance in mm of the places at which holes are counted."""
MOST: Final = 13
"""Different holes in the disc above which cloth is cut. Four holes a square millimetre, evenly spread, put at most 13 into
it; 3 to 4 a square millimetre are the limit from memory of the trade."""
AREA: Final = math.pi * KERNEL**2


@dataclass(frozen=True, slots=True, eq=False)
class HoleMap:
    """How many different needle holes lie within KERNEL of each place of a grid, by rows of x, then y.

    ``counts[i, j]`` belongs to the place ``origin`` + CELL * (i, j), mm; ``cell`` is CELL.
    """

    counts: NDArray[np.int64]
    origin: Point
    cell: Mm

    @property
    def density(self) -> NDArray[np.float64]:
        """Holes a square millimetre at each place, shape of ``counts``."""
        return np.asarray(self.counts / AREA, dtype=np.float64)

    def worst(self) -> tuple[int, Point]:
        """Return the largest count and its place, the lowest and leftmost of several; 0 at the origin of an empty map."""
        if not self.counts.size:
            return 0, self.origin
        i, j = np.unravel_index(int(np.argmax(self.counts)), self.counts.shape)
        return int(self.counts[i, j]), (self.origin[0] + self.cell * int(i), self.origin[1] + self.cell * int(j))


def hole_map(hooping: Hooping) -> HoleMap:
    """Return the map of the needle holes of a hooping."""
    work = needlework(hooping)
    return _map_of(work.at[work.holes])


def _map_of(holes: Points) -> HoleMap:
    if not len(holes):
        return HoleMap(np.zeros((0, 0), dtype=np.int64), (0.0, 0.0), CELL)
    reach = math.ceil(KERNEL / CELL)
    low = np.floor(holes.min(axis=0) / CELL).astype(np.int64) - reach
    size = np.floor(holes.max(axis=0) / CELL).astype(np.int64) + reach + 2 - low
    nearest = np.floor(holes / CELL).astype(np.int64)
    steps = np.arange(-reach, reach + 2)
    around = np.stack(np.meshgrid(steps, steps, indexing="ij"), axis=-1).reshape(1, -1, 2)
    knots = nearest[:, None, :] + around
    ways = knots * CELL - holes[:, None, :]
    near = knots[ways[..., 0] ** 2 + ways[..., 1] ** 2 <= KERNEL**2] - low
    counts = np.bincount(near[:, 0] * size[1] + near[:, 1], minlength=int(size.prod()))
    return HoleMap(counts.reshape(size), (float(low[0] * CELL), float(low[1] * CELL)), CELL)


def holes_not_too_dense(plan: Plan) -> tuple[Finding, ...]:
    """HW604: more than MOST different needle holes in a disc of KERNEL mm somewhere; one finding a hooping, at the worst place."""
    return tuple(f for h in plan.hoopings for f in _of_hooping(needlework(h)))


def _of_hooping(work: Needlework) -> tuple[Finding, ...]:
    holes = work.at[work.holes]
    most, (x, y) = _map_of(holes).worst()
    if most <= MOST:
        return ()
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
