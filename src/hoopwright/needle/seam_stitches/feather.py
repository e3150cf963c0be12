"""Feather stitches: loops to the left and right, each held by the next, worked towards the seam's end.

One rule makes the single, double and triple feather: with k loops to a side and half width H each loop is
w = 4H / (k + 2) wide, and the catch that holds it lies in its middle.
"""

from __future__ import annotations

from hoopwright.core.types import Mm
from hoopwright.needle.seam_stitches.pen import Pen, steps
from hoopwright.needle.seam_stitches.row import LEFT, RIGHT, Row

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


def closed_feather(pen: Pen, row: Row) -> None:
    """Loops whose arms lie along both edges, so that these are closed and a zigzag runs between. A whole loop at each end.

    Round a ring the first loop and the last one share their edge.
    """
    pieces = steps(2 * row.count, 0.0, row.length)
    pen.start((0.0, -row.half))
    for i, (begin, end) in enumerate(pieces):
        side = LEFT if i % 2 == 0 else RIGHT
        pen.go((end, side * row.half))
        if i or row.closed:
            pen.arm((max(0.0, 2.0 * begin - end), side * row.half))
        if row.closed and i == len(pieces) - 2:
            pen.arm((row.length, side * row.half))


def feather_with_knots(pen: Pen, row: Row) -> None:
    """One loop to each side in turn, with a knot on every arm."""
    _feather(pen, row, 1, knotted=True)


def maidenhair(pen: Pen, row: Row) -> None:
    """Three arms to each side in turn, one longer than the other, their tips in line like the leaves of the fern."""
    pen.start((0.0, 0.0))
    for beat in row.beats():
        wide = 0.9 * (beat.end - beat.begin)
        first = max(beat.begin, beat.end - wide)
        for along, across in ((0.45, 0.6), (1.0, 1.0)) if pen.thick else ((0.4, 0.45), (0.7, 0.75), (1.0, 1.0)):
            catch = first + along * (beat.end - first)
            pen.go((catch, 0.0))
            for side in row.sides_of(beat):
                pen.arm((max(0.0, first - 0.05 * wide), side * across * row.half), -side * 0.1 * across * row.half)
    pen.go((row.length, 0.0))


def _feather(pen: Pen, row: Row, loops: int, *, knotted: bool = False) -> None:
    """Sew the loops and hold the last one with a short straight stitch on the seam's end."""
    if row.sides in ("left", "right"):
        _one_sided(pen, row, loops, LEFT if row.sides == "left" else RIGHT, knotted=knotted)
        return
    width = 4.0 * row.half / (loops + 2)
    sides = [side for _ in range(row.count) for side in (1.0, -1.0) for _ in range(loops)]
    hold = row.length / (len(sides) + 0.7) * 0.7
    catch = -loops * width / 4.0
    pen.start((0.0, catch))
    for side, (begin, end) in zip(sides, steps(len(sides), 0.0, row.length - hold), strict=True):
        tip = catch + side * width
        catch += side * width / 2.0
        pen.go((end, catch), -side * SAG * width)
        _arm(pen, (begin + 0.12 * (end - begin), tip), -side * SAG * width, knotted=knotted)
    pen.go((row.length, catch * 0.6))


def _one_sided(pen: Pen, row: Row, loops: int, side: float, *, knotted: bool) -> None:
    """Sew all loops to one side of a line along the seam."""
    sag = side * SAG * row.half
    pen.start((0.0, 0.0))
    count = 2 * row.count * loops
    hold = row.length / (count + 0.7) * 0.7
    for begin, end in steps(count, 0.0, row.length - hold):
        pen.go((end, 0.0))
        _arm(pen, (begin + 0.12 * (end - begin), side * row.half), -sag, knotted=knotted)
    pen.go((row.length, 0.0))


def _arm(pen: Pen, tip: tuple[Mm, Mm], sag: Mm, *, knotted: bool) -> None:
    if knotted:
        pen.bud(tip, sag)
    else:
        pen.arm(tip, sag)
