"""Fly stitch and its relations: pairs of arms that meet on the seam, one after the other."""

from __future__ import annotations

from hoopwright.core.types import Mm
from hoopwright.needle.seam_stitches.pen import Pen
from hoopwright.needle.seam_stitches.row import LEFT, RIGHT, Beat, Row, bays_at

SAG = 0.14
"""How much a pulled arm bows, as a part of its reach."""

FLY = 0.62
"""How far the arms of fly stitch reach back, as a part of a repeat's step."""

FERN = 0.95
"""The same for fern stitch."""


def fly(pen: Pen, row: Row) -> None:
    """Open V shapes, each caught on the seam and held by a tail that reaches the next. Keeps one direction."""
    _pairs(pen, row, SAG, FLY)


def fern(pen: Pen, row: Row) -> None:
    """Three straight stitches that meet on the seam, over and over, like a fern leaf. Keeps one direction."""
    _pairs(pen, row, 0.0, FERN)


def wheatear(pen: Pen, row: Row) -> None:
    """Two straight ears that meet on the seam, and a loop under them, over and over. Keeps one direction."""
    depth = 0.4 * row.length / row.count
    last = row.length - depth
    sides = row.takes(0)
    pen.start((0.0, row.half * sides[0]))
    for i, begin in enumerate(k * last / row.count for k in range(row.count)):
        end = begin + last / row.count
        _ears(pen, (begin, begin + depth), row.half, 0.0, row.takes(i))
        pen.chain_from_round_end((end + depth, 0.0), min(0.78 * row.half, 0.8 * (end - begin)))
    _ears(pen, (last, row.length), row.half, 0.0, row.takes(row.count))


def vandyke(pen: Pen, row: Row) -> None:
    """Arms to both edges from a plait along the seam, close together. Keeps one direction."""
    plait = min(0.62 * row.half, 1.1 * row.length / row.count)
    step = row.length / (row.count + 1.0)
    pen.start((0.0, 0.0))
    for i in range(row.count):
        root = (i + 1.0) * step
        pen.chain((root, 0.0), plait)
        for side in row.takes(i):
            pen.arm((root - step, side * row.half), -side * 0.1 * row.half)
    pen.go((row.length, 0.0))


def pair_bays(row: Row, _shortest: Mm) -> tuple[Beat, ...]:
    """Return the bays between the arms of fly stitch and its relations, over the catches, left and right in turn."""
    step = row.length / (row.count + FLY)
    return bays_at([((i + FLY) * step, LEFT if i % 2 == 0 else RIGHT) for i in range(row.count)], row.length)


def _pairs(pen: Pen, row: Row, sag: float, lean: float) -> None:
    """Sew pairs of arms; ``lean`` is how far the arms reach back, as a part of a repeat's step."""
    gap = min(row.gap, 0.5 * row.length / row.count)
    step = (row.length + gap) / (row.count + lean)
    pen.start((0.0, row.half * row.takes(0)[0]))
    for i in range(row.count):
        catch = i * step + lean * (step - gap)
        _ears(pen, (i * step, catch), row.half, sag, row.takes(i))
    pen.go((row.length, 0.0))


def _ears(pen: Pen, place: tuple[float, float], half: float, sag: float, sides: tuple[float, ...]) -> None:
    """Sew on to the catch and out to its arms; the very first arm is sewn on the way in."""
    tip, catch = place
    first = pen.at[1] != 0.0
    pen.go((catch, 0.0), sides[0] * sag * half if first else 0.0)
    for side in sides[1:] if first else sides:
        pen.arm((tip, side * half), -side * sag * half)
