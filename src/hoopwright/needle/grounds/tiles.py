"""Patterns that repeat: rows of one repeat after the other, and copies of one figure on a lattice."""

from __future__ import annotations

import math
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from hoopwright.core.types import Mm, Points
from hoopwright.needle.grounds.frame import Frame, middles

Places: TypeAlias = NDArray[np.float64] | list[Mm]
"""Places along one axis of a frame, mm."""


def rows_of(frame: Frame, unit: Points, repeat: Mm, heights: Places, shifts: Places) -> NDArray[np.object_]:
    """Return rows right across a frame, each made of one repeat again and again.

    ``unit`` runs from u = 0 to u = ``repeat`` about v = 0; its last point is the first of the next repeat. Row i lies at
    ``heights[i]``, one of its repeats begins at ``shifts[i]``.
    """
    count = 2 * math.ceil(frame.half_length / repeat + 1.0)
    starts = (np.arange(count) - count // 2) * repeat
    one = (unit[None, :-1] + np.stack([starts, np.zeros(count)], axis=-1)[:, None]).reshape(-1, 2)
    row = np.vstack([one, unit[-1] + (starts[-1], 0.0)])
    return frame.lines(row[None] + np.stack([shifts, heights], axis=-1)[:, None])


def copies_of(frame: Frame, figure: Points, places: Points) -> NDArray[np.object_]:
    """Return one figure at every place, given in the frame."""
    return frame.lines(figure[None] + places[:, None])


def lattice(frame: Frame, length: Mm, height: Mm, past: Mm, shift: float = 0.0) -> Points:
    """Return places in rows ``height`` apart, ``length`` apart in the row, every second row moved by ``shift`` lengths.

    They reach ``past`` beyond the frame and lie symmetric about its middle.
    """
    rows = middles(frame.half_height, height, past)
    places = middles(frame.half_length, length, past + length)
    moved = [
        np.stack([places + (k % 2) * shift * length, np.full(len(places), v)], axis=-1) for k, v in enumerate(rows)
    ]
    return np.concatenate(moved)


def arc_points(radius: Mm, start: float, end: float, steps: int) -> Points:
    """Return points of an arc about the origin between two angles in radians."""
    turn = np.linspace(start, end, steps + 1)
    return radius * np.stack([np.cos(turn), np.sin(turn)], axis=-1)


def smooth_loop(axis: Points, half_width: Mm, steps: int, blunt: float = 0.8) -> Points:
    """Return a leaf or petal as a closed line from the foot of its axis to the tip and back.

    ``axis`` holds the three control points of its bent middle line; the leaf is widest nearer the foot the smaller
    ``blunt`` is.
    """
    t = np.linspace(0.0, 1.0, steps + 1)[:, None]
    middle = (1 - t) ** 2 * axis[0] + 2 * t * (1 - t) * axis[1] + t**2 * axis[2]
    along = 2 * (1 - t) * (axis[1] - axis[0]) + 2 * t * (axis[2] - axis[1])
    across = np.stack([-along[:, 1], along[:, 0]], axis=-1) / np.hypot(*along.T)[:, None]
    width = half_width * np.sin(math.pi * t**blunt)
    return np.vstack([middle + across * width, (middle - across * width)[-2::-1]])
