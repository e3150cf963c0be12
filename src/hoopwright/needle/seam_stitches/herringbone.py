"""Herringbone and its relations: slanting lines that cross near the edges."""

from __future__ import annotations

import math

from hoopwright.core.types import Mm
from hoopwright.needle.seam_stitches.pen import Pen, steps
from hoopwright.needle.seam_stitches.row import LEFT, RIGHT, Beat, Row, bays_at

CROSSED = 0.42
"""How far apart the two ends at an edge lie, as a part of half a repeat."""

CROSSED_THICK = 0.62
"""The same with thick lines, whose ends would hide the crossing."""

MOST_CROSSED = 0.8
"""The same where the stitch is so small that its ends would be shorter than a stitch."""


def herringbone(pen: Pen, row: Row) -> None:
    """Long slanting stitches whose ends cross above and below, sewn from crossing to crossing.

    Begins and ends with a whole slanting stitch on the same edge: symmetric about the seam's middle. Round a ring it begins
    and ends in the middle of the same slanting stitch.
    """
    crossed = _crossing(row, pen.holes.shortest, CROSSED_THICK if pen.thick else CROSSED)
    step, marks = _crossings(row, crossed)
    lean, cross = crossed * step / 2.0, row.half / (1.0 + crossed)
    ends = 0.0 if row.closed else -row.half
    pen.start((0.0, ends))
    for i, middle in enumerate(marks):
        side = -1.0 if i % 2 else 1.0
        pen.go((middle, side * cross))
        pen.arm((middle - lean, side * row.half))
        pen.arm((middle + lean, side * row.half))
    pen.go((row.length, ends))


def _crossings(row: Row, crossed: float) -> tuple[Mm, list[Mm]]:
    """Return how far it is from crossing to crossing, and the crossings, the first one above."""
    if row.closed:
        step = row.length / (2 * row.count)
        return step, [(i + 0.5) * step for i in range(2 * row.count)]
    step = row.length / (2 * row.count + crossed)
    return step, [i * step + crossed * step / 2.0 for i in range(1, 2 * row.count)]


def _crossing(row: Row, shortest: float, wish: float) -> float:
    """Return how far the ends cross so that they are at least one stitch long, if they can be."""
    crossed, half_step = wish, row.repeat / 2.0
    while (
        crossed < MOST_CROSSED and crossed * math.hypot(half_step / 2.0, row.half / (1.0 + crossed)) < 1.02 * shortest
    ):
        crossed += 0.02
    return crossed


def chevron(pen: Pen, row: Row) -> None:
    """Slanting lines between short bars that lie along both edges.

    Begins and ends with a bar on the same edge: symmetric about the seam's middle. Round a ring it begins and ends in the
    middle of the same slanting line.
    """
    bar, marks = _bar(row), _bars(row)
    pen.start((0.0, 0.0) if row.closed else (bar, -row.half))
    for i, middle in enumerate(marks):
        side = -1.0 if i % 2 == 0 else 1.0
        if i > 0 or row.closed:
            pen.go((middle, side * row.half))
        pen.arm((middle - bar, side * row.half))
        pen.arm((middle + bar, side * row.half))
    if row.closed:
        pen.go((row.length, 0.0))


def ladder(pen: Pen, row: Row) -> None:
    """Rungs between two lines along the edges; a rung at each end: symmetric.

    The line climbs one rung and goes down the next; of the edge it leaves bare it sews each piece forth and back.
    """
    marks = [0.0, *(end for _, end in steps(row.count, 0.0, row.length))]
    pen.start((0.0, -row.half))
    side = RIGHT
    for i, mark in enumerate(marks):
        if i:
            pen.go((mark, side * row.half))
        side = -side
        pen.go((mark, side * row.half))
        if i:
            pen.arm((marks[i - 1], side * row.half))


def herringbone_bays(row: Row, shortest: Mm) -> tuple[Beat, ...]:
    """Return the bays of herringbone: across the seam from each crossing."""
    crossed = _crossing(row, shortest, CROSSED)
    _, marks = _crossings(row, crossed)
    return bays_at([(mark, LEFT if i % 2 else RIGHT) for i, mark in enumerate(marks)], row.length)


def chevron_bays(row: Row, _shortest: Mm) -> tuple[Beat, ...]:
    """Return the bays of chevron: across the seam from each bar."""
    marks = _bars(row)
    return bays_at([(mark, LEFT if i % 2 == 0 else RIGHT) for i, mark in enumerate(marks)], row.length)


def _bars(row: Row) -> list[Mm]:
    """Return the middles of the bars of chevron."""
    if row.closed:
        return [(a + b) / 2.0 for a, b in steps(2 * row.count, 0.0, row.length)]
    bar = _bar(row)
    return [bar, *(end for _, end in steps(2 * row.count, bar, row.length - bar))]


def _bar(row: Row) -> Mm:
    return min(0.2 * row.repeat, 0.2 * row.length)


def cross(pen: Pen, row: Row) -> None:
    """Crosses side by side that touch at their tips, sewn from centre over tip to centre; symmetric.

    Crosses that stand apart are joined along the seam.
    """
    pen.start((0.0, row.half))
    for begin, end in row.cells():
        middle, reach = (begin + end) / 2.0, (end - begin) / 2.0
        pen.go((middle, 0.0))
        if row.gap and begin > 0.0:
            pen.arm((begin, row.half))
        pen.arm((middle - reach, -row.half))
        pen.arm((middle + reach, -row.half))
        if row.gap and end < row.length:
            pen.arm((end, row.half))
        else:
            pen.go((end, row.half))
