"""Where rows of stitches end near each other, they are drawn back until they stand clear.

Several seams that end at one point would pile up their ends there. Each row is shortened, a little at a time and all alike,
until its end is clear of the ends of the others.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import Final

import shapely.ops
from shapely.geometry import LineString

from hoopwright.core.types import Mm, Point

STEP: Final[Mm] = 0.25
"""Rows are shortened by this at a time."""

MOST: Final = 0.35
"""No row loses more than this part of its length at one end."""


@dataclass(frozen=True, slots=True)
class _End:
    """An end of a row: its path's number, its place, the direction back into the row, and the most it may lose."""

    number: int
    place: Point
    back: Point
    most: Mm

    def at(self, back: Mm) -> Point:
        """Return the place of the end when it is drawn back so far."""
        reach = min(back, self.most)
        return self.place[0] + self.back[0] * reach, self.place[1] + self.back[1] * reach


def drawn_back(paths: Mapping[int, LineString], clear: Mapping[int, Mm]) -> dict[int, LineString]:
    """Return straight paths shortened where their ends lie nearer to each other than the mean of their ``clear`` distances."""
    ends = [end for n, path in paths.items() for end in _ends(n, path)]
    back = [0.0] * len(ends)
    for i, j in combinations(range(len(ends)), 2):
        one, other = ends[i], ends[j]
        if one.number == other.number:
            continue
        gap = (clear[one.number] + clear[other.number]) / 2.0
        if math.dist(one.place, other.place) < gap:
            need = _needed(one, other, gap)
            back[i], back[j] = max(back[i], min(need, one.most)), max(back[j], min(need, other.most))
    return {n: _shortened(path, back[2 * k], back[2 * k + 1]) for k, (n, path) in enumerate(paths.items())}


def _ends(number: int, path: LineString) -> tuple[_End, _End]:
    (x0, y0), *_, (x1, y1) = ((x, y) for x, y, *_ in path.coords)
    length = path.length
    ex, ey = (x1 - x0) / length, (y1 - y0) / length
    return _End(number, (x0, y0), (ex, ey), MOST * length), _End(number, (x1, y1), (-ex, -ey), MOST * length)


def _needed(one: _End, other: _End, gap: Mm) -> Mm:
    """Return how far both rows must be drawn back for their ends to stand ``gap`` apart."""
    most = max(one.most, other.most)
    back = 0.0
    while back < most and math.dist(one.at(back), other.at(back)) < gap:
        back += STEP
    return back


def _shortened(path: LineString, first: Mm, last: Mm) -> LineString:
    if first == 0.0 and last == 0.0:
        return path
    part = shapely.ops.substring(path, first, path.length - last)
    assert isinstance(part, LineString)
    return part
