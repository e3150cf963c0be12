"""Coral stitches: a laid thread with knots."""

from __future__ import annotations

from hoopwright.needle.seam_stitches.pen import Pen, steps
from hoopwright.needle.seam_stitches.row import Row


def coral(pen: Pen, row: Row) -> None:
    """A line along the seam with a knot in the middle of every repeat; symmetric."""
    pen.start((0.0, 0.0))
    for begin, end in steps(row.count, 0.0, row.length):
        pen.go(((begin + end) / 2.0 - row.half, 0.0), times=3)
        pen.knot(row.half)
    pen.go((row.length, 0.0), times=3)


def zigzag_coral(pen: Pen, row: Row) -> None:
    """A line to and fro across the seam with a knot at every bend. Ends run out on the seam."""
    pen.start((0.0, 0.0))
    for i, (begin, end) in enumerate(steps(2 * row.count, 0.0, row.length)):
        side = 1.0 if i % 2 == 0 else -1.0
        size = pen.knot_radius()
        pen.go(((begin + end) / 2.0 - size, side * (row.half - size)), times=3)
        pen.knot()
    pen.go((row.length, 0.0), times=3)
