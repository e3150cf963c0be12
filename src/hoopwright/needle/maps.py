"""Maps of a hooping: where needle holes lie close, and where thread lies thick."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hoopwright.core.types import Mm, Point, Points
from hoopwright.needle.needlework import Needlework, needlework
from hoopwright.needle.sampling import sampled
from hoopwright.needle.shapes import Hooping

KERNEL: Final[Mm] = 1.0
"""Radius in mm of the disc over which holes are counted: a little more than the blade of a needle to each side."""
AREA: Final = math.pi * KERNEL**2
"""Its area, mm2."""
CELL: Final[Mm] = 0.5
"""Distance in mm of the places at which holes are counted."""
SQUARE: Final[Mm] = 1.0
"""Side of the squares in which thread is measured; its map gives the mean of two by two of them."""
PIECE: Final[Mm] = 0.5
"""Stitches are cut into pieces of at most this, and each piece is counted where its middle lies."""


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

    def place(self, i: int, j: int) -> Point:
        """Return the place of an entry, mm."""
        return self.origin[0] + self.cell * i, self.origin[1] + self.cell * j

    def worst(self) -> tuple[int, Point]:
        """Return the largest count and its place, the lowest and leftmost of several; 0 at the origin of an empty map."""
        if not self.counts.size:
            return 0, self.origin
        i, j = np.unravel_index(int(np.argmax(self.counts)), self.counts.shape)
        return int(self.counts[i, j]), self.place(int(i), int(j))


def hole_map(hooping: Hooping) -> HoleMap:
    """Return the map of the needle holes that a hooping makes in cloth."""
    work = needlework(hooping)
    return map_of_holes(work.at[work.in_cloth])


def map_of_holes(holes: Points) -> HoleMap:
    """Return the map of different holes, shape (n, 2), mm."""
    if not len(holes):
        return HoleMap(np.zeros((0, 0), dtype=np.int64), (0.0, 0.0), CELL)
    reach = math.ceil(KERNEL / CELL)
    low = np.floor(holes.min(axis=0) / CELL).astype(np.int64) - reach
    size = np.floor(holes.max(axis=0) / CELL).astype(np.int64) + reach + 2 - low
    nearest = np.floor(holes / CELL).astype(np.int64)
    knots = nearest[:, :, None] + np.arange(-reach, reach + 1)
    ways = (knots * CELL - holes[:, :, None]) ** 2
    which, i, j = np.nonzero(ways[:, 0, :, None] + ways[:, 1, None, :] <= KERNEL**2)
    flat = (knots[which, 0, i] - low[0]) * size[1] + knots[which, 1, j] - low[1]
    counts = np.bincount(flat, minlength=int(size.prod()))
    return HoleMap(counts.reshape(size), (float(low[0] * CELL), float(low[1] * CELL)), CELL)


@dataclass(frozen=True, slots=True, eq=False)
class ThreadMap:
    """Needle thread on each place of a grid, mm a square millimetre, by rows of x, then y.

    ``thread[i, j]`` is the mean over the square of 2 SQUARE by 2 SQUARE round ``origin`` + SQUARE * (i, j); ``cell`` is SQUARE.
    """

    thread: NDArray[np.float64]
    origin: Point
    cell: Mm

    def place(self, i: int, j: int) -> Point:
        """Return the place of an entry, mm."""
        return self.origin[0] + self.cell * i, self.origin[1] + self.cell * j


def thread_map(hooping: Hooping) -> ThreadMap:
    """Return the map of the needle thread of a hooping."""
    return _thread_on(needlework(hooping))


def _thread_on(work: Needlework) -> ThreadMap:
    if not len(work.first):
        return ThreadMap(np.zeros((0, 0)), (0.0, 0.0), SQUARE)
    places, lengths = sampled(work.at[work.first], work.at[work.first + 1], PIECE)
    cells = np.floor(places / SQUARE).astype(np.int64)
    low = cells.min(axis=0) - 1
    size = cells.max(axis=0) + 2 - low
    flat = (cells - low) @ np.array([size[1], 1])
    grid = np.bincount(flat, lengths, minlength=int(size.prod())).reshape(size) / SQUARE**2
    mean = (grid[1:, 1:] + grid[:-1, 1:] + grid[1:, :-1] + grid[:-1, :-1]) / 4.0
    return ThreadMap(mean, (float(low[0] + 1) * SQUARE, float(low[1] + 1) * SQUARE), SQUARE)
