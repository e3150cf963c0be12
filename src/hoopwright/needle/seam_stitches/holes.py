"""Needle holes: where the needle goes down, never so dense that they cut the cloth.

A hole nearer than MERGED to an older one becomes that one. Where MOST holes already lie within a circle's width of a
new place, the needle goes down in the nearest of them instead. So no circle of CIRCLE radius ever holds more than
MOST holes, whatever crosses whatever; knots alone are let off.
"""

from __future__ import annotations

import math

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


class Holes:
    """Collects the needle positions of one ornament in sewing order."""

    def __init__(self, shortest: Mm, longest: Mm) -> None:
        """Start empty. ``shortest`` and ``longest`` bound every stitch."""
        self.shortest = shortest
        self.longest = longest
        self.row: list[Point] = []
        self._known: set[Point] = set()
        self._near: dict[tuple[int, int], list[Point]] = {}

    def sew(self, place: Point, *, knot: bool = False) -> None:
        """Go to ``place``; a place too near the last one is left out, a long way is split evenly."""
        hole = place if knot else self._settled(place)
        if not self.row:
            self._prick(hole)
            return
        if math.dist(self.row[-1], hole) >= self.shortest - SAME_PLACE:
            self._split(hole)
            self._prick(hole)

    def mark(self) -> int:
        """Return the place in the row from which the next stitches can be gone back over."""
        return max(0, len(self.row) - 1)

    def back(self, mark: int) -> None:
        """Go back over the stitches since ``mark``, through the same holes."""
        self.row.extend(self.row[mark:-1][::-1])

    def _split(self, hole: Point) -> None:
        """Sew the steps of a way that is too long for one stitch: even ones where older holes allow."""
        while (gap := math.dist(self.row[-1], hole)) > self.longest + SAME_PLACE:
            self._prick(self._step_towards(hole, gap))

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

    def _prick(self, hole: Point) -> None:
        self.row.append(hole)
        if hole in self._known:
            return
        self._known.add(hole)
        cell = self._near.setdefault((math.floor(hole[0] / WIDE), math.floor(hole[1] / WIDE)), [])
        cell.append(hole)

    def _settled(self, place: Point) -> Point:
        """Return the old hole that a place falls into, or the place itself."""
        if place in self._known:
            return place
        i, j = math.floor(place[0] / WIDE), math.floor(place[1] / WIDE)
        near = [
            (gap, hole)
            for a in (i - 1, i, i + 1)
            for b in (j - 1, j, j + 1)
            for hole in self._near.get((a, b), ())
            if (gap := math.hypot(hole[0] - place[0], hole[1] - place[1])) <= WIDE
        ]
        if not near:
            return place
        gap, hole = min(near)
        return hole if gap < MERGED or len(near) >= MOST else place
