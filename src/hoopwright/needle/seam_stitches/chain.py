"""Chain stitches: teardrop loops, each coming out of the round end of the one before."""

from __future__ import annotations

from hoopwright.needle.seam_stitches.pen import Pen, steps
from hoopwright.needle.seam_stitches.row import Row


def chain(pen: Pen, row: Row) -> None:
    """A line of chain loops along the seam; the last is held by a short stitch over its round end."""
    hold = min(1.2, row.repeat * 0.35)
    pen.start((0.0, 0.0))
    for _, end in steps(row.count, 0.0, row.length - hold):
        pen.chain((end, 0.0), 2.0 * row.half)
    pen.go((row.length, 0.0), times=3)
