"""Herringbone and its relations: slanting lines that cross near the edges."""

from __future__ import annotations

from hoopwright.needle.seam_stitches.pen import Pen, steps
from hoopwright.needle.seam_stitches.row import Row

CROSSED = 0.36
"""How far apart the two ends at an edge lie, as a part of half a repeat."""


def herringbone(pen: Pen, row: Row) -> None:
    """Long slanting stitches whose ends cross above and below, sewn from crossing to crossing.

    Symmetric about the seam's middle; begins and ends with a half unit on the seam line.
    """
    lean = CROSSED * row.repeat / 2.0
    halves = steps(2 * row.count, 0.0, row.length)
    cross = row.half * (1.0 - CROSSED) / (1.0 + CROSSED)
    pen.start((0.0, 0.0))
    for i, (begin, end) in enumerate(halves):
        side = 1.0 if i % 2 == 0 else -1.0
        middle = (begin + end) / 2.0
        pen.go((middle, side * cross), times=3)
        pen.arm((middle + lean / 2.0, side * row.half))
        pen.arm((middle - lean / 2.0, side * row.half))
    pen.go((row.length, 0.0), times=3)
