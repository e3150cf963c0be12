"""The line a row of stitches follows: along and across it, places on the cloth.

Words: a *straight* track keeps angles and lengths. On a *curved* one the row's length is that of the line, and its outer side is
stretched and its inner side squeezed; no place may lie farther inside a bend than SQUEEZE of its radius, where the
squeezed side would fold over itself.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Protocol

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon

from hoopwright.core.tolerances import FLAT, SAME_PLACE
from hoopwright.core.types import Mm, Point, Points
from hoopwright.needle.seam_stitches.room import CELL, Room, free_room, gentle_room, local_polygon, room_inside

SQUEEZE: Final = 0.7
"""How far inside a bend a stitch may reach, as a part of the bend's radius (by eye)."""

FINE: Final[Mm] = 0.25
"""A curve is followed in steps of this length."""

SMOOTHED: Final[Mm] = 1.5
"""The direction of a curve is that of its chord so far before and past each place: the facets of a drawn curve vanish."""

SAGITTA: Final[Mm] = 0.12
"""A stitch along a curve leaves it by no more than this in its middle."""


class Track(Protocol):
    """What rows are sewn along."""

    @property
    def length(self) -> Mm:
        """Length of the line."""

    @property
    def longest_chord(self) -> Mm:
        """Longest stitch along the line that does not leave it."""

    def part(self, first: Mm, last: Mm) -> Track:
        """Return the track from ``first`` to ``last`` mm along it."""

    def reversed(self) -> Track:
        """Return the same line from its other end."""

    def carry(self, place: Point) -> Point:
        """Return where a place (along, across) lies on the cloth."""

    def room(self, clip: Polygon | None, half: Mm) -> Room:
        """Return the room beside the line."""


@dataclass(frozen=True, slots=True)
class Straight:
    """A straight line from ``start`` to ``end``."""

    start: Point
    end: Point

    @property
    def length(self) -> Mm:
        """Length of the line."""
        return math.dist(self.start, self.end)

    @property
    def longest_chord(self) -> Mm:
        """No stitch leaves a straight line."""
        return math.inf

    @property
    def along(self) -> Point:
        """Direction of the line."""
        long = self.length
        return (self.end[0] - self.start[0]) / long, (self.end[1] - self.start[1]) / long

    def part(self, first: Mm, last: Mm) -> Straight:
        """Return the track from ``first`` to ``last`` mm along it."""
        if first == 0.0 and last == self.length:
            return self
        return Straight(self.carry((first, 0.0)), self.carry((last, 0.0)))

    def reversed(self) -> Straight:
        """Return the same line from its other end."""
        return Straight(self.end, self.start)

    def carry(self, place: Point) -> Point:
        """Return where a place (along, across) lies on the cloth."""
        (ex, ey), (u, v) = self.along, place
        return self.start[0] + ex * u - ey * v, self.start[1] + ey * u + ex * v

    def room(self, clip: Polygon | None, half: Mm) -> Room:
        """Return the room beside the line."""
        if clip is None:
            return free_room(self.length, half)
        ex, ey = self.along
        return room_inside(local_polygon(clip, self.start, (ex, ey), (-ey, ex)), self.length, half)


@dataclass(frozen=True, slots=True, eq=False)
class Curved:
    """A curve by places FINE apart, shape (n, 2), with the direction of each, its length and signed bend (1 / radius)."""

    places: Points
    ways: Points
    bends: Points
    step: Mm

    @property
    def length(self) -> Mm:
        """Length of the line."""
        return self.step * (len(self.places) - 1)

    @property
    def longest_chord(self) -> Mm:
        """Longest stitch that leaves the sharpest bend by no more than SAGITTA."""
        sharpest = float(np.abs(self.bends).max())
        return math.inf if sharpest < FLAT else math.sqrt(8.0 * SAGITTA / sharpest)

    def part(self, first: Mm, last: Mm) -> Curved:
        """Return the track from ``first`` to ``last`` mm along it, to the nearest whole step."""
        a, b = round(first / self.step), round(last / self.step)
        return Curved(self.places[a : b + 1], self.ways[a : b + 1], self.bends[a : b + 1], self.step)

    def reversed(self) -> Curved:
        """Return the same line from its other end."""
        return Curved(self.places[::-1], -self.ways[::-1], -self.bends[::-1], self.step)

    def carry(self, place: Point) -> Point:
        """Return where a place (along, across) lies on the cloth; past its ends the line goes straight on."""
        at, last = place[0] / self.step, len(self.places) - 2
        i = min(max(int(at), 0), last)
        t = at - i
        x, y = (self.places[i] * (1.0 - t) + self.places[i + 1] * t).tolist()
        t = min(max(t, 0.0), 1.0)
        u, v = (self.ways[i] * (1.0 - t) + self.ways[i + 1] * t).tolist()
        size = math.hypot(u, v)
        return x - v / size * place[1], y + u / size * place[1]

    def room(self, clip: Polygon | None, half: Mm) -> Room:
        """Return the room beside the line: less inside its bends, and no more than the clip leaves."""
        rows = []
        for side in (1.0, -1.0):
            inner = side * self.bends > SQUEEZE / half
            reach = np.where(inner, SQUEEZE / np.where(inner, side * self.bends, 1.0), half)
            rows.append(reach if clip is None else np.minimum(reach, self._free(clip, side * half)))
        return gentle_room(self.length, *(self._cells(r) for r in rows))

    def _free(self, clip: Polygon, reach: Mm) -> Points:
        """Return how far one can go across the line from each place before leaving the clip."""
        across = np.column_stack([-self.ways[:, 1], self.ways[:, 0]])
        rays = np.asarray(shapely.linestrings(np.stack([self.places, self.places + across * reach], axis=1)))
        shapely.prepare(clip)
        free = np.full(len(rays), abs(reach))
        out = np.flatnonzero(~shapely.covers(clip, rays))
        met = shapely.distance(shapely.points(self.places[out]), shapely.intersection(rays[out], clip.boundary))
        free[out] = np.nan_to_num(met)
        return free

    def _cells(self, reach: Points) -> Points:
        """Return the least reach in each cell of a room."""
        cells = max(1, math.ceil(self.length / CELL))
        at = np.minimum((np.arange(len(reach)) * self.step / CELL).astype(int), cells - 1)
        least = np.full(cells, np.inf)
        np.minimum.at(least, at, reach)
        return least


def track_of(path: LineString) -> Straight | Curved:
    """Return the track along a path: straight when nothing of it leaves the line between its ends."""
    points = np.asarray(path.coords, dtype=np.float64)[:, :2]
    a, b = (float(points[0, 0]), float(points[0, 1])), (float(points[-1, 0]), float(points[-1, 1]))
    if len(points) == 2 or (
        math.dist(a, b) > SAME_PLACE and shapely.hausdorff_distance(LineString([a, b]), path) < FLAT
    ):
        return Straight(a, b)
    return curved(points)


def curved(points: Points) -> Curved:
    """Return the track along a row of places, shape (n, 2), its directions smoothed."""
    gaps = np.hypot(*np.diff(points, axis=0).T)
    points = points[np.concatenate([[True], gaps > SAME_PLACE])]
    gaps = gaps[gaps > SAME_PLACE]
    travelled = np.concatenate([[0.0], np.cumsum(gaps)])
    length = float(travelled[-1])
    count = max(4, math.ceil(length / FINE))
    closed = math.dist(points[0], points[-1]) <= SAME_PLACE
    marks = np.linspace(0.0, length, count + 1)
    ahead, behind = (_at(points, travelled, marks + d, closed) for d in (SMOOTHED, -SMOOTHED))
    ways = ahead - behind
    ways /= np.hypot(ways[:, 0], ways[:, 1])[:, None]
    angles = np.unwrap(np.arctan2(ways[:, 1], ways[:, 0]))
    bends = np.gradient(angles, length / count)
    if closed:
        bends[0] = bends[-1] = (bends[1] + bends[-2]) / 2.0
    return Curved(_at(points, travelled, marks, closed), ways, bends, length / count)


def _at(points: Points, travelled: Points, marks: Points, closed: bool) -> Points:
    """Return places along a row; past the ends of an open one, straight on."""
    length = float(travelled[-1])
    inside = marks % length if closed else np.clip(marks, 0.0, length)
    if closed:
        inside = np.where(np.isclose(marks, length, atol=SAME_PLACE), 0.0, inside)
    found = np.column_stack([np.interp(inside, travelled, points[:, k]) for k in (0, 1)])
    if not closed:
        for end, way in ((0, points[0] - points[1]), (-1, points[-1] - points[-2])):
            beyond = np.maximum(0.0, -marks if end == 0 else marks - length)
            found += beyond[:, None] * way / np.hypot(*way)
    return found
