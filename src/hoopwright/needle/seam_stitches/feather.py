"""Feather stitches: loops to the left and right, each held by the next, worked towards the seam's end.

One rule makes the single, double and triple feather: with k loops to a side and half width H each loop is
w = 4H / (k + 2) wide, and the catch that holds it lies in its middle.
"""

from __future__ import annotations

from hoopwright.core.types import Mm
from hoopwright.needle.seam_stitches.pen import Pen, steps
from hoopwright.needle.seam_stitches.row import Row

SAG = 0.12
"""How much a pulled arm bows, as a part of the loop's width."""


def feather(pen: Pen, row: Row) -> None:
    """One loop to each side in turn."""
    _feather(pen, row, 1)


def double_feather(pen: Pen, row: Row) -> None:
    """Two loops to each side in turn: the spine wanders."""
    _feather(pen, row, 2)


def triple_feather(pen: Pen, row: Row) -> None:
    """Three loops to each side in turn."""
    _feather(pen, row, 3)


def _feather(pen: Pen, row: Row, loops: int) -> None:
    """Sew the loops and hold the last one with a short straight stitch on the seam's end."""
    width = 4.0 * row.half / (loops + 2)
    sides = [side for _ in range(row.count) for side in (1.0, -1.0) for _ in range(loops)]
    hold = row.length / (len(sides) + 0.7) * 0.7
    catch = -loops * width / 4.0
    pen.start((0.0, catch))
    for side, (begin, end) in zip(sides, steps(len(sides), 0.0, row.length - hold), strict=True):
        tip = catch + side * width
        catch += side * width / 2.0
        _loop(pen, (begin + 0.12 * (end - begin), tip), (end, catch), side * SAG * width)
    pen.go((row.length, catch * 0.6), times=3)


def _loop(pen: Pen, tip: tuple[Mm, Mm], catch: tuple[Mm, Mm], sag: Mm) -> None:
    pen.go(catch, -sag, times=3)
    pen.arm(tip, -sag)
