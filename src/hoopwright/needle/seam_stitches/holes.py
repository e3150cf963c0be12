"""Needle holes: where the needle goes down, no two so near that they cut the cloth.

Two holes nearer than SPREAD become one. Five places in a circle of 0.5 mm radius cannot all be 0.59 mm apart
(2 * 0.5 * sin 36 degrees), so at most four holes ever lie in such a circle; knots alone are let off.
"""

from __future__ import annotations

import math

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Point

SPREAD: Mm = 0.6
"""Holes of the same ornament are at least this far apart, or one."""


class Holes:
    """Collects the needle positions of one ornament in sewing order."""

    def __init__(self, shortest: Mm, longest: Mm) -> None:
        """Start empty. ``shortest`` and ``longest`` bound every stitch."""
        self.shortest = shortest
        self.longest = longest
        self.row: list[Point] = []
        self._near: dict[tuple[int, int], list[Point]] = {}

    def sew(self, place: Point, *, knot: bool = False) -> None:
        """Go to ``place``; a place too near the last one is left out, a long way is split evenly."""
        hole = place if knot else self._settled(place)
        if not self.row:
            self._prick(hole)
            return
        gap = math.dist(self.row[-1], hole)
        if gap < self.shortest - SAME_PLACE:
            return
        self._split(hole, gap)
        self._prick(hole)

    def _split(self, hole: Point, gap: Mm) -> None:
        """Sew the even steps of a way that is too long for one stitch."""
        count = math.ceil((gap - SAME_PLACE) / self.longest)
        start = self.row[-1]
        for i in range(1, count):
            t = i / count
            self._prick((start[0] + (hole[0] - start[0]) * t, start[1] + (hole[1] - start[1]) * t))

    def _prick(self, hole: Point) -> None:
        self.row.append(hole)
        cell = self._near.setdefault((int(hole[0] // SPREAD), int(hole[1] // SPREAD)), [])
        if hole not in cell:
            cell.append(hole)

    def _settled(self, place: Point) -> Point:
        """Return the nearest hole within SPREAD, or the place itself when there is none."""
        i, j = int(place[0] // SPREAD), int(place[1] // SPREAD)
        best, best_gap = place, SPREAD
        for a in (i - 1, i, i + 1):
            for b in (j - 1, j, j + 1):
                for hole in self._near.get((a, b), ()):
                    gap = math.hypot(hole[0] - place[0], hole[1] - place[1])
                    if gap < best_gap - SAME_PLACE:
                        best, best_gap = hole, gap
        return best
