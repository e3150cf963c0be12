"""The pen: the verbs from which every seam stitch is written.

``go`` sews on to a new place, ``arm`` out to a tip and back, ``petal`` round a teardrop and back, ``chain`` round a
teardrop and on to its round end, ``knot`` a dot. The pen itself keeps arms and loops inside the room beside the
seam by drawing them in towards their root, never by cutting them off.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from hoopwright.core.types import Mm, Point
from hoopwright.needle.seam_stitches.holes import Holes
from hoopwright.needle.seam_stitches.parts import KNOT_STEP, bow, knot, mirrored, teardrop, teardrop_side
from hoopwright.needle.seam_stitches.room import Room
from hoopwright.needle.seam_stitches.row import Row

SHRINK = 0.93
"""By how much an arm is drawn in at a time until it fits."""

LEAST_PETAL = 2.2
"""A loop shorter than this many shortest stitches becomes a straight arm."""

BELLY = 0.28
"""How round a waving line bends, as a part of its wave."""

LEAST_LOOP = 0.2
"""A loop that would have less than this part of its width becomes a line."""

BENT_IN: Mm = 1.5
"""Length of stitches where a way must bend to stay inside the room."""

KNOT_RADIUS: Mm = 0.45
"""Radius of a knot where short stitches are allowed."""


class Pen:
    """Sews parts one after the other, in (along, across) seam coordinates."""

    def __init__(self, room: Room, holes: Holes) -> None:
        """Start with the thread nowhere yet."""
        self.room = room
        self.holes = holes
        self.at: Point = (0.0, 0.0)

    def start(self, place: Point) -> None:
        """Put the needle down at ``place``."""
        self.at = self.drawn_in(place)
        self.holes.sew(self.at)

    def go(self, place: Point, sag: Mm = 0.0, times: int = 1) -> None:
        """Sew on to ``place``, bowed by ``sag`` to the left; ``times`` is 1, or 3 for a bolder line."""
        target = self.drawn_in(place)
        way = self._bow(self.at, target, sag)
        self._over(way, times)
        self.at = target

    def arm(self, tip: Point, sag: Mm = 0.0, times: int = 2) -> None:
        """Sew out to ``tip`` and back over the same holes; drawn in towards the root where room is short."""
        self._over(self._fitting_arm(tip, sag), times)

    def petal(self, end: Point, width: Mm) -> None:
        """Sew a teardrop with its tip here and its round end at ``end``, and come back to the tip."""
        part = 1.0
        while part * math.dist(self.at, end) >= LEAST_PETAL * self.holes.shortest:
            far = self._towards(end, part)
            loop = teardrop(self.at, far, width * part, self.holes.shortest, self.holes.longest)
            if all(self.room.holds(p) for p in loop):
                self._walk(loop)
                return
            part *= SHRINK
        self.arm(end)

    def chain(self, end: Point, width: Mm) -> None:
        """Sew a teardrop with its tip here and stop at its round end, ready for the next."""
        far = self.drawn_in(end)
        left, right = self._fitting_loop(self.at, far, width)
        self._round_and_on([*left, far], [*right, far])

    def chain_from_round_end(self, tip: Point, width: Mm) -> None:
        """Sew a teardrop with its round end here and stop at its tip."""
        far = self.drawn_in(tip)
        left, right = self._fitting_loop(far, self.at, width)
        self._round_and_on([*reversed(left), far], [*reversed(right), far])

    def _fitting_loop(self, tip: Point, end: Point, width: Mm) -> tuple[list[Point], list[Point]]:
        """Return both sides of the widest loop up to ``width`` that fits, without its ends; nothing for a mere line."""
        part = 1.0
        while part >= LEAST_LOOP:
            left = teardrop_side(tip, end, width * part, self.holes.shortest, self.holes.longest)[:-1]
            right = mirrored(left, tip, end)
            if all(self.room.holds(p) for p in (*left, *right)):
                return left, right
            part *= SHRINK
        return [], []

    def _round_and_on(self, left: list[Point], right: list[Point]) -> None:
        """Sew along the left side, back along the right, and along the left again."""
        self._walk(left)
        self._walk([*reversed(right[:-1]), self.at])
        self._walk(left)
        self.at = left[-1]

    def knot_radius(self, wish: Mm = KNOT_RADIUS) -> Mm:
        """Return the radius of a knot: the wished one, or what the shortest stitch needs."""
        return max(wish, 1.01 * self.holes.shortest / KNOT_STEP)

    def knot(self, wish: Mm = KNOT_RADIUS) -> None:
        """Sew a dot just ahead of the needle and come out on its far side; nothing where it does not fit."""
        size = self.knot_radius(wish)
        dots = knot((self.at[0] + size, self.at[1]), size)
        if not all(self.room.holds(p) for p in dots):
            return
        for hole in dots:
            self.holes.sew(hole, knot=True)
        self.at = dots[-1]

    def drawn_in(self, place: Point) -> Point:
        """Return the place moved towards the seam as far as the room asks, and between the seam's ends."""
        along = min(max(place[0], 0.0), self.room.length)
        reach = self.room.reach(along, place[1])
        return along, min(max(place[1], -reach), reach)

    def _bow(self, a: Point, b: Point, sag: Mm) -> list[Point]:
        """Return a bowed way, flatter where its belly would leave the room, bent in where even a straight one would."""
        for part in (1.0, 0.5, 0.0) if sag else (0.0,):
            way = bow(a, b, sag * part, self.holes.shortest, self.holes.longest)
            if all(self.room.holds(p) for p in way):
                return way
        count = max(1, int(math.dist(a, b) / max(self.holes.shortest, BENT_IN)))
        straight = [(a[0] + (b[0] - a[0]) * i / count, a[1] + (b[1] - a[1]) * i / count) for i in range(1, count + 1)]
        return [self.drawn_in(p) for p in straight]

    def _fitting_arm(self, tip: Point, sag: Mm) -> list[Point]:
        """Return the longest arm towards ``tip`` that fits; only its root when not even one stitch does."""
        part = 1.0
        while part * math.dist(self.at, tip) >= self.holes.shortest:
            end = self._towards(tip, part)
            way = bow(self.at, end, sag * part, self.holes.shortest, self.holes.longest)
            if all(self.room.holds(p) for p in way):
                return way
            part *= SHRINK
        return [self.at]

    def _towards(self, tip: Point, part: float) -> Point:
        return self.at[0] + (tip[0] - self.at[0]) * part, self.at[1] + (tip[1] - self.at[1]) * part

    def _over(self, way: list[Point], times: int) -> None:
        """Sew a way forth and back, ``times`` times in all, each time through the same holes."""
        mark = self.holes.mark()
        self._walk(way)
        for _ in range(times - 1):
            here = self.holes.mark()
            self.holes.back(mark)
            mark = here

    def _walk(self, way: list[Point]) -> None:
        for place in way:
            self.holes.sew(place)


def steps(count: int, first: Mm, last: Mm) -> list[tuple[Mm, Mm]]:
    """Return ``count`` equal pieces of the way from ``first`` to ``last`` as (start, end)."""
    marks = [first + (last - first) * i / count for i in range(count + 1)]
    return list(pairwise(marks))


def vine(pen: Pen, row: Row, wave: Mm) -> Iterator[float]:
    """Sew a waving line of two bends a repeat, stopping at each bend with the side on which there is room.

    A bend lies ``wave`` mm from the seam, away from that side. Begins and ends on the seam.
    """
    pen.start((0.0, 0.0))
    for i, (begin, end) in enumerate(steps(2 * row.count, 0.0, row.length)):
        side, middle = 1.0 if i % 2 == 0 else -1.0, (begin + end) / 2.0
        sag = side * wave * BELLY
        pen.go((middle, -side * wave), -sag, times=3)
        yield side
        pen.go((end, 0.0), -sag, times=3)
