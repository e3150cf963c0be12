"""Chain stitches: teardrop loops, in a line, to and fro, or in fans."""

from __future__ import annotations

import math

from hoopwright.core.types import Degrees, Mm
from hoopwright.needle.seam_stitches.pen import Pen, steps, vine
from hoopwright.needle.seam_stitches.row import Row

BAR = 0.36
"""Length of the bar between two links of cable chain, as a part of a repeat."""


def chain(pen: Pen, row: Row) -> None:
    """A line of loops along the seam, each out of the round end of the one before; the last is held by a short stitch."""
    hold = min(1.2, row.repeat * 0.35)
    pen.start((0.0, 0.0))
    for begin, end in row.cells(row.length - hold):
        pen.go((begin, 0.0))
        pen.chain((end, 0.0), 2.0 * row.half)
    pen.go((row.length, 0.0))


def cable_chain(pen: Pen, row: Row) -> None:
    """Links joined by short straight bars, like a chain on a winch; half a bar at each end."""
    pen.start((0.0, 0.0))
    for begin, end in row.cells():
        bar = BAR * (end - begin) / 2.0
        pen.go((begin + bar, 0.0))
        pen.chain((end - bar, 0.0), 2.0 * row.half)
        pen.go((end, 0.0))


def zigzag_chain(pen: Pen, row: Row) -> None:
    """Loops that lean to the left and right in turn. Keeps one direction; begins and ends on the same edge."""
    edge = 0.68 * row.half
    side = -1.0
    hold = min(1.2, row.repeat * 0.15)
    pen.start((0.0, side * edge))
    for begin, end in steps(2 * row.count, 0.0, row.length - hold):
        side = -side
        pen.chain((end, side * edge), 0.4 * math.hypot(end - begin, 2.0 * edge))
    pen.go((row.length, side * row.half * 0.9))


def feathered_chain(pen: Pen, row: Row) -> None:
    """A zigzag line with a leaf-like loop at each bend. Keeps one direction; ends run out on the seam."""
    bend = 0.22 * row.half
    leaf = 0.92 * row.half - bend
    pen.start((0.0, 0.0))
    for beat in row.beats():
        pen.go((beat.middle, beat.side * bend if row.sides != "both" else 0.0))
        for side in row.sides_of(beat):
            back = min(0.8 * leaf, 0.95 * beat.middle)
            pen.petal((beat.middle - back, side * (bend + leaf)), 0.62 * leaf)
    pen.go((row.length, 0.0))


def detached_chain_fan(pen: Pen, row: Row) -> None:
    """Fans of three loops on both sides of a waving line in turn; symmetric about each fan."""
    lean = 55.0 if pen.thick else 49.0
    for side in vine(pen, row, 0.1 * row.half):
        _petals(pen, side, 1.08 * row.half, (-lean, 0.0, lean))


def tete_de_boeuf(pen: Pen, row: Row) -> None:
    """A loop between two horns, on both sides of the seam in turn; symmetric about each head."""
    horn = math.radians(40.0)
    for side in vine(pen, row, 0.0):
        root = pen.at
        pen.petal((root[0], root[1] + side * 0.88 * row.half), 0.5 * row.half)
        for lean in (-1.0, 1.0):
            reach = min(1.05 * row.half, 1.25 * row.repeat / 4.0 / math.sin(horn))
            tip = (root[0] + lean * reach * math.sin(horn), root[1] + side * reach * math.cos(horn))
            pen.arm(tip, lean * side * 0.14 * reach)


def pekinese(pen: Pen, row: Row) -> None:
    """Small loops that lean back, close together on a line along the seam. Keeps one direction."""
    pen.start((0.0, 0.0))
    for i, (_, end) in enumerate(row.cells()):
        pen.go((end, 0.0))
        for side in (1.0,) if row.sides is None else row.takes(i):
            pen.petal((end - 0.55 * min(row.repeat, end), side * row.half), 0.6 * row.half)
    pen.go((row.length, 0.0))


def _petals(pen: Pen, side: float, length: Mm, turns: tuple[Degrees, ...]) -> None:
    """Sew loops from one root, turned from the upright by the given angles."""
    for turn in turns:
        angle = math.radians(turn)
        part = length * (1.0 if turn == 0.0 else 0.92)
        end = (pen.at[0] + part * math.sin(angle), pen.at[1] + side * part * math.cos(angle))
        pen.petal(end, 0.46 * part)
