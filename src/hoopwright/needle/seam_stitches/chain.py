"""Chain stitches: teardrop loops, in a line, to and fro, or in fans."""

from __future__ import annotations

import math

from hoopwright.core.types import Degrees, Mm
from hoopwright.needle.seam_stitches.pen import Pen, steps, vine
from hoopwright.needle.seam_stitches.row import Row


def chain(pen: Pen, row: Row) -> None:
    """A line of loops along the seam, each out of the round end of the one before; the last is held by a short stitch."""
    hold = min(1.2, row.repeat * 0.35)
    pen.start((0.0, 0.0))
    for _, end in steps(row.count, 0.0, row.length - hold):
        pen.chain((end, 0.0), 2.0 * row.half)
    pen.go((row.length, 0.0), times=3)


def zigzag_chain(pen: Pen, row: Row) -> None:
    """Loops that lean to the left and right in turn. Keeps one direction; begins and ends on the same edge."""
    edge = 0.68 * row.half
    side = -1.0
    hold = min(1.2, row.repeat * 0.15)
    pen.start((0.0, side * edge))
    for begin, end in steps(2 * row.count, 0.0, row.length - hold):
        side = -side
        pen.chain((end, side * edge), 0.4 * math.hypot(end - begin, 2.0 * edge))
    pen.go((row.length, side * row.half * 0.9), times=3)


def feathered_chain(pen: Pen, row: Row) -> None:
    """A zigzag line with a leaf-like loop at each bend. Keeps one direction; ends run out on the seam."""
    bend = 0.22 * row.half
    leaf = 0.92 * row.half - bend
    pen.start((0.0, 0.0))
    for i, (begin, end) in enumerate(steps(2 * row.count, 0.0, row.length)):
        side, middle = 1.0 if i % 2 == 0 else -1.0, (begin + end) / 2.0
        pen.go((middle, side * bend), times=3)
        pen.petal((middle - min(0.8 * leaf, 0.95 * middle), side * (bend + leaf)), 0.62 * leaf)
    pen.go((row.length, 0.0), times=3)


def detached_chain_fan(pen: Pen, row: Row) -> None:
    """Fans of three loops on both sides of a waving line in turn; symmetric about each fan."""
    for side in vine(pen, row, 0.1 * row.half):
        _petals(pen, side, 1.08 * row.half, (-49.0, 0.0, 49.0))


def _petals(pen: Pen, side: float, length: Mm, turns: tuple[Degrees, ...]) -> None:
    """Sew loops from one root, turned from the upright by the given angles."""
    for turn in turns:
        angle = math.radians(turn)
        part = length * (1.0 if turn == 0.0 else 0.92)
        end = (pen.at[0] + part * math.sin(angle), pen.at[1] + side * part * math.cos(angle))
        pen.petal(end, 0.46 * part)
