"""Slicing: finished patches are cut off one after the other, and only the remainder is cut further.

Sewn in the reverse order such a layout can always be pieced on one foundation: each patch meets what lies already
along exactly one straight chord.

Words: a *slice line* takes off everything beyond it, on the side its normal points to; a *corner* is a point of a
ring that is the end of a chord or a sharp corner of the outline, all other points only follow a round edge.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

from hoopwright.core.tolerances import CORNER_DEGREES, GRID
from hoopwright.core.types import Degrees, Mm, Mm2, Point

ROUND: Final = 0
"""Mark of a point on a round edge."""

CORNER: Final = 1
"""Mark of a sharp corner of the outline."""

CHORD: Final = 2
"""Mark of the end of a chord."""

UP: Final = b"\x00\x01"
"""Two neighbouring points of a ring of which the second lies beyond a line."""

DOWN: Final = b"\x01\x00"
"""Two neighbouring points of a ring of which the first lies beyond a line."""

Marked: TypeAlias = tuple[float, float, int]
"""A point of a ring with its mark."""

MarkedRing: TypeAlias = tuple[Marked, ...]


@dataclass(frozen=True, slots=True)
class SliceLine:
    """Takes off all (x, y) with x cos(angle) + y sin(angle) > offset."""

    angle: Degrees
    offset: Mm


@dataclass(frozen=True, slots=True)
class Slice:
    """One patch taken off: its ring, what remains, and the chord with the remainder on its left."""

    off: MarkedRing
    rest: MarkedRing
    start: Point
    end: Point


def marked(ring: Sequence[Point]) -> MarkedRing:
    """Return the counter-clockwise ring of an outline with its sharp corners marked."""
    count = len(ring)
    turns = [_turn(ring[i - 1], ring[i], ring[(i + 1) % count]) for i in range(count)]
    return tuple(
        (x, y, CORNER if abs(turn) >= CORNER_DEGREES else ROUND) for (x, y), turn in zip(ring, turns, strict=True)
    )


def _turn(a: Sequence[float], b: Sequence[float], c: Sequence[float]) -> Degrees:
    """Return by how much the way a, b, c turns left at b."""
    first = math.atan2(b[1] - a[1], b[0] - a[0])
    second = math.atan2(c[1] - b[1], c[0] - b[0])
    return (math.degrees(second - first) + 180.0) % 360.0 - 180.0


def slice_off(ring: MarkedRing, line: SliceLine) -> Slice | None:
    """Take off what lies beyond the line; None when that is not one chord across the ring."""
    cosine, sine = math.cos(math.radians(line.angle)), math.sin(math.radians(line.angle))
    heights = [x * cosine + y * sine - line.offset for x, y, _ in ring]
    beyond = bytes([h > 0.0 for h in heights])
    beyond += beyond[:1]
    if beyond.count(UP) != 1 or beyond.count(DOWN) != 1 or min(map(abs, heights)) < GRID:
        return None
    up, down = beyond.index(UP), beyond.index(DOWN)
    enter, leave = _meets(ring, heights, up), _meets(ring, heights, down)
    off = (enter, *_run(ring, up + 1, down), leave)
    rest = (leave, *_run(ring, down + 1, up), enter)
    return Slice(off, rest, enter[:2], leave[:2])


def _meets(ring: MarkedRing, heights: Sequence[float], i: int) -> Marked:
    a, b = ring[i], ring[(i + 1) % len(ring)]
    t = heights[i] / (heights[i] - heights[(i + 1) % len(ring)])
    return (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, CHORD)


def _run(ring: MarkedRing, first: int, last: int) -> MarkedRing:
    """Return the points from ``first`` to ``last``, going round the ring when need be."""
    count = len(ring)
    first, last = first % count, last % count
    return ring[first : last + 1] if first <= last else (*ring[first:], *ring[: last + 1])


def slices(ring: MarkedRing, lines: Sequence[SliceLine]) -> tuple[Slice, ...]:
    """Slice along all lines in their order; shorter than ``lines`` when one of them is not a chord."""
    done: list[Slice] = []
    for line in lines:
        one = slice_off(ring, line)
        if one is None:
            break
        done.append(one)
        ring = one.rest
    return tuple(done)


@dataclass(frozen=True, slots=True)
class Side:
    """A side of a patch from corner to corner: its length along the ring, and the marks of its two ends."""

    length: Mm
    marks: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Measures:
    """What is measured of a patch: area, length of its ring, sides, angles at chord ends, whether it meets the rim."""

    area: Mm2
    length: Mm
    sides: tuple[Side, ...]
    angles: tuple[Degrees, ...]
    on_rim: bool
    middle: Point

    @property
    def roundness(self) -> float:
        """4 pi area over length squared: 1 for a circle, 0.785 for a square, 0.5 for a strip of about 1 to 4."""
        return 4.0 * math.pi * self.area / (self.length * self.length)


def measure(ring: MarkedRing) -> Measures:
    """Measure a patch."""
    count = len(ring)
    area = along = mx = my = 0.0
    corners: list[int] = []
    reached: list[float] = []
    for i, (x, y, mark) in enumerate(ring):
        if mark:
            corners.append(i)
            reached.append(along)
        u, v, _ = ring[(i + 1) % count]
        cross = x * v - u * y
        area += cross
        mx += (x + u) * cross
        my += (y + v) * cross
        along += math.hypot(u - x, v - y)
    middle = (mx / (3.0 * area), my / (3.0 * area)) if area else ring[0][:2]
    angles = tuple(180.0 - _turn(ring[i - 1], ring[i], ring[(i + 1) % count]) for i in corners if ring[i][2] == CHORD)
    on_rim = any(ring[i][2] == ROUND or ring[i][2] == CORNER for i in range(count))
    return Measures(area / 2.0, along, _sides(ring, corners, reached, along), angles, on_rim, middle)


def _sides(ring: MarkedRing, corners: list[int], reached: list[float], along: float) -> tuple[Side, ...]:
    ends = [*corners[1:], *corners[:1]]
    goals = [*reached[1:], *(r + along for r in reached[:1])]
    return tuple(
        Side(goal - start, (ring[i][2], ring[j][2]))
        for i, j, start, goal in zip(corners, ends, reached, goals, strict=True)
    )
