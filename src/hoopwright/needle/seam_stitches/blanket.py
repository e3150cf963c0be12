"""Blanket (buttonhole) stitches: a ridge along the seam and legs that stand on it."""

from __future__ import annotations

from hoopwright.needle.seam_stitches.pen import Pen, steps
from hoopwright.needle.seam_stitches.row import Row


def blanket(pen: Pen, row: Row) -> None:
    """Even legs to one side of a ridge on the seam; a leg at each end: symmetric about the seam's middle."""
    _legs(pen, row, ((1.0, 1.0),))


def long_short_blanket(pen: Pen, row: Row) -> None:
    """Long and short legs in turn to one side; a long leg at each end."""
    _legs(pen, row, ((1.0, 1.0), (1.0, 0.55)))


def double_blanket(pen: Pen, row: Row) -> None:
    """Legs to both sides in turn from a ridge on the seam; the same side at each end."""
    _legs(pen, row, ((1.0, 1.0), (-1.0, 1.0)))


def closed_blanket(pen: Pen, row: Row) -> None:
    """Legs that lean together in pairs, so that small tents stand on the seam."""
    pen.start((0.0, 0.0))
    for begin, end in steps(row.count, 0.0, row.length):
        peak = ((begin + end) / 2.0, row.half)
        pen.go(peak, times=3)
        pen.go((end, 0.0), times=3)
        pen.arm((begin, 0.0))


def _legs(pen: Pen, row: Row, pattern: tuple[tuple[float, float], ...]) -> None:
    """Sew legs of the given sides and lengths over and over, the first of the pattern again at the end."""
    legs = [*(leg for _ in range(row.count) for leg in pattern), pattern[0]]
    marks = [0.0, *(end for _, end in steps(len(legs) - 1, 0.0, row.length))]
    pen.start((0.0, 0.0))
    for mark, (side, part) in zip(marks, legs, strict=True):
        if mark > 0.0:
            pen.go((mark, 0.0), times=3)
        pen.arm((mark, side * part * row.half))
