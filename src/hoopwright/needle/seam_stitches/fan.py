"""Straight-stitch fans and stars: spokes from one root."""

from __future__ import annotations

import math

from hoopwright.core.types import Degrees, Mm
from hoopwright.needle.seam_stitches.pen import Pen, vine
from hoopwright.needle.seam_stitches.row import Row


def fan(pen: Pen, row: Row) -> None:
    """Fans of five straight stitches on both sides of a waving line in turn; symmetric about each fan."""
    for side in vine(pen, row, 0.12 * row.half):
        turns = (-58.0, 0.0, 58.0) if pen.thick else (-60.0, -30.0, 0.0, 30.0, 60.0)
        spokes(pen, 1.11 * row.half, turns, side, short=0.92)


def star(pen: Pen, row: Row) -> None:
    """Stars of eight straight stitches whose side arms join along the seam; symmetric."""
    lean = 0.62 * min(row.half, (row.repeat - row.gap) / 2.0)
    pen.start((0.0, 0.0))
    for i, (begin, end) in enumerate(row.cells()):
        pen.go(((begin + end) / 2.0, 0.0))
        for side in row.takes(i):
            for along, across in ((-lean, 0.62 * row.half), (0.0, row.half), (lean, 0.62 * row.half)):
                pen.arm((pen.at[0] + along, side * across))
        pen.go((end, 0.0))


def sheaf(pen: Pen, row: Row) -> None:
    """Sheaves of three upright stitches tied in the middle, on a line along the seam; symmetric."""
    pen.start((0.0, 0.0))
    for i, (begin, end) in enumerate(row.cells()):
        spread = 0.24 * (end - begin)
        pen.go(((begin + end) / 2.0, 0.0))
        for side in row.takes(i):
            for lean in (-spread, 0.0, spread):
                pen.arm((pen.at[0] + lean, side * row.half), side * 0.25 * lean)
        pen.go((end, 0.0))


def spokes(pen: Pen, length: Mm, turns: tuple[Degrees, ...], side: float, short: float = 1.0) -> None:
    """Sew straight arms from one root, turned from the upright by the given angles; leaning ones may be shorter."""
    for turn in turns:
        angle = math.radians(turn)
        part = length * (1.0 if turn == 0.0 else short)
        pen.arm((pen.at[0] + part * math.sin(angle), pen.at[1] + side * part * math.cos(angle)))
