"""Columns, recognised in a row of needle positions: where the thread goes to and fro and moves on a little each time."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.ndimage import uniform_filter1d
from shapely.geometry import LineString, MultiPoint, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Mm, Points

TURNED: Final = -0.6
"""Two stitches go to and fro when the cosine of their angle is less (they turn by more than 127 degrees)."""

LEAST_ADVANCE: Final[Mm] = 0.08
MOST_ADVANCE: Final[Mm] = 1.8
"""From one stitch of a side to the next a column moves on by so much: less is a stitch sewn twice, more a plain zigzag."""

LEAST_STITCHES: Final = 10
"""Fewer stitches to and fro make no column: a knotted dot has seven, and one that leads to it and one away."""

LOOK: Final = 6
"""The way a column goes is seen over so many stitches."""

SMOOTHED: Final = 4
"""Its middle is the mean of so many, for stitches that stop short draw it aside."""

BENT: Final = 0.45
"""Where the cosine of the bend between two such stretches is less (more than 63 degrees), one column ends and another begins."""

WINDOW: Final = 6
"""A column's place is pieced together from hulls of so many needle positions."""


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """A column: its needle positions in order, shape (n, 2), its middle line, and its greatest width, mm."""

    points: Points
    middle: LineString
    width: Mm

    def place(self) -> BaseGeometry:
        """Return the place it covers."""
        rows = [self.points[k : k + WINDOW] for k in range(0, max(1, len(self.points) - 2), WINDOW - 3)]
        hulls = shapely.convex_hull(np.array([MultiPoint(row) for row in rows if len(row) > 2], dtype=object))
        return shapely.union_all(hulls)


def columns_seen(row: Points, *, parted: bool = True) -> tuple[Seen, ...]:
    """Return the columns in a row of needle positions, in order; ``parted`` at sharp bends, else each as it was sewn on."""
    return tuple(_seen(row[a:b]) for a, b in _spans(row, parted))


def _spans(row: Points, parted: bool) -> list[tuple[int, int]]:
    """Return first and one past the last needle position of each column."""
    if len(row) < LEAST_STITCHES:
        return []
    steps = np.diff(row, axis=0)
    on = np.hypot(*(row[2:] - row[:-2]).T)
    nearby = np.maximum(on, np.maximum(np.r_[on[1:], 0.0], np.r_[0.0, on[:-1]]))
    turned = (_cosines(steps[1:], steps[:-1]) < TURNED) & (nearby > LEAST_ADVANCE) & (on < MOST_ADVANCE)
    edges = np.flatnonzero(np.diff(np.r_[False, turned, False].astype(np.int8)))
    spans = [(int(a), int(b) + 2) for a, b in zip(edges[::2], edges[1::2], strict=True) if b - a >= LEAST_STITCHES]
    return [part for span in spans for part in _parted(row, *span)] if parted else spans


def _parted(row: Points, start: int, end: int) -> list[tuple[int, int]]:
    """Return a column in parts between its sharp bends; parts too short for a column stay with the one before."""
    marks = [start]
    for bend in np.flatnonzero(_bent(row[start:end])).tolist():
        if bend + start - marks[-1] >= LEAST_STITCHES and end - bend - start >= LEAST_STITCHES:
            marks.append(start + bend)
    return [(a, b + 1 if b < end else end) for a, b in pairwise([*marks, end])]


def _cosines(one: Points, other: Points) -> NDArray[np.float64]:
    """Return the cosines of the angles between two rows of ways; 1 where one of them has no length."""
    sizes = np.hypot(one[:, 0], one[:, 1]) * np.hypot(other[:, 0], other[:, 1])
    cosines = np.divide((one * other).sum(axis=1), sizes, out=np.ones_like(sizes), where=sizes > 0.0)
    return np.asarray(cosines, dtype=np.float64)


def _bent(row: Points) -> NDArray[np.bool_]:
    """Return for each needle position whether the way of the zigzag bends sharply just there."""
    middles = uniform_filter1d((row[1:] + row[:-1]) / 2.0, SMOOTHED, axis=0, mode="nearest")
    bent = np.zeros(len(row), dtype=bool)
    if len(middles) <= 2 * LOOK:
        return bent
    before = middles[LOOK:-LOOK] - middles[: -2 * LOOK]
    past = middles[2 * LOOK :] - middles[LOOK:-LOOK]
    cosines = _cosines(before, past)
    least = np.array([cosines[max(0, k - 2) : k + 3].min() for k in range(len(cosines))])
    bent[LOOK : LOOK + len(cosines)] = (cosines < BENT) & (cosines <= least)
    return bent


def _seen(points: Points) -> Seen:
    steps = np.diff(points, axis=0)
    return Seen(points, LineString((points[1:] + points[:-1]) / 2.0), float(np.hypot(steps[:, 0], steps[:, 1]).max()))


def across(middle: LineString, at: Mm, reach: Mm) -> LineString:
    """Return the straight line square to ``middle`` at a distance from its beginning, ``reach`` mm to each side."""
    a, b = middle.interpolate(max(0.0, at - 0.5)), middle.interpolate(min(middle.length, at + 0.5))
    x, y = (a.x + b.x) / 2.0, (a.y + b.y) / 2.0
    size = math.hypot(b.x - a.x, b.y - a.y)
    u, v = -(b.y - a.y) / size * reach, (b.x - a.x) / size * reach
    return LineString([(x - u, y - v), (x + u, y + v)])


def closed_round(places: list[BaseGeometry]) -> BaseGeometry:
    """Return what the columns close round: their places without the holes between them."""
    whole = shapely.union_all(places)
    return shapely.union_all([Polygon(p.exterior) for p in shapely.get_parts(whole) if isinstance(p, Polygon)])
