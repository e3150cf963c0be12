"""Where a line bends too sharply for a row of stitches to follow: rows end before the corner, and a motif fills it.

Words: a *leg* is the stretch of a line between two corners; its *insets* are how far its row stays off them, so far
that the inner edges of both rows just meet.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
import shapely
import shapely.ops
from shapely.geometry import LineString

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Degrees, Mm, Point, Points
from hoopwright.needle.seam_stitches.track import FINE, Curved, Straight, track_of

SHARP: Final[Degrees] = 40.0
"""A line that turns by more than this within half the row's width has a corner there (by eye)."""

FILLED: Final[Degrees] = 60.0
"""A motif stands where a line turns by this much or more; at blunter corners the rows leave no room for it."""

NEAR: Final[Mm] = 2.0
"""Turns are measured over at least this length."""

LEVEL: Final = 0.98
"""Places that turn by this part of the sharpest turn belong to its corner."""

MOST_INSET: Final = 1.3
"""A row stays at most this many half widths off a corner."""


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner at ``at``; ``outward`` is the direction that halves its outer side."""

    at: Point
    outward: Point


@dataclass(frozen=True, slots=True)
class Leg:
    """A stretch of a line, its insets, and the corner at its end, if a motif stands there."""

    track: Straight | Curved
    first: Mm = 0.0
    last: Mm = 0.0
    corner: Corner | None = None


def legs_of(line: LineString, half: Mm) -> Iterator[Leg]:
    """Yield the stretches between the corners of a line, in order; a closed line begins at its first corner."""
    points = np.asarray(line.coords, dtype=np.float64)[:, :2]
    closed = math.dist(points[0], points[-1]) <= SAME_PLACE
    marks = [(_on_vertex(points, mark), turn) for mark, turn in _corners(line, max(NEAR, half), closed=closed)]
    if not marks:
        yield Leg(track_of(line))
        return
    if closed:
        marks = [*marks, (marks[0][0] + line.length, marks[0][1])]
        bends = [turn for _, turn in marks]
        stretches = [_stretch(line, a, b) for (a, _), (b, _) in pairwise(marks)]
    else:
        marks = [(0.0, 0.0), *marks, (line.length, 0.0)]
        bends = [turn for _, turn in marks]
        stretches = [_stretch(line, a, b) for (a, _), (b, _) in pairwise(marks)]
    for k, piece in enumerate(stretches):
        following = stretches[(k + 1) % len(stretches)]
        corner = _corner(piece, following) if abs(bends[k + 1]) >= math.radians(FILLED) else None
        yield Leg(track_of(piece), _inset(bends[k], half), _inset(bends[k + 1], half), corner)


def _on_vertex(points: Points, mark: Mm) -> Mm:
    """Return the length along a line of the vertex at a corner, or the mark itself where the corner is rounded."""
    travelled = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    nearest = float(travelled[np.argmin(np.abs(travelled - mark))])
    return nearest if abs(nearest - mark) <= 2.0 * FINE else mark


def _inset(turn: float, half: Mm) -> Mm:
    return half * min(MOST_INSET, math.tan(min(abs(turn), math.radians(170.0)) / 2.0))


def _corners(line: LineString, window: Mm, *, closed: bool) -> list[tuple[Mm, float]]:
    """Return the corners of a line: how far along it they lie, and by what angle it turns there, in radians."""
    count = max(8, math.ceil(line.length / FINE))
    step = line.length / count
    reach = max(1, round(window / 2.0 / step))
    places = shapely.get_coordinates(shapely.line_interpolate_point(line, np.arange(count + 1) * step))
    steps = np.diff(places, axis=0)
    angles = np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))
    turns = np.zeros(count + 1)
    if closed:
        whole = np.concatenate([angles, angles + _round(angles, steps)])
        index = np.arange(count + 1)
        turns = whole[(index + reach - 1) % (2 * count)] - whole[(index - reach) % (2 * count)]
        turns = (turns + math.pi) % (2.0 * math.pi) - math.pi
    else:
        index = np.arange(reach, count + 1 - reach)
        turns[index] = angles[index + reach - 1] - angles[index - reach]
    return list(_peaks(np.abs(turns), turns, reach, step, closed=closed))


def _round(angles: Points, steps: Points) -> float:
    """Return by what angle a closed line has turned when it begins again."""
    last, first = steps[-1], steps[0]
    bend = math.atan2(float(last[0] * first[1] - last[1] * first[0]), float(last @ first))
    return float(angles[-1] + bend - angles[0])


def _peaks(size: Points, turns: Points, reach: int, step: Mm, *, closed: bool) -> Iterator[tuple[Mm, float]]:
    """Yield where the turn is sharp and sharpest within its window; of a plateau its middle."""
    count = len(size) - 1
    sharp = math.radians(SHARP)
    taken = np.zeros(count + 1, dtype=bool)
    found: list[tuple[int, float]] = []
    for i in np.argsort(-size, kind="stable"):
        if size[i] < sharp:
            break
        if taken[i] or (closed and i == count):
            continue
        first, last = (_end_of_level(size, int(i), way, 2 * reach, closed=closed) for way in (-1, 1))
        middle = (first + last) // 2
        found.append((middle, float(turns[i])))
        for j in range(middle - 2 * reach, middle + 2 * reach + 1):
            if closed:
                taken[j % count] = True
            elif 0 <= j <= count:
                taken[j] = True
    yield from sorted(((m % count if closed else m) * step, turn) for m, turn in found)


def _end_of_level(size: Points, start: int, way: int, most: int, *, closed: bool) -> int:
    """Return how far from a place, in one direction, the line turns as sharply."""
    at = start
    while abs(at + way - start) <= most and _near(size, at + way, closed=closed) >= LEVEL * size[start]:
        at += way
    return at


def _near(size: Points, j: int, *, closed: bool) -> float:
    count = len(size) - 1
    if closed:
        return float(size[j % count])
    return float(size[j]) if 0 <= j <= count else 0.0


def _stretch(line: LineString, a: Mm, b: Mm) -> LineString:
    """Return the part of a line between two lengths along it; past its end it goes on from its start."""
    if b <= line.length:
        part = shapely.ops.substring(line, a, b)
    else:
        rest = b - line.length
        head = shapely.ops.substring(line, a, line.length)
        tail = shapely.ops.substring(line, 0.0, rest)
        coords = [*head.coords, *(tail.coords[1:] if rest > SAME_PLACE else [])]
        part = LineString(coords)
    assert isinstance(part, LineString)
    return part


def _corner(before: LineString, after: LineString) -> Corner:
    """Return the corner between two legs; its outward direction lies on the outer side."""
    at = before.coords[-1]
    one = _way(before.interpolate(-min(NEAR, before.length / 3.0)).coords[0], at)
    other = _way(at, after.interpolate(min(NEAR, after.length / 3.0)).coords[0])
    x, y = one[0] - other[0], one[1] - other[1]
    size = math.hypot(x, y)
    return Corner((at[0], at[1]), (x / size, y / size) if size > SAME_PLACE else (-one[1], one[0]))


def _way(a: tuple[float, ...], b: tuple[float, ...]) -> Point:
    long = math.dist(a, b)
    return (b[0] - a[0]) / long, (b[1] - a[1]) / long
