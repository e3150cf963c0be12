"""Fly stitch and its relations: pairs of arms that meet on the seam, one after the other."""

from __future__ import annotations

from hoopwright.needle.seam_stitches.pen import Pen, steps
from hoopwright.needle.seam_stitches.row import Row

SAG = 0.14
"""How much a pulled arm bows, as a part of its reach."""


def fly(pen: Pen, row: Row) -> None:
    """Open V shapes, each caught on the seam and held by a tail that reaches the next. Keeps one direction."""
    _pairs(pen, row, SAG, 0.62)


def fern(pen: Pen, row: Row) -> None:
    """Three straight stitches that meet on the seam, over and over, like a fern leaf. Keeps one direction."""
    _pairs(pen, row, 0.0, 0.95)


def wheatear(pen: Pen, row: Row) -> None:
    """Two straight ears that meet on the seam, and a loop under them, over and over. Keeps one direction."""
    depth = 0.4 * row.repeat
    last = row.length - depth
    pen.start((0.0, row.half))
    for begin, end in steps(row.count, 0.0, last):
        _ears(pen, (begin, begin + depth), row.half, 0.0)
        pen.chain_from_round_end((end + depth, 0.0), min(0.78 * row.half, 0.8 * (end - begin)))
    _ears(pen, (last, row.length), row.half, 0.0)


def _pairs(pen: Pen, row: Row, sag: float, lean: float) -> None:
    """Sew pairs of arms; ``lean`` is how far the arms reach back, as a part of a repeat's step."""
    step = row.length / (row.count + lean)
    pen.start((0.0, row.half))
    for i in range(row.count):
        _ears(pen, (i * step, (i + lean) * step), row.half, sag)
    pen.go((row.length, 0.0), times=3)


def _ears(pen: Pen, place: tuple[float, float], half: float, sag: float) -> None:
    """Sew on to the catch and out to both arms; the very first arm is sewn on the way in."""
    tip, catch = place
    first = pen.at[1] != 0.0
    pen.go((catch, 0.0), sag * half if first else 0.0, times=3)
    if not first:
        pen.arm((tip, half), -sag * half)
    pen.arm((tip, -half), sag * half)
