"""Coral stitches and their relations: a laid thread with knots, straight or waving."""

from __future__ import annotations

from hoopwright.needle.seam_stitches.pen import Pen, steps
from hoopwright.needle.seam_stitches.row import Row

WAVE = 0.8
"""How high the waves of a scroll are, as a part of the half width."""

CREST = 0.74
"""Where a wave of a scroll is highest, as a part of its length."""


def coral(pen: Pen, row: Row) -> None:
    """A line along the seam with a knot in the middle of every repeat; symmetric."""
    pen.start((0.0, 0.0))
    for begin, end in row.cells():
        size = pen.knot_radius(row.half)
        pen.go(((begin + end) / 2.0 - size, 0.0))
        pen.knot(size)
    pen.go((row.length, 0.0))


def zigzag_coral(pen: Pen, row: Row) -> None:
    """A line to and fro across the seam with a knot at every bend. Ends run out on the seam."""
    pen.start((0.0, 0.0))
    for beat in row.beats():
        size = pen.knot_radius()
        pen.go((beat.middle - size, beat.side * max(0.0, row.half - size)))
        pen.knot()
    pen.go((row.length, 0.0))


def scroll(pen: Pen, row: Row) -> None:
    """Waves that rise slowly and fall steeply, with a knot wherever one meets the seam. Keeps one direction."""
    pen.start((0.0, 0.0))
    beats = row.beats()
    for beat in beats:
        size, wide = pen.knot_radius(), beat.end - beat.begin
        crest = (beat.begin + CREST * wide, beat.side * WAVE * row.half)
        pen.go(crest, beat.side * 0.14 * wide)
        last = beat is beats[-1]
        pen.go((beat.end if last else beat.end - size, 0.0), beat.side * 0.06 * wide)
        if not last:
            pen.knot()


def knot_spray(pen: Pen, row: Row) -> None:
    """Sprays of three stems with a knot on each, on both sides of the seam in turn; symmetric about each spray."""
    pen.start((0.0, 0.0))
    for beat in row.beats():
        pen.go((beat.middle, 0.0))
        lean = min(0.8 * row.half, 0.42 * (beat.end - beat.begin))
        stems = ((-lean, 0.7), (0.0, 1.0), (lean, 0.7)) if lean > 2.0 * pen.knot_radius() else ((0.0, 1.0),)
        for side in row.sides_of(beat):
            for along, across in stems:
                pen.bud((beat.middle + along, side * across * row.half), side * 0.12 * along)
    pen.go((row.length, 0.0))


def lacing(pen: Pen, row: Row) -> None:
    """A waving line that swings from bay to bay, as a thread is laced through another stitch."""
    pen.start((0.0, 0.0))
    for beat in row.beats():
        pen.go((beat.begin, 0.0))
        pen.go((beat.end, 0.0), beat.side * row.half)
    pen.go((row.length, 0.0))


def threaded_running(pen: Pen, row: Row) -> None:
    """Dashes along the seam and a thread that waves through them, above and below in turn. Begins and ends in a dash."""
    pieces = steps(2 * row.count, 0.0, row.length)
    dash = 0.27 * (pieces[0][1] - pieces[0][0])
    pen.start((0.0, 0.0))
    for i, (begin, end) in enumerate(pieces):
        side = 1.0 if i % 2 == 0 else -1.0
        for tip in (begin + dash, begin - dash) if i else (begin + dash,):
            pen.arm((tip, 0.0))
        pen.go(((begin + end) / 2.0, side * row.half), side * 0.1 * (end - begin))
        pen.go((end, 0.0), side * 0.1 * (end - begin))
    pen.arm((row.length - dash, 0.0))
