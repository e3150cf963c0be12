"""A stitch file of the maker's own, brought to where it is wanted.

Words: a *row* is what the file sews without a break; a *footprint* is the place stitches take, the small gaps between
them included.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon

from hoopwright.core.tolerances import MACHINE_STEP
from hoopwright.core.types import Degrees, Mm, Mm2, Point, Points, frozen_points
from hoopwright.needle.lines import locked
from hoopwright.needle.sampling import sampled, stitches_of
from hoopwright.stitchfiles.read import read_stitches
from hoopwright.stitchfiles.record import StitchFile

CELL: Final[Mm] = 1.0
"""Side of the squares from which a footprint is built."""

GAP: Final[Mm] = 3.0
"""Gaps between stitches up to twice this belong to the footprint: nothing is quilted between two letters of a word."""

BESIDE: Final[Mm] = 0.5
"""A footprint reaches so far past its squares: half a thread lies beside each needle hole, and its border is simplified."""

LEAST_HOLE: Final[Mm2] = 400.0
"""Holes of a footprint below this are closed: a ground in the bowl of a letter would only be in its way."""

LOCK_REACH: Final = 4
"""A lock is looked for among so many stitches at each end of a row."""

LOCK_LENGTH: Final[Mm] = 1.0
"""A stitch at the end of a row up to this long locks it (locks of 0.3 to 0.8 mm are common practice)."""


@dataclass(frozen=True, slots=True, eq=False)
class PlacedBlock:
    """One block of a file where it will be sewn: rows of needle positions with their locks (also as plain numbers, the
    ``needles``), colour if the file tells it.
    """

    rows: tuple[Points, ...]
    needles: tuple[tuple[Point, ...], ...]
    colour: str | None
    footprint: Polygon | MultiPolygon


@dataclass(frozen=True, slots=True, eq=False)
class PlacedFile:
    """A file where it will be sewn. ``lone`` counts needle positions left out because nothing is sewn to or from them."""

    blocks: tuple[PlacedBlock, ...]
    lone: int


@lru_cache(maxsize=8)
def opened(data: bytes, name: str) -> StitchFile:
    """Return what a stitch file holds; kept, because it stays the same while a panel is drawn.

    Raises StitchFileError when it cannot be read.
    """
    return read_stitches(data, name)


@lru_cache(maxsize=16)
def placed_file(data: bytes, name: str, at: Point, turn: Degrees, mirror: bool, scale: float, lock: Mm) -> PlacedFile:
    """Return a file with its middle ``at`` (hoop, mm): first scaled, then mirrored left for right, then turned.

    Rows that bring no lock of their own are locked with stitches of ``lock`` mm. Raises StitchFileError.
    """
    file = opened(data, name)
    left, low, right, high = file.extent
    middle = np.array([(left + right) / 2.0, (low + high) / 2.0])
    cosine, sine = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    matrix = np.array([[cosine, -sine], [sine, cosine]]) @ np.diag([-scale if mirror else scale, scale])
    blocks, lone = [], 0
    for block in file.blocks:
        rows = [row for row in block.runs if _sewn(row)]
        lone += sum(len(row) for row in block.runs) - sum(len(row) for row in rows)
        if rows:
            moved = tuple(_locked(frozen_points((row - middle) @ matrix.T + at), lock) for row in rows)
            needles = tuple(tuple((x, y) for x, y in row.tolist()) for row in moved)
            blocks.append(PlacedBlock(moved, needles, block.colour, footprint(moved)))
    return PlacedFile(tuple(blocks), lone)


def _sewn(row: Points) -> bool:
    """Whether a row holds a stitch: two different needle positions."""
    return bool(np.any(row != row[0]))


def _locked(row: Points, lock: Mm) -> Points:
    """Return a row with locks at both ends, its own where it has them."""
    steps = np.hypot(*np.diff(row, axis=0).T)
    ends = steps[:LOCK_REACH], steps[-LOCK_REACH:]
    if all(np.any((end > 0.0) & (end <= LOCK_LENGTH)) for end in ends):
        return row
    moving = np.concatenate([[True], steps > 0.0])
    return locked(row[moving], lock)


def footprint(rows: Sequence[Points]) -> Polygon | MultiPolygon:
    """Return the place that rows of stitches take, its small gaps and holes filled."""
    places, _ = sampled(*stitches_of(rows), CELL / 2.0)
    cells = np.unique(np.floor(places / CELL).astype(np.int64), axis=0)
    strips = np.split(cells, np.flatnonzero(np.any(np.diff(cells, axis=0) != (0, 1), axis=1)) + 1)
    ends = np.array([(s[0, 0], s[0, 1], s[-1, 0] + 1, s[-1, 1] + 1) for s in strips]) * CELL
    whole = shapely.union_all(shapely.box(*ends.T))
    closed = shapely.buffer(shapely.buffer(whole, GAP + BESIDE, quad_segs=4), -GAP, quad_segs=4)
    parts = [_without_holes(p) for p in shapely.get_parts(shapely.simplify(closed, MACHINE_STEP)) if p.area > 0.0]
    return parts[0] if len(parts) == 1 else MultiPolygon(parts)


def _without_holes(part: Polygon) -> Polygon:
    return Polygon(part.exterior, [hole for hole in part.interiors if Polygon(hole).area >= LEAST_HOLE])
