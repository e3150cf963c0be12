"""Where words and arrows fit inside a piece."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Degrees, Mm, Point

GRID_LINES = 25
"""Places tried along each side of a piece's box."""


def fit_box(room: BaseGeometry, width: Mm, height: Mm) -> Point | None:
    """Return the middle of an upright rectangle inside ``room``, as near to its middle as can be, or None."""
    xs, ys = _grid(room)
    boxes = shapely.box(xs - width / 2, ys - height / 2, xs + width / 2, ys + height / 2)
    return _nearest(room, boxes, xs, ys)


def fit_arrow(room: BaseGeometry, angle: Degrees, lengths: Sequence[Mm]) -> LineString | None:
    """Return the longest line of ``lengths`` at ``angle`` that lies inside ``room``, or None."""
    xs, ys = _grid(room)
    c, s = math.cos(math.radians(angle)) / 2, math.sin(math.radians(angle)) / 2
    for length in lengths:
        ends = np.stack([xs - length * c, ys - length * s, xs + length * c, ys + length * s], axis=-1)
        lines = shapely.linestrings(ends.reshape(-1, 2, 2))
        middle = _nearest(room, lines, xs, ys)
        if middle is not None:
            x, y = middle
            return LineString([(x - length * c, y - length * s), (x + length * c, y + length * s)])
    return None


def middle_of(area: Polygon) -> Point:
    """Return a place well inside ``area``: the middle of a largest circle, to about half a millimetre."""
    circle = shapely.maximum_inscribed_circle(area, tolerance=0.5)
    x, y = circle.coords[0]
    return float(x), float(y)


def _grid(room: BaseGeometry) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    if room.is_empty:
        return np.empty(0), np.empty(0)
    left, low, right, high = room.bounds
    xs, ys = np.meshgrid(np.linspace(left, right, GRID_LINES), np.linspace(low, high, GRID_LINES))
    return xs.ravel(), ys.ravel()


def _nearest(room: BaseGeometry, shapes: Any, xs: NDArray[np.float64], ys: NDArray[np.float64]) -> Point | None:
    if len(xs) == 0:
        return None
    shapely.prepare(room)
    inside = shapely.contains(room, shapes)
    if not inside.any():
        return None
    middle = room.centroid
    far = np.where(inside, (xs - middle.x) ** 2 + (ys - middle.y) ** 2, np.inf)
    best = int(np.argmin(np.round(far, 6)))
    return float(xs[best]), float(ys[best])
