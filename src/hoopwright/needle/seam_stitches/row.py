"""A row of repeats fitted to a seam.

Words: a *cell* is the stretch of the seam that one repeat takes, without the gap to the next; a *beat* is the stretch of one
motif that stands on one side of the seam, such as one fan of a row of fans. Rows whose motifs change sides have two
beats a repeat. A row sewn over another takes its beats from the *bays* of that one, so that its motifs fall between.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, Literal, TypeAlias

from hoopwright.core.types import Mm

Sides: TypeAlias = Literal["both", "left", "right", "alternate"]
"""To which sides of the seam a row reaches: to both at the same places, to one only, or to both in turn."""

CLOSER: Final = 1.5
"""Motifs that all stand on one side, or on both at once, stand so many to a repeat, so that they do not touch."""

LEFT: Final = 1.0
RIGHT: Final = -1.0


@dataclass(frozen=True, slots=True)
class Beat:
    """One motif along the seam: where it begins, its middle and end, and its side, LEFT or RIGHT."""

    begin: Mm
    middle: Mm
    end: Mm
    side: float


@dataclass(frozen=True, slots=True)
class Row:
    """``count`` whole repeats on a seam of ``length`` mm, reaching ``half`` to each side.

    ``gap`` is what lies between two repeats, ``sides`` where its motifs stand (None: as the stitch has them), ``given`` the beats
    of a row sewn over another. ``closed``: the seam is a ring, so that its end is its start and needs no end of its own.
    """

    count: int
    length: Mm
    half: Mm
    gap: Mm = 0.0
    sides: Sides | None = None
    given: tuple[Beat, ...] = ()
    closed: bool = False

    @property
    def repeat(self) -> Mm:
        """Length of one repeat, gap and all, when the row fills the seam."""
        return (self.length + self.gap) / self.count

    def cells(self, until: Mm | None = None) -> list[tuple[Mm, Mm]]:
        """Return where each repeat begins and ends, from 0 to ``until`` (the row's end)."""
        return _stretches(self.count, self.length if until is None else until, self.gap)

    def beats(self) -> tuple[Beat, ...]:
        """Return the beats in order: those given, else two a repeat, the first on the left; on one side if so wished."""
        alike = self.sides in ("left", "right", "both")
        count = 2 * self.count if not alike else max(1, round(CLOSER * self.count))
        beats = self.given or tuple(
            Beat(begin, (begin + end) / 2.0, end, LEFT if i % 2 == 0 else RIGHT)
            for i, (begin, end) in enumerate(_stretches(count, self.length, self.gap / 2.0))
        )
        if self.sides in ("left", "right"):
            return tuple(replace(b, side=LEFT if self.sides == "left" else RIGHT) for b in beats)
        return beats

    def sides_of(self, beat: Beat) -> tuple[float, ...]:
        """Return the sides on which the motif of a beat is sewn."""
        return (beat.side, -beat.side) if self.sides == "both" else (beat.side,)

    def takes(self, repeat: int) -> tuple[float, ...]:
        """Return the sides on which a stitch with equal sides sews its arms in a repeat (counted from 0)."""
        if self.sides in (None, "both"):
            return LEFT, RIGHT
        if self.sides == "alternate":
            return (LEFT if repeat % 2 == 0 else RIGHT,)
        return (LEFT if self.sides == "left" else RIGHT,)


def _stretches(count: int, length: Mm, gap: Mm) -> list[tuple[Mm, Mm]]:
    """Return ``count`` equal stretches of 0 to ``length`` with gaps between them; the gaps give way where room is short."""
    gap = min(gap, 0.5 * length / count)
    pitch = (length + gap) / count
    return [(i * pitch, (i + 1) * pitch - gap) for i in range(count)]


def bays_at(marks: Sequence[tuple[Mm, float]], length: Mm) -> tuple[Beat, ...]:
    """Return beats whose middles are the given (along, side), each reaching half way to its neighbours."""
    inner = [(a + b) / 2.0 for (a, _), (b, _) in pairwise(marks)]
    borders = [0.0, *inner, length]
    return tuple(
        Beat(begin, middle, end, side) for (begin, end), (middle, side) in zip(pairwise(borders), marks, strict=True)
    )


def opposite(row: Row) -> tuple[Beat, ...]:
    """Return the bays of a row whose motifs change sides: across the seam from each motif."""
    return tuple(replace(b, side=-b.side) for b in row.beats())


def between(row: Row) -> tuple[Beat, ...]:
    """Return the bays of a row with equal sides that stands closed in each repeat: between repeats, by turns left and right.

    A row of one repeat has a bay in its middle.
    """
    ends = [(a + b) / 2.0 for (_, a), (b, _) in pairwise(row.cells())] or [row.length / 2.0]
    return bays_at([(mark, LEFT if i % 2 == 0 else RIGHT) for i, mark in enumerate(ends)], row.length)


def inside(row: Row) -> tuple[Beat, ...]:
    """Return the bays of a row that stands open in the middle of each repeat, by turns left and right."""
    marks = [((a + b) / 2.0, LEFT if i % 2 == 0 else RIGHT) for i, (a, b) in enumerate(row.cells())]
    return bays_at(marks, row.length)


def whole_repeats(length: Mm, wish: Mm, gap: Mm = 0.0) -> int:
    """Return the whole number of repeats, at least one, that comes nearest to the wish (a half is rounded up)."""
    return max(1, math.floor((length + gap) / (wish + gap) + 0.5))


LEAST_PART = 0.6
"""A seam shorter than this part of a repeat is left plain: squeezed more, a stitch no longer reads."""


def has_room(length: Mm, wish: Mm) -> bool:
    """Whether a seam is long enough for one repeat, a little squeezed."""
    return length >= LEAST_PART * wish
