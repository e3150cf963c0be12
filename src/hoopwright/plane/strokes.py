"""Strokes: pen lines made ready for healing, each either straight or a curve without corners."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shapely.geometry import LineString

from hoopwright.core.tolerances import CORNER_DEGREES, FLAT
from hoopwright.core.types import Degrees, Mm, Point
from hoopwright.plane.drawing import DrawnPath


@dataclass(frozen=True, slots=True)
class Stroke:
    """A row of points; two of them make a straight stroke, more a curve."""

    points: tuple[Point, ...]

    @property
    def straight(self) -> bool:
        """Whether it is one straight line."""
        return len(self.points) == 2


def strokes_of(paths: Iterable[DrawnPath], gap: Mm) -> tuple[Stroke, ...]:
    """Break paths at their corners; a curve that leaves its chord by no more than ``gap`` counts as straight."""
    return tuple(stroke for path in paths for stroke in _strokes(path, gap))


def _strokes(path: DrawnPath, gap: Mm) -> list[Stroke]:
    row = [*path.points, path.points[0]] if path.closed else list(path.points)
    done: list[Stroke] = []
    curve: list[Point] = []
    for i, (a, b) in enumerate(itertools.pairwise(row)):
        if curve and (not path.curved[i] or turn(curve[-2], a, b) > CORNER_DEGREES):
            done.append(_curve(curve, gap))
            curve = []
        if path.curved[i]:
            curve = [*(curve or [a]), b]
        else:
            done.append(Stroke((a, b)))
    return [*done, _curve(curve, gap)] if curve else done


def _curve(points: list[Point], gap: Mm) -> Stroke:
    """Return a curve with no more points than it needs, as a straight stroke when it is nearly one."""
    ends = (points[0], points[-1])
    if math.dist(*ends) > gap and all(off_line(p, *ends) <= gap for p in points):
        return Stroke(ends)
    return Stroke(tuple((float(x), float(y)) for x, y in LineString(points).simplify(FLAT).coords))


def turn(a: Sequence[float], b: Sequence[float], c: Sequence[float]) -> Degrees:
    """Return by how many degrees the way a, b, c bends at b, 0 when it runs on straight."""
    first = math.atan2(b[1] - a[1], b[0] - a[0])
    second = math.atan2(c[1] - b[1], c[0] - b[0])
    return abs((math.degrees(second - first) + 180.0) % 360.0 - 180.0)


def off_line(point: Point, a: Point, b: Point) -> Mm:
    """Return the distance of a point from the endless line through a and b, from a itself when a and b coincide."""
    length = math.dist(a, b)
    if length == 0.0:
        return math.dist(point, a)
    return abs((b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])) / length
