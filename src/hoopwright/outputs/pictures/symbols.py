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
    """Return open scissors ``size`` mm long whose blades point along ``angle``, their pivot at ``at``; cased in white."""
    casing: list[Shape] = []
    ink: list[Shape] = []
    for side in (1.0, -1.0):
        row = [(0.62, 0.2), (0.3, 0.15), (-0.06, 0.02), (-0.3, -0.1), (-0.28, -0.15), (0.0, -0.04), (0.1, 0.0)]
        half = placed([(x, side * y) for x, y in row], at, angle, size)
        (bow,) = placed([(-0.36, -0.2 * side)], at, angle, size)
        casing += [Area((half,), WHITE, WHITE, 0.14 * size), Circle(bow, 0.1 * size, WHITE, WHITE, 0.19 * size)]
        ink += [Area((half,), colour), Circle(bow, 0.1 * size, None, colour, 0.065 * size)]
    return (*casing, *ink, Circle(at, 0.025 * size, WHITE))


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


def seam_tag(text: str, at: Point, *, strong: bool = False, grow: float = 1.0) -> tuple[Shape, ...]:
    """Return a seam number on a small square tag, ``grow`` times as large as usual; that of the seam that is decorated
    now is ``strong``.
    """
    half = (grow * (1.3 + 1.2 * len(text)), grow * 2.7)
    corners = tuple((at[0] + half[0] * x, at[1] + half[1] * y) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1)))
    ground, ink = (INK, WHITE) if strong else (WHITE, INK)
    return Area((corners,), ground, INK, 0.3), Label(text, at, grow * 5.2, ink, bold=strong)
