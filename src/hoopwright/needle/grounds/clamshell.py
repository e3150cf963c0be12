"""Grounds of arcs of circles: clamshell and orange peel."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Mm, Points
from hoopwright.needle.grounds.along_edge import joined_along_edge
from hoopwright.needle.grounds.frame import Frame, clipped, frame_of, middles, steps_for
from hoopwright.needle.grounds.shapes import Ground, GroundWish
from hoopwright.needle.grounds.tiles import arc_points, rows_of


def clamshell(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Rows of half circles; the ends of each row stand on the tops of the one below."""
    return joined_along_edge(clipped(clamshell_rows(part, wish), part, wish.spacing / 2.0), part)


def clamshell_rows(part: Polygon, wish: GroundWish) -> NDArray[np.object_]:
    """Return the scalloped rows of a clamshell right across a region, shells ``spacing`` wide."""
    frame = frame_of(part, wish.angle)
    radius = wish.spacing / 2.0
    arc = arc_points(radius, math.pi, 0.0, 2 * steps_for(math.pi * radius / 2.0, radius))
    arc += (radius, 0.0)
    heights = _heights(frame, radius)
    return rows_of(frame, arc, wish.spacing, heights, [(k % 2 - 1) * radius for k in range(len(heights))])


def clamshell_tops(part: Polygon, wish: GroundWish) -> Points:
    """Return the tops of all shells in the frame of the region."""
    frame = frame_of(part, wish.angle)
    radius = wish.spacing / 2.0
    count = math.ceil(frame.half_length / wish.spacing) + 1
    u = np.arange(-count, count + 1) * wish.spacing
    rows = [
        np.stack([u + (k % 2) * radius, np.full(len(u), v)], axis=-1)
        for k, v in enumerate(_heights(frame, radius) + radius)
    ]
    return np.concatenate(rows)


def _heights(frame: Frame, radius: Mm) -> NDArray[np.float64]:
    return middles(frame.half_height, radius, past=radius) - radius / 2.0


def orange_peel(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Circles through the corners of squares, drawn as waving lines along both sides of every row and column."""
    lines = []
    for turn in (0.0, 90.0):
        frame = frame_of(part, wish.angle + turn)
        heights = middles(frame.half_height, wish.spacing, past=wish.spacing)
        phase = float(middles(frame.half_length, wish.spacing, past=wish.spacing)[0] % wish.spacing)
        unit = _peel(wish.spacing)
        for side in (1.0, -1.0):
            lines.append(rows_of(frame, unit * (1.0, side), 2.0 * wish.spacing, heights, [phase] * len(heights)))
    return joined_along_edge(clipped(np.concatenate(lines), part, wish.spacing / 2.0), part)


def _peel(side: Mm) -> Points:
    """Return two quarter arcs over two squares, one bulging up, one down."""
    radius = side / math.sqrt(2.0)
    steps = steps_for(math.pi * radius / 2.0, radius)
    up = arc_points(radius, 0.75 * math.pi, 0.25 * math.pi, steps)
    up += (side / 2.0, -side / 2.0)
    up[[0, -1], 1] = 0.0
    return np.vstack([up, (up * (1.0, -1.0) + (side, 0.0))[1:]])


GROUNDS = (
    Ground(
        "clamshell",
        "Clamshell",
        "Rows of half circles, each standing on the tops of the row below.",
        12.0,
        5.0,
        0.0,
        clamshell,
        network=True,
    ),
    Ground(
        "orange-peel",
        "Orange peel",
        "Overlapping circles that make four-petalled flowers.",
        12.0,
        6.0,
        0.0,
        orange_peel,
        network=True,
    ),
)
