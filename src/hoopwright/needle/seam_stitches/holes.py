"""Needle holes: where the needle goes down, never so dense that they cut the cloth.

A hole nearer than MERGED to an older one becomes that one. Where MOST holes already lie within a circle's width of a
new place, the needle goes down in the nearest of them instead. So no circle of CIRCLE radius ever holds more than
MOST holes, whatever crosses whatever; knots alone are let off. Satin stands closer: its stitches are counted in a disc
of DISC radius, and left out where thread lies already.
On a curved seam places are carried to the cloth first, and all this is measured there.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import TypeAlias

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Point

MERGED: Mm = 0.3
"""Holes nearer than this are one hole."""

CIRCLE: Mm = 0.5
"""Radius of the circle in which holes are counted."""

MOST = 4
"""Most holes in such a circle: 4 / (pi * 0.5^2) is 5 to the mm2 at one spot, below 3 to 4 over a whole mm2 (memory)."""

FINEST: Mm = 0.6
"""No stitch of an ornament is shorter than this, however short a stitch the machine allows."""

STEP_PARTS = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5)
"""Where a long way is cut, in even steps: shorter ones are tried where older holes are in the way."""

WIDE = 2.0 * CIRCLE
"""Two holes in one circle are never farther apart than this."""

DISC: Mm = 1.0
"""Radius of the circle in which holes round a stitch of satin are counted, as large as the discs of HW604."""

MOST_DISC = 8
"""Most holes within DISC of a new hole of satin: others follow, and HW604 speaks at 14."""

SHARED: Mm = 0.55
"""Satin over another row goes down in a hole of that one no farther away than this."""

Carry: TypeAlias = Callable[[Point], Point]


class Holes:
    """Collects the needle positions of one ornament in sewing order."""

    def __init__(self, shortest: Mm, longest: Mm, carry: Carry | None = None) -> None:
        """Start empty. ``shortest`` and ``longest`` bound every stitch; ``carry`` brings a place to the cloth."""
        self.shortest = shortest
        self.longest = longest
        self.row: list[Point] = []
        self._carry = carry
        self._flat: dict[Point, Point] = {}
        self._known: set[Point] = set()
        self._seeded = False
        self._near: dict[tuple[int, int], list[Point]] = {}

    def sew(self, place: Point, *, knot: bool = False) -> None:
        """Go to ``place``; a place too near the last one is left out, a long way is split evenly."""
        hole = self.carried(place)
        hole = self._lent(hole) if knot else self._settled(hole)
        if not self.row:
            self._prick(hole, place)
            return
        if math.dist(self.row[-1], hole) >= self.shortest - SAME_PLACE:
            self._split(hole, place)
            self._prick(hole, place)

    def satin(self, hole: Point, middle: Point, flat: Point, most: int) -> bool:
        """Sew one stitch of satin and say whether it was: not where ``most`` holes lie in a disc, nor too near the last.

        Over a row below, a hole of that one serves where there is no room for another. ``hole`` and the ``middle`` of its column lie
        on the cloth, ``flat`` is the middle along and across the seam.
        """
        dense = len(self._around(middle, DISC)) >= most or len(self._around(hole, DISC)) >= MOST_DISC
        if dense and not self._seeded:
            return False
        near = self._around(hole, SHARED if dense else MERGED)
        if dense and not near:
            return False
        hole = min(near)[1] if near else hole
        if math.dist(self.row[-1], hole) < self.shortest - SAME_PLACE:
            return False
        self._split(hole, flat)
        self._prick(hole, flat)
        return True

    def seed(self, holes: Iterable[Point]) -> None:
        """Take in the holes of the row below: they are there already."""
        for hole in holes:
            self._seeded = True
            if hole not in self._known:
                self._remember(hole)

    def carried(self, place: Point) -> Point:
        """Return where a place lies on the cloth."""
        return place if self._carry is None else self._carry(place)

    @property
    def curved(self) -> bool:
        """Whether places must be carried to the cloth."""
        return self._carry is not None

    def flat(self) -> list[Point]:
        """Return the needle positions along and across the seam."""
        return self.row if self._carry is None else [self._flat[hole] for hole in self.row]

    def mark(self) -> int:
        """Return the place in the row from which the next stitches can be gone back over."""
        return max(0, len(self.row) - 1)

    def back(self, mark: int) -> None:
        """Go back over the stitches since ``mark``, through the same holes."""
        self.row.extend(self.row[mark:-1][::-1])

    def _lent(self, hole: Point) -> Point:
        """Return a hole of the row below that serves for one of a knot, or the hole itself where there is room for it."""
        if not self._seeded or hole in self._known:
            return hole
        near = self._around(hole, DISC)
        gap, old = min(near, default=(DISC, hole))
        return old if gap <= SHARED or len(near) >= MOST_DISC else hole

    def _split(self, hole: Point, flat: Point) -> None:
        """Sew the steps of a way that is too long for one stitch: even ones where older holes allow."""
        start = self.row[-1]
        whole = math.dist(start, hole)
        if whole <= self.longest + SAME_PLACE:
            return
        begin = start if self._carry is None else self._flat[start]
        while (gap := math.dist(self.row[-1], hole)) > self.longest + SAME_PLACE:
            step = self._step_towards(hole, gap)
            t = min(1.0, math.dist(start, step) / whole)
            self._prick(step, (begin[0] + (flat[0] - begin[0]) * t, begin[1] + (flat[1] - begin[1]) * t))

    def _step_towards(self, hole: Point, gap: Mm) -> Point:
        """Return the next hole on a long way; the even place when no older hole nearby serves."""
        here = self.row[-1]
        even = 1.0 / math.ceil((gap - SAME_PLACE) / self.longest)
        for part in STEP_PARTS:
            t = even * part
            place = self._settled((here[0] + (hole[0] - here[0]) * t, here[1] + (hole[1] - here[1]) * t))
            left = math.dist(place, hole)
            if (
                self.shortest <= math.dist(here, place) <= self.longest
                and self.shortest <= left < gap - self.shortest / 2
            ):
                return place
        return here[0] + (hole[0] - here[0]) * even, here[1] + (hole[1] - here[1]) * even

    def _prick(self, hole: Point, flat: Point) -> None:
        self.row.append(hole)
        if self._carry is not None:
            self._flat.setdefault(hole, flat)
        if hole not in self._known:
            self._remember(hole)

    def _remember(self, hole: Point) -> None:
        self._known.add(hole)
        cell = self._near.setdefault((math.floor(hole[0] / WIDE), math.floor(hole[1] / WIDE)), [])
        cell.append(hole)

    def _around(self, place: Point, radius: Mm) -> list[tuple[Mm, Point]]:
        """Return the holes nearer than ``radius`` with their distances."""
        x, y = place
        near, floor = self._near, math.floor
        rows = range(floor((x - radius) / WIDE), floor((x + radius) / WIDE) + 1)
        columns = range(floor((y - radius) / WIDE), floor((y + radius) / WIDE) + 1)
        return [
            (gap, hole)
            for a in rows
            for b in columns
            for hole in near.get((a, b), ())
            if (gap := math.hypot(hole[0] - x, hole[1] - y)) <= radius
        ]

    def _settled(self, place: Point) -> Point:
        """Return the old hole that a place falls into, or the place itself."""
        if place in self._known:
            return place
        near = self._around(place, WIDE)
        if not near:
            return place
        gap, hole = min(near)
        return hole if gap < MERGED or len(near) >= MOST else place
