"""How much room there is beside a seam: the reach of an arm at every place along it."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import Polygon

from hoopwright.core.tolerances import MERGE, SAME_PLACE
from hoopwright.core.types import Mm, Point, Points

CELL: Mm = 0.5
"""Reach is kept for pieces of the seam this long."""

SLOPE = 1.0
"""Room may grow by no more than this for each mm along the seam, so that arms grow gently."""


class Room:
    """The free reach on both sides of a seam that runs from (0, 0) to (length, 0)."""

    def __init__(self, length: Mm, left: Sequence[Mm], right: Sequence[Mm]) -> None:
        """Keep the reach to the left and right for each cell along the seam."""
        self.length = length
        self.left = list(left)
        self.right = list(right)

    def reach(self, along: Mm, side: float) -> Mm:
        """Return how far an arm may reach at ``along``, to the left for a positive ``side``."""
        row = self.left if side > 0 else self.right
        return row[min(max(int(along / CELL), 0), len(row) - 1)]

    def holds(self, place: Point) -> bool:
        """Whether a place lies inside the room and between the seam's ends."""
        along, across = place
        inside = -SAME_PLACE <= along <= self.length + SAME_PLACE
        return inside and abs(across) <= self.reach(along, across) + SAME_PLACE

    def narrowed(self, places: Sequence[Point], factor: float) -> Room:
        """Return the room with less reach around the given places, each on its own side."""
        left, right = np.array(self.left), np.array(self.right)
        for along, across in places:
            cell = min(max(int(along / CELL), 0), len(left) - 1)
            near = slice(max(0, cell - 1), cell + 2)
            (left if across >= 0.0 else right)[near] *= factor
        return Room(self.length, _gentle(left).tolist(), _gentle(right).tolist())

    def closed(self) -> Room:
        """Return the same seam without any room beside it."""
        return Room(self.length, [0.0] * len(self.left), [0.0] * len(self.right))

    def mirrored(self) -> Room:
        """Return the room with its two sides exchanged."""
        return Room(self.length, self.right, self.left)

    def less(self, thick: Mm) -> Room:
        """Return the room for the middle of a line that is ``thick`` to each side."""
        left, right = ([max(0.0, reach - thick) for reach in row] for row in (self.left, self.right))
        return Room(self.length, left, right)

    def tapered(self, over: Mm, least: float, half: Mm) -> Room:
        """Return the room with ends that grow from ``least`` of ``half`` to the whole of it over a length."""
        if over <= 0.0:
            return self
        middles = (np.arange(len(self.left)) + 0.5) * CELL
        ends = np.minimum(middles, self.length - middles).clip(0.0)
        grown = half * (least + (1.0 - least) * np.sin(np.minimum(1.0, ends / over) * math.pi / 2.0))
        return Room(self.length, *(np.minimum(row, grown).tolist() for row in (self.left, self.right)))


def free_room(length: Mm, half: Mm) -> Room:
    """Return the room of a seam beside which only the ornament's own width counts."""
    cells = max(1, math.ceil(length / CELL))
    return Room(length, [half] * cells, [half] * cells)


def room_inside(clip: Polygon, length: Mm, half: Mm) -> Room:
    """Return the room inside a polygon given along and across the seam."""
    cells = max(1, math.ceil(length / CELL))
    # The seam's ends lie on the edge of the clip: measured a little inside them, each side sees only its own edge.
    places = np.clip(np.linspace(0.0, cells * CELL, 2 * cells + 1), MERGE, length - MERGE)
    rings = [np.asarray(r.coords)[:, :2] for r in (clip.exterior, *clip.interiors)]
    starts, ends = np.concatenate([r[:-1] for r in rings]), np.concatenate([r[1:] for r in rings])
    left, right = _reach_at(starts, ends, places, half)
    for along, across in starts[(starts[:, 0] >= 0.0) & (starts[:, 0] < cells * CELL)]:
        row = left if across > 0 else right
        middle = 2 * int(along / CELL) + 1
        row[middle] = min(row[middle], abs(across))
    return Room(length, _gentle(_least(left)).tolist(), _gentle(_least(right)).tolist())


def gentle_room(length: Mm, left: Points, right: Points) -> Room:
    """Return the room of the given reach in each cell, lowered so that it nowhere rises faster than SLOPE."""
    return Room(length, _gentle(left).tolist(), _gentle(right).tolist())


def _reach_at(start: Points, end: Points, places: Points, half: Mm) -> tuple[Points, Points]:
    """Return for each place how far one can go left and right before meeting one of the edges."""
    run = end[:, 0] - start[:, 0]
    steep = np.abs(run) >= SAME_PLACE
    start, end, run = start[steep], end[steep], run[steep]
    t = (places[None, :] - start[:, 0, None]) / run[:, None]
    across = start[:, 1, None] + t * (end[:, 1] - start[:, 1])[:, None]
    met = (t >= 0.0) & (t <= 1.0)
    left = np.where(met & (across >= 0.0), across, half).min(axis=0, initial=half)
    right = np.where(met & (across < 0.0), -across, half).min(axis=0, initial=half)
    return left, right


def _least(fine: Points) -> Points:
    """Return the least reach of each cell from its two ends and its middle."""
    least: Points = np.minimum(np.minimum(fine[:-1:2], fine[1::2]), fine[2::2])
    return least


def _gentle(row: Points) -> Points:
    """Return the row lowered so that it nowhere rises faster than SLOPE."""
    step = SLOPE * CELL
    ramp = step * np.arange(len(row))
    forward = np.minimum.accumulate(row - ramp) + ramp
    backward = np.minimum.accumulate((row + ramp)[::-1])[::-1] - ramp
    gentle: Points = np.minimum(forward, backward)
    return gentle


def local_polygon(clip: Polygon, origin: Point, along: Point, across: Point) -> Polygon:
    """Return the clip in seam coordinates."""
    turn = np.array([along, across]).T
    return shapely.transform(clip, lambda places: (places - np.array(origin)) @ turn)
