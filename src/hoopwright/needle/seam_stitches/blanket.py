"""Blanket (buttonhole) stitches: a ridge along the seam and legs that stand on it."""

from __future__ import annotations

import math

from hoopwright.core.types import Mm
from hoopwright.needle.seam_stitches.pen import Pen, steps
from hoopwright.needle.seam_stitches.row import LEFT, RIGHT, Beat, Row, bays_at

PAIR = 0.26
"""How far apart the legs of a pair stand, as a part of a repeat."""

LEAST_PAIR = 2.0
"""The same at the least, in shortest stitches or widths of a cord."""


def blanket(pen: Pen, row: Row) -> None:
    """Even legs to one side of a ridge on the seam; a leg at each end: symmetric about the seam's middle."""
    _legs(pen, row, (1.0,), (LEFT,))


def long_short_blanket(pen: Pen, row: Row) -> None:
    """Long and short legs in turn to one side; a long leg at each end."""
    _legs(pen, row, (1.0, 0.55), (LEFT,))


def double_blanket(pen: Pen, row: Row) -> None:
    """Legs to both sides in turn from a ridge on the seam; the same side at each end."""
    _legs(pen, row, (1.0, 1.0), (LEFT, RIGHT))


def up_and_down_blanket(pen: Pen, row: Row) -> None:
    """Pairs of legs that stand close together on a ridge; half a gap at each end: symmetric."""
    pen.start((0.0, 0.0))
    for i, (begin, end) in enumerate(row.cells()):
        middle, apart = (begin + end) / 2.0, max(PAIR * (end - begin), LEAST_PAIR * max(pen.thick, pen.holes.shortest))
        for mark in (middle - apart / 2.0, middle + apart / 2.0):
            pen.go((mark, 0.0))
            for side in _sides(row, i, (LEFT,)):
                pen.arm((mark, side * row.half))
    pen.go((row.length, 0.0))


def closed_blanket(pen: Pen, row: Row) -> None:
    """Legs that lean together in pairs, so that small tents stand on the seam."""
    pen.start((0.0, 0.0))
    for i, (begin, end) in enumerate(row.cells()):
        pen.go((begin, 0.0))
        (side, *_) = _sides(row, i, (LEFT,))
        pen.go(((begin + end) / 2.0, side * row.half))
        pen.go((end, 0.0))
        pen.arm((begin, 0.0))


def half_wheel(pen: Pen, row: Row) -> None:
    """Half wheels: legs from one root to a rim of arcs, on both sides of the seam in turn."""
    pen.start((0.0, 0.0))
    for beat in row.beats():
        pen.go((beat.middle, 0.0))
        for side in row.sides_of(beat):
            _half_wheel(pen, min(row.half, 0.5 * (beat.end - beat.begin)), row.half, side)
    pen.go((row.length, 0.0))


def _half_wheel(pen: Pen, wide: Mm, high: Mm, side: float) -> None:
    """Sew one half wheel about the needle: out to the rim, round it with a leg at each mark, and home."""
    hub, legs = pen.at, 4 if pen.thick else 6
    for i in range(legs + 1):
        angle = math.pi * i / legs
        rim = (hub[0] - wide * math.cos(angle), hub[1] + side * high * math.sin(angle))
        chord = math.dist(rim, pen.at)
        pen.go(rim, 0.0 if i == 0 else side * 0.13 * chord)
        if 0 < i < legs:
            pen.arm(hub)
    pen.go(hub)


def leg_bays(row: Row, _shortest: Mm) -> tuple[Beat, ...]:
    """Return the bays between the legs of a blanket stitch."""
    sides = _sides(row, 0, (LEFT,))
    return bays_at([((a + b) / 2.0, sides[i % len(sides)]) for i, (a, b) in enumerate(row.cells())], row.length)


def _legs(pen: Pen, row: Row, parts: tuple[float, ...], own: tuple[float, ...]) -> None:
    """Sew legs of the given lengths over and over, the first again at the end, on the sides of the row or the stitch's own."""
    count = row.count * len(parts)
    marks = [0.0, *(end for _, end in steps(count, 0.0, row.length))]
    pen.start((0.0, 0.0))
    for i, mark in enumerate(marks):
        if mark > 0.0:
            pen.go((mark, 0.0))
        for side in _sides(row, i, own):
            pen.arm((mark, side * parts[i % len(parts)] * row.half))


def _sides(row: Row, i: int, own: tuple[float, ...]) -> tuple[float, ...]:
    """Return on which sides the i-th leg stands."""
    return (own[i % len(own)],) if row.sides is None else row.takes(i)
