"""A stitch file as it was read: the same neutral record for every kind."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hoopwright.core.types import Mm, Point, Points

FARTHEST: Final[Mm] = 1000.0
"""No hoop reaches farther from its middle, in mm; stitches beyond are absurd."""


@dataclass(frozen=True, slots=True, eq=False)
class FileBlock:
    """What is sewn between two halts.

    ``points`` are the needle positions (mm, y up), ``starts`` the numbers of those that the machine reaches without
    sewing, the first of the block always among them. ``colour`` is "#rrggbb" and ``number`` the entry of the kind's
    fixed list or the needle, None where the file does not say. ``waits_at`` is where the needle stands during the halt
    before the block, None for the first one.
    """

    points: Points
    starts: tuple[int, ...]
    colour: str | None
    number: int | None
    waits_at: Point | None

    @property
    def runs(self) -> tuple[Points, ...]:
        """The needle positions, parted where the machine moves without sewing."""
        return tuple(np.split(self.points, self.starts[1:]))

    @property
    def stitch_lengths(self) -> NDArray[np.float64]:
        """The length of every sewn stitch in mm; travels are left out."""
        lengths = np.hypot(*np.diff(self.points, axis=0).T)
        return np.delete(lengths, [s - 1 for s in self.starts[1:]])


@dataclass(frozen=True, slots=True, eq=False)
class StitchFile:
    """A stitch file: ``kind`` is its ending, ``halts`` the number of times the machine stops for a hand or a thread
    between the first stitch and the last, ``trims`` how often it cuts the thread.
    """

    name: str
    kind: str
    blocks: tuple[FileBlock, ...]
    halts: int
    trims: int

    @property
    def points(self) -> Points:
        """All needle positions in order, shape (n, 2), in mm."""
        return np.concatenate([b.points for b in self.blocks])

    @property
    def count(self) -> int:
        """Number of needle positions."""
        return sum(len(b.points) for b in self.blocks)

    @property
    def extent(self) -> tuple[Mm, Mm, Mm, Mm]:
        """The bounds of the needle positions: left, bottom, right, top, in mm."""
        points = self.points
        (left, low), (right, high) = points.min(axis=0), points.max(axis=0)
        return float(left), float(low), float(right), float(high)

    @property
    def travels(self) -> NDArray[np.float64]:
        """The moves without sewing from needle hole to needle hole, shape (k, 2, 2), in mm."""
        points = self.points
        offsets = np.cumsum([0, *(len(b.points) for b in self.blocks)])
        starts = [int(o) + s for o, b in zip(offsets[:-1], self.blocks, strict=True) for s in b.starts]
        return np.stack([points[[s - 1 for s in starts[1:]]], points[starts[1:]]], axis=1)
