"""Herringbone and its relations: slanting lines that cross near the edges."""

from __future__ import annotations

import math

from hoopwright.needle.seam_stitches.pen import Pen, steps
from hoopwright.needle.seam_stitches.row import Row

CROSSED = 0.42
"""How far apart the two ends at an edge lie, as a part of half a repeat."""

MOST_CROSSED = 0.8
"""The same where the stitch is so small that its ends would be shorter than a stitch."""


def herringbone(pen: Pen, row: Row) -> None:
    """Long slanting stitches whose ends cross above and below, sewn from crossing to crossing.

    Begins and ends with a whole slanting stitch on the same edge: symmetric about the seam's middle.
    """
    crossed = _crossing(row.repeat / 2.0, row.half, pen.holes.shortest)
    step = row.length / (2 * row.count + crossed)
    lean, cross = crossed * step / 2.0, row.half / (1.0 + crossed)
    pen.start((0.0, -row.half))
    for i in range(1, 2 * row.count):
        side, middle = 1.0 if i % 2 else -1.0, i * step + lean
        pen.go((middle, side * cross), times=3)
        pen.arm((middle - lean, side * row.half))
        pen.arm((middle + lean, side * row.half))
    pen.go((row.length, -row.half), times=3)


def _crossing(half_step: float, half: float, shortest: float) -> float:
    """Return how far the ends cross so that they are at least one stitch long, if they can be."""
    crossed = CROSSED
    while crossed < MOST_CROSSED and crossed * math.hypot(half_step / 2.0, half / (1.0 + crossed)) < 1.02 * shortest:
        crossed += 0.02
    return crossed


def chevron(pen: Pen, row: Row) -> None:
    """Slanting lines between short bars that lie along both edges.

    Begins and ends with a bar on the same edge: symmetric about the seam's middle.
    """
    bar = min(0.2 * row.repeat, 0.2 * row.length)
    marks = [bar, *(end for _, end in steps(2 * row.count, bar, row.length - bar))]
    pen.start((bar, -row.half))
    for i, middle in enumerate(marks):
        side = -1.0 if i % 2 == 0 else 1.0
        if i > 0:
            pen.go((middle, side * row.half), times=3)
        pen.arm((middle - bar, side * row.half))
        pen.arm((middle + bar, side * row.half))


def cross(pen: Pen, row: Row) -> None:
    """Crosses side by side that touch at their tips, sewn from centre over tip to centre; symmetric."""
    centres = [(begin + end) / 2.0 for begin, end in steps(row.count, 0.0, row.length)]
    reach = row.repeat / 2.0
    pen.start((0.0, row.half))
    for middle in centres:
        pen.go((middle, 0.0), times=3)
        pen.arm((middle - reach, -row.half))
        pen.arm((middle + reach, -row.half))
        pen.go((middle + reach, row.half), times=3)
