"""Spokes across a stroke: square to its middle line, cut off at the border of its area."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Points
from hoopwright.needle.columns.zigzag import Spokes
from hoopwright.needle.lettering.skeleton import Floats


def normals_of(points: Points, closed: bool) -> Points:
    """Return the direction to the left at every place of a line."""
    steps = np.roll(points, -1, axis=0) - np.roll(points, 1, axis=0) if closed else np.gradient(points, axis=0)
    left = np.column_stack([-steps[:, 1], steps[:, 0]])
    return np.asarray(left / np.maximum(np.hypot(left[:, 0], left[:, 1]), SAME_PLACE)[:, None], dtype=np.float64)


def across(points: Points, left: Floats, right: Floats, region: BaseGeometry, closed: bool = False) -> Spokes:
    """Return the spokes across ``region``: of each, the piece nearest to its place; without length where there is none."""
    normals = normals_of(points, closed)
    ends = np.stack([points + left[:, None] * normals, points - right[:, None] * normals], axis=1)
    cut = np.asarray(shapely.intersection(shapely.linestrings(ends), region))
    spokes = np.repeat(points[:, None, :], 2, axis=1)
    for k, piece in enumerate(cut):
        parts = [p for p in shapely.get_parts(piece) if p.geom_type == "LineString" and p.length > SAME_PLACE]
        if parts:
            at = shapely.points(points[k])
            best = min(parts, key=lambda p: (round(p.distance(at), 6), -p.length))
            row = shapely.get_coordinates(best)[[0, -1]]
            spokes[k] = row if float((row[0] - row[1]) @ normals[k]) > 0 else row[::-1]
    return _forward(spokes, points)


def _forward(spokes: Spokes, points: Points) -> Spokes:
    """Return spokes whose ends never step back along the stroke; where they would, the rail waits."""
    ways = np.gradient(points, axis=0)
    out = spokes.copy()
    for side in (0, 1):
        for k in range(1, len(out)):
            there = (
                np.hypot(*(spokes[k, 1] - spokes[k, 0])) > SAME_PLACE
                and np.hypot(*(spokes[k - 1, 1] - spokes[k - 1, 0])) > SAME_PLACE
            )
            if there and float((out[k, side] - out[k - 1, side]) @ ways[k]) < 0.0:
                out[k, side] = out[k - 1, side]
    return out
