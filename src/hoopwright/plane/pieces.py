"""Cutting a region up by chords, one after the other, so that neighbours always share their vertices exactly.

Words: a *piece* is a simple ring of points, counter-clockwise, without holes; a *chord* is a straight line from
boundary to boundary through the inside of one piece.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

from hoopwright.core.tolerances import GRID, MERGE
from hoopwright.core.types import Mm, Mm2, Point

Ring: TypeAlias = tuple[Point, ...]
Box: TypeAlias = tuple[Mm, Mm, Mm, Mm]


@dataclass(frozen=True, slots=True)
class Crossing:
    """Where a straight line passes through the inside of a piece, in mm from the line's start along it."""

    piece: int
    enter: Mm
    leave: Mm


def area_of(ring: Sequence[Point]) -> Mm2:
    """Return the signed area, positive when the ring runs counter-clockwise."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)) / 2.0


def length_of(ring: Sequence[Point]) -> Mm:
    """Return the length of the closed ring."""
    return sum(math.dist(a, b) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))


def mean_width(ring: Sequence[Point]) -> Mm:
    """Return twice the area over half the length: about the width of a long strip; small for a sliver."""
    return 2.0 * abs(area_of(ring)) / max(length_of(ring), GRID)


def box_of(ring: Ring) -> Box:
    """Return the bounding box of a ring: least x and y, greatest x and y."""
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return min(xs), min(ys), max(xs), max(ys)


def boxes_near(boxes: Sequence[Box], start: Point, end: Point) -> tuple[int, ...]:
    """Return the numbers of the boxes that the box round a line from ``start`` to ``end`` meets."""
    west, east = sorted((start[0], end[0]))
    south, north = sorted((start[1], end[1]))
    return tuple(i for i, b in enumerate(boxes) if b[0] <= east and b[2] >= west and b[1] <= north and b[3] >= south)


def crossings(
    rings: Sequence[Ring], start: Point, end: Point, among: Sequence[int] | None = None
) -> tuple[Crossing, ...]:
    """Return where the endless line from ``start`` towards ``end`` passes through each piece, in order along it.

    ``among`` are the numbers of the pieces that are asked for; all when None.
    """
    length = math.dist(start, end)
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    asked = range(len(rings)) if among is None else among
    found = [c for i in asked for c in _through(i, rings[i], start, along)]
    return tuple(sorted(found, key=lambda c: (c.enter, c.piece)))


def _through(index: int, ring: Ring, start: Point, along: Point) -> list[Crossing]:
    ux, uy = along
    sx, sy = start
    heights = [(y - sy) * ux - (x - sx) * uy for x, y in ring]
    if min(heights) > -GRID or max(heights) < GRID:
        return []
    marks = sorted(_marks(ring, heights, start, along))
    stops = [m for i, m in enumerate(marks) if i == 0 or m - marks[i - 1] > GRID]
    middles = [(a + b) / 2.0 for a, b in itertools.pairwise(stops)]
    return [
        Crossing(index, a, b)
        for a, b, m in zip(stops, stops[1:], middles, strict=False)
        if strictly_inside(ring, (sx + ux * m, sy + uy * m))
    ]


def _marks(ring: Ring, heights: Sequence[float], start: Point, along: Point) -> list[Mm]:
    """Return where the line meets the ring, in mm along the line."""
    marks: list[Mm] = []
    count = len(ring)
    for i, (point, height) in enumerate(zip(ring, heights, strict=True)):
        other, beyond = ring[(i + 1) % count], heights[(i + 1) % count]
        here = (point[0] - start[0]) * along[0] + (point[1] - start[1]) * along[1]
        if abs(height) <= GRID:
            marks.append(here)
        elif abs(beyond) > GRID and (height > 0.0) != (beyond > 0.0):
            there = (other[0] - start[0]) * along[0] + (other[1] - start[1]) * along[1]
            marks.append(here + (there - here) * height / (height - beyond))
    return marks


def strictly_inside(ring: Ring, point: Point) -> bool:
    """Return whether the point lies inside the ring and farther than GRID from it."""
    x, y = point
    inside = False
    for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if _distance(point, (ax, ay), (bx, by)) <= GRID:
            return False
        if (ay > y) != (by > y) and x < ax + (bx - ax) * (y - ay) / (by - ay):
            inside = not inside
    return inside


def _distance(point: Point, a: Point, b: Point) -> Mm:
    foot = foot_on(point, a, b)
    return math.dist(point, foot)


def foot_on(point: Point, a: Point, b: Point) -> Point:
    """Return the place of the straight piece a to b that is nearest to the point."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    t = 0.0 if square == 0.0 else min(1.0, max(0.0, ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / square))
    return (a[0] + t * dx, a[1] + t * dy)


def with_vertex(rings: Sequence[Ring], piece: int, point: Point, snap: Mm = MERGE) -> tuple[tuple[Ring, ...], Point]:
    """Make ``point``, which lies on the boundary of ``piece``, a vertex of it and of the neighbour across that edge.

    A vertex of the piece within ``snap`` is taken instead. Returns the rings and the vertex.
    """
    ring = rings[piece]
    nearest = min(ring, key=lambda p: (math.dist(p, point), p))
    if math.dist(nearest, point) <= snap:
        return tuple(rings), nearest
    i = min(range(len(ring)), key=lambda i: (_distance(point, ring[i], ring[(i + 1) % len(ring)]), i))
    a, b = ring[i], ring[(i + 1) % len(ring)]
    point = foot_on(point, a, b)
    return tuple(_inserted(r, a, b, point) for r in rings), point


def _inserted(ring: Ring, a: Point, b: Point, point: Point) -> Ring:
    """Put the point between a and b, or b and a, when the ring has that edge."""
    if a not in ring or b not in ring:
        return ring
    i, j = ring.index(a), ring.index(b)
    if (i + 1) % len(ring) == j:
        return (*ring[: i + 1], point, *ring[i + 1 :])
    if (j + 1) % len(ring) == i:
        return (*ring[: j + 1], point, *ring[j + 1 :])
    return ring


def split(ring: Ring, start: Point, end: Point) -> tuple[Ring, Ring]:
    """Return the parts of the ring on the left and on the right of the chord between two of its vertices."""
    i, j = ring.index(start), ring.index(end)
    turned = (*ring[i:], *ring[:i])
    cut = (j - i) % len(ring)
    return (start, *turned[cut:]), turned[: cut + 1]
