"""Small signs drawn by ourselves: scissors, flip arrow, number disc."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hoopwright.core.types import Degrees, Mm, Point
from hoopwright.outputs.drawing.shapes import Area, Arrow, Circle, Label, Paint, Shape
from hoopwright.outputs.pictures.inks import CUT, HAND, INK, WHITE

DISC = 4.2
"""Radius of a number disc, mm."""


def placed(points: Sequence[Point], at: Point, angle: Degrees, size: Mm) -> tuple[Point, ...]:
    """Return points of a unit drawing scaled by ``size``, turned by ``angle`` and moved to ``at``."""
    c, s = size * math.cos(math.radians(angle)), size * math.sin(math.radians(angle))
    return tuple((at[0] + c * x - s * y, at[1] + s * x + c * y) for x, y in points)


def scissors(at: Point, angle: Degrees, size: Mm, colour: Paint = CUT) -> tuple[Shape, ...]:
    """Return open scissors ``size`` mm long whose blades point along ``angle`` with their crossing at ``at``."""
    shapes: list[Shape] = []
    for side in (1.0, -1.0):
        blade = [
            (0.62, 0.17 * side),
            (-0.02, 0.055 * side),
            (-0.13, -0.02 * side),
            (-0.08, -0.06 * side),
            (0.1, -0.03 * side),
        ]
        shank = [(-0.05, 0.03 * side), (-0.2, -0.13 * side), (-0.17, -0.16 * side), (0.0, -0.05 * side)]
        (bow,) = placed([(-0.3, -0.18 * side)], at, angle, size)
        shapes += [Area((placed(blade, at, angle, size),), colour, WHITE, 0.06 * size)]
        shapes += [
            Circle(bow, 0.125 * size, WHITE, WHITE, 0.13 * size),
            Circle(bow, 0.125 * size, None, colour, 0.075 * size),
        ]
        shapes += [Area((placed(shank, at, angle, size),), colour)]
    shapes += [Area((placed([(0.62, 0.17), (0.0, 0.05), (0.0, 0.0), (0.12, 0.02)], at, angle, size),), colour)]
    shapes += [Circle(at, 0.03 * size, WHITE)]
    return tuple(shapes)


def flip_arrow(start: Point, end: Point, colour: Paint = HAND, width: Mm = 1.1) -> tuple[Shape, ...]:
    """Return a bowed arrow from ``start`` to ``end``, cased in white so that it shows on every cloth."""
    way = bow(start, end, 0.28)
    head = max(min(0.3 * math.dist(start, end), 5.0), 2.5)
    return Arrow(way, WHITE, width + 1.2, head + 1.0), Arrow(way, colour, width, head)


def bow(start: Point, end: Point, height: float, pieces: int = 14) -> tuple[Point, ...]:
    """Return a parabola from ``start`` to ``end`` that rises to the left by ``height`` of their distance."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    rows = [(i / pieces, 4.0 * height * (i / pieces) * (1 - i / pieces)) for i in range(pieces + 1)]
    return tuple((start[0] + dx * t - dy * h, start[1] + dy * t + dx * h) for t, h in rows)


def number_disc(text: str, at: Point, *, strong: bool = False, radius: Mm = DISC) -> tuple[Shape, ...]:
    """Return a patch number in a disc; a ``strong`` one is white on ink."""
    ground, ink = (INK, WHITE) if strong else (WHITE, INK)
    size = 1.5 * radius if len(text) < 2 else 1.2 * radius if len(text) < 3 else 0.95 * radius
    return Circle(at, radius, ground, INK, 0.35), Label(text, at, size, ink, bold=True)
