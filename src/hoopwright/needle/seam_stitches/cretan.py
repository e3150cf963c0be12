"""Cretan stitch: a thread that swings across the seam and is caught each time inside the edge."""

from __future__ import annotations

from hoopwright.needle.seam_stitches.pen import Pen, steps
from hoopwright.needle.seam_stitches.row import Row

INNER = 0.34
"""How far from the seam the thread is caught, as a part of the half width."""

SWING = 0.12
"""How much the thread bows between two catches, as a part of the way."""


def cretan(pen: Pen, row: Row) -> None:
    """Upright arms on both sides in turn, their feet joined by a swinging line.

    Keeps one direction; equal rests at both ends, where the line runs out on the seam.
    """
    inner = INNER * row.half
    pen.start((0.0, 0.0))
    for i, (begin, end) in enumerate(steps(2 * row.count, 0.0, row.length)):
        side, middle = 1.0 if i % 2 == 0 else -1.0, (begin + end) / 2.0
        sag = -side * SWING * (middle - pen.at[0])
        pen.go((middle, side * inner), sag, times=3)
        pen.arm((middle, side * row.half))
    pen.go((row.length, 0.0), times=3)
