"""The pen: the verbs from which every seam stitch is written.

``go`` sews on to a new place, ``arm`` out to a tip and back, ``bud`` out to a knot and back, ``petal`` round a teardrop and
back, ``chain`` round a teardrop and on to its round end, ``knot`` a dot. The pen itself keeps arms and loops inside the
room beside the seam by drawing them in towards their root, never by cutting them off. It draws the thread once or three
times; ``cord`` has a pen that sews each line as a narrow column.
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
    """Sews parts one after the other, in (along, across) seam coordinates.

    ``thick`` is the width of its line in mm, 0 for plain thread: with a thick one a stitch may draw fewer arms.
    """

    def __init__(self, room: Room, holes: Holes, times: int = 3) -> None:
        """Start with the thread nowhere yet; ``times`` (odd) is how often lines are drawn."""
        self.room = room
        self.holes = holes
        self.times = times
        self.thick: Mm = 0.0
        self.at: Point = (0.0, 0.0)

    def finish(self) -> None:
        """Do what is left to do when the row has been drawn."""

    def start(self, place: Point) -> None:
        """Put the needle down at ``place``."""
        self.at = self.drawn_in(place)
        self.holes.sew(self.at)

    def go(self, place: Point, sag: Mm = 0.0) -> None:
        """Sew on to ``place``, bowed by ``sag`` to the left."""
        target = self.drawn_in(place)
        self.line(self._bow(self.at, target, sag))
        self.at = target

    def arm(self, tip: Point, sag: Mm = 0.0) -> None:
        """Sew out to ``tip`` and back over the same holes; drawn in towards the root where room is short."""
        self.limb(self._fitting_arm(tip, sag))

    def bud(self, tip: Point, sag: Mm = 0.0, wish: Mm = KNOT_RADIUS) -> None:
        """Sew out to a knot whose far side is ``tip`` and back; only an arm where there is no room for the knot."""
        size, whole = self.knot_radius(wish), math.dist(self.at, tip)
        ux, uy = ((tip[0] - self.at[0]) / whole, (tip[1] - self.at[1]) / whole) if whole > 0.0 else (1.0, 0.0)
        part = 1.0
        while part * whole >= 2.0 * size + self.holes.shortest:
            far = part * whole - size
            middle = (self.at[0] + ux * far, self.at[1] + uy * far)
            star = [(middle[0] + ux * u - uy * v, middle[1] + uy * u + ux * v) for u, v in self.dots(size)[:-2]]
            foot = (middle[0] - ux * size, middle[1] - uy * size)
            way = bow(self.at, foot, sag * part, self.holes.shortest, self.holes.longest)
            if all(self.room.holds(p) for p in (*way, *star)):
                self.berry(way, star)
                return
            part *= SHRINK
        self.arm(tip, sag)

    def petal(self, end: Point, width: Mm) -> None:
        """Sew a teardrop with its tip here and its round end at ``end``, and come back to the tip."""
        part = 1.0
        while part * math.dist(self.at, end) >= LEAST_PETAL * self.holes.shortest:
            far = self._towards(end, part)
            loop = teardrop(self.at, far, width * part, self.holes.shortest, self.holes.longest)
            if all(self.room.holds(p) for p in loop):
                self.loop(loop)
                return
            part *= SHRINK
        self.arm(end)

    def chain(self, end: Point, width: Mm) -> None:
        """Sew a teardrop with its tip here and stop at its round end, ready for the next."""
        far = self.drawn_in(end)
        left, right = self._fitting_loop(self.at, far, width)
        self.link([*left, far], [*right, far])
        self.at = far

    def chain_from_round_end(self, tip: Point, width: Mm) -> None:
        """Sew a teardrop with its round end here and stop at its tip."""
        far = self.drawn_in(tip)
        left, right = self._fitting_loop(far, self.at, width)
        self.link([*reversed(left), far], [*reversed(right), far])
        self.at = far

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

    def knot_radius(self, wish: Mm = KNOT_RADIUS) -> Mm:
        """Return the radius of a knot: the wished one, or what the shortest stitch needs."""
        return max(wish, 1.01 * self.holes.shortest / KNOT_STEP)

    def knot(self, wish: Mm = KNOT_RADIUS) -> None:
        """Sew a dot just ahead of the needle and come out on its far side; nothing where it does not fit."""
        size = self.knot_radius(wish)
        dots = [(self.at[0] + size + u, self.at[1] + v) for u, v in self.dots(size)]
        if not all(self.room.holds(p) for p in dots):
            return
        self.star(dots)
        self.at = dots[-1]

    def dots(self, size: Mm) -> list[Point]:
        """Return the needle positions of a knot about the origin, from its near side on; the last is on its far side."""
        return knot((0.0, 0.0), size)

    def line(self, way: list[Point]) -> None:
        """Sew along a way, forth and back and forth again for a bolder line, each time through the same holes."""
        self._over(way, self.times)

    def limb(self, way: list[Point]) -> None:
        """Sew out along a way and back."""
        self._over(way, 2)

    def loop(self, way: list[Point]) -> None:
        """Sew round a loop that comes back to the needle."""
        self._walk(way)

    def link(self, left: list[Point], right: list[Point]) -> None:
        """Sew both sides of a loop between the needle and its far end, and stop there."""
        self._walk(left)
        self._walk([*reversed(right[:-1]), self.at])
        self._walk(left)

    def star(self, dots: list[Point]) -> None:
        """Sew the stitches of a knot."""
        for hole in dots:
            self.holes.sew(hole, knot=True)

    def berry(self, way: list[Point], dots: list[Point]) -> None:
        """Sew along a way to a knot that stands at its end, sew the knot and come back."""
        mark = self.holes.mark()
        self._walk(way)
        back = self.holes.row[mark:][::-1]
        self.star(dots)
        near = math.dist(self.holes.row[-1], back[0]) < self.holes.shortest
        self.holes.row.extend(back[1:] if near else back)

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
    """Sew a waving line with a bend at every beat, stopping there with each side on which a motif is sewn.

    A bend lies ``wave`` mm from the seam, away from that side. Begins and ends on the seam.
    """
    pen.start((0.0, 0.0))
    for beat in row.beats():
        sides = row.sides_of(beat)
        bend = wave if len(sides) == 1 else 0.0
        sag = beat.side * bend * BELLY
        pen.go((beat.begin, 0.0))
        pen.go((beat.middle, -beat.side * bend), -sag)
        yield from sides
        pen.go((beat.end, 0.0), -sag)
