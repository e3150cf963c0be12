"""Columns of changing width: satin zigzags along a line."""

from __future__ import annotations

import numpy as np
from shapely.geometry import LineString

from hoopwright.core.types import Mm, Points, frozen_points
from hoopwright.needle.accents.shapes import SPACING

EASING = 0.5
"""How far the spacing is measured on the middle line of a bend instead of its outer side, 0 to 1 (by eye)."""

CROWDED = 0.55
"""Stitches of one side nearer than this part of the spacing are crowded (by eye)."""

SHORTER = 0.35
"""A stitch that stops short leaves out this part of the column's width; a third is common practice."""

FINE: Mm = 0.1
"""Distance of the places at which a column's two sides are reckoned, mm."""

REACH: Mm = 0.5
"""The direction of the line at a place is that between the places so far before and past it, mm: bends are eased."""


def column(line: LineString, first: Mm, last: Mm, spacing: Mm = SPACING) -> Points:
    """Return the needle positions of a zigzag along ``line``, shape (n, 2), from side to side.

    It is ``first`` mm wide at the beginning and ``last`` mm at the end. Neighbouring stitches of the outer side in a bend lie
    ``spacing`` mm apart or, by EASING, a little more; where they crowd on the inner side, every other one stops short of it.
    """
    left, right = sides(line, first, last)
    outer, inner = np.maximum(_steps(left), _steps(right)), np.minimum(_steps(left), _steps(right))
    steps = (1.0 - EASING) * outer + EASING * (outer + inner) / 2.0
    travelled = np.concatenate([[0.0], np.cumsum(steps)])
    count = max(4, int(np.ceil(travelled[-1] / (spacing / 2.0))))
    stops = np.linspace(0.0, travelled[-1], count + 1)
    rows = [np.column_stack([np.interp(stops, travelled, s[:, k]) for k in (0, 1)]) for s in (left, right)]
    for side, other, start in ((rows[0], rows[1], 0), (rows[1], rows[0], 1)):
        _shorten(side, other, start, spacing)
    rows[0][1::2] = rows[1][1::2]
    return frozen_points(rows[0])


def _shorten(side: Points, other: Points, start: int, spacing: Mm) -> None:
    """Draw every other needle position of a crowded side back towards the other side, in place.

    The positions of a side are every second one from ``start``.
    """
    places = np.arange(start, len(side), 2)
    if len(places) < 3:
        return
    gaps = np.hypot(*np.diff(side[places], axis=0).T)
    near = np.r_[gaps, gaps[-1]] + np.r_[gaps[0], gaps] < 2.0 * CROWDED * spacing
    drawn = places[1::2][near[1::2]]
    side[drawn] += SHORTER * (other[drawn] - side[drawn])


def sides(line: LineString, first: Mm, last: Mm) -> tuple[Points, Points]:
    """Return the two sides of a column, shape (n, 2) each."""
    count = max(8, int(np.ceil(line.length / FINE)))
    stops = np.linspace(0.0, line.length, count + 1)
    middle = _at(line, stops)
    ways = _ways(line, stops)
    normals = np.column_stack([-ways[:, 1], ways[:, 0]])
    half = np.linspace(first, last, count + 1)[:, None] / 2.0
    return middle + normals * half, middle - normals * half


def _ways(line: LineString, stops: Points) -> Points:
    """Return the eased direction of the line at each stop, unit length."""
    before, past = stops - REACH, stops + REACH
    if line.is_closed:
        steps = _at(line, past % line.length) - _at(line, before % line.length)
    else:
        steps = _at(line, np.minimum(past, line.length)) - _at(line, np.maximum(before, 0.0))
    return np.asarray(steps / np.hypot(steps[:, 0], steps[:, 1])[:, None], dtype=np.float64)


def _at(line: LineString, stops: Points) -> Points:
    """Return the places ``stops`` mm along the line."""
    coords = np.asarray(line.coords, dtype=np.float64)[:, :2]
    travelled = np.concatenate([[0.0], np.cumsum(_steps(coords))])
    return np.column_stack([np.interp(stops, travelled, coords[:, 0]), np.interp(stops, travelled, coords[:, 1])])


def _steps(points: Points) -> Points:
    return np.asarray(np.hypot(*np.diff(points, axis=0).T), dtype=np.float64)
