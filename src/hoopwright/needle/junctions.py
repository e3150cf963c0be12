"""Where rows of stitches end near each other, they are drawn back until they stand clear.

Several seams that end at one point would pile up their ends there. Each row is shortened, a little at a time and all alike,
until its end is clear of the ends of the others.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import combinations
from typing import Final

import shapely.ops
from shapely.geometry import LineString

from hoopwright.core.types import Mm

STEP: Final[Mm] = 0.25
"""Rows are shortened by this at a time."""

MOST: Final = 0.35
"""No row loses more than this part of its length at one end."""


def drawn_back(paths: Mapping[int, LineString], clear: Mapping[int, Mm]) -> dict[int, LineString]:
    """Return straight paths shortened where their ends lie nearer to each other than the mean of their ``clear`` distances."""
    ends = [(n, end) for n in paths for end in (0, 1)]
    back = dict.fromkeys(ends, 0.0)
    for one, other in combinations(ends, 2):
        if one[0] == other[0]:
            continue
        gap = (clear[one[0]] + clear[other[0]]) / 2.0
        if math.dist(_at(paths, one, 0.0), _at(paths, other, 0.0)) < gap:
            need = _needed(paths, one, other, gap)
            for end in (one, other):
                back[end] = max(back[end], min(need, MOST * paths[end[0]].length))
    return {n: _shortened(path, back[n, 0], back[n, 1]) for n, path in paths.items()}


def _needed(paths: Mapping[int, LineString], one: tuple[int, int], other: tuple[int, int], gap: Mm) -> Mm:
    """Return how far both rows must be drawn back for their ends to stand ``gap`` apart."""
    most = MOST * max(paths[one[0]].length, paths[other[0]].length)
    back = 0.0
    while back < most and math.dist(_at(paths, one, back), _at(paths, other, back)) < gap:
        back += STEP
    return back


def _at(paths: Mapping[int, LineString], end: tuple[int, int], back: Mm) -> tuple[float, float]:
    (x0, y0), (x1, y1) = paths[end[0]].coords[0][:2], paths[end[0]].coords[-1][:2]
    if end[1]:
        x0, y0, x1, y1 = x1, y1, x0, y0
    t = min(back, MOST * paths[end[0]].length) / paths[end[0]].length
    return x0 + (x1 - x0) * t, y0 + (y1 - y0) * t


def _shortened(path: LineString, first: Mm, last: Mm) -> LineString:
    if first == 0.0 and last == 0.0:
        return path
    part = shapely.ops.substring(path, first, path.length - last)
    assert isinstance(part, LineString)
    return part
