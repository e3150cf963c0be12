"""Cretan stitch: a thread that swings across the seam and is caught each time inside the edge."""

from __future__ import annotations

from hoopwright.needle.seam_stitches.pen import Pen
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
    for beat in row.beats():
        sag = -beat.side * SWING * (beat.middle - pen.at[0])
        pen.go((beat.middle, beat.side * inner), sag)
        pen.arm((beat.middle, beat.side * row.half))
    pen.go((row.length, 0.0))
