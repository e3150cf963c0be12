"""Satin letters where strokes meet: fewer needle holes where they lie close already.

Each column alone keeps its spacing. Where columns meet or lie over each other, their holes and their thread would add up; there a stitch
goes down in a hole that is at hand, or is left out: the thread below covers the cloth already.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Final

import numpy as np

from hoopwright.core.types import Mm, Point, Points

DISC: Final[Mm] = 1.0
"""Radius of the circle in which holes are counted, as large as the discs of HW604."""

MOST: Final = 7
"""So many holes round a new one are enough: behind the needle a column 1 mm wide at 0.4 mm has put three or four there, its underlay two or three."""

AT_HAND: Final[Mm] = 0.3
"""A hole so near serves for another stitch."""

MOST_LEFT_OUT: Final = 4
"""After so many stitches left out one by one the next goes down in the nearest hole, so that the thread stays on its stroke."""


class _Holes:
    """The holes of a letter, kept in squares as large as DISC."""

    def __init__(self) -> None:
        self._near: dict[tuple[int, int], list[Point]] = {}

    def around(self, place: Point) -> list[tuple[Mm, Point]]:
        """Return the holes within DISC of a place with their distances."""
        i, j = math.floor(place[0] / DISC), math.floor(place[1] / DISC)
        cells = (self._near.get((a, b), ()) for a in (i - 1, i, i + 1) for b in (j - 1, j, j + 1))
        return [(gap, hole) for cell in cells for hole in cell if (gap := math.dist(hole, place)) <= DISC]

    def add(self, place: Point) -> None:
        """Take in a hole."""
        cell = self._near.setdefault((math.floor(place[0] / DISC), math.floor(place[1] / DISC)), [])
        if place not in cell:
            cell.append(place)


def eased(rows: Iterable[Points], shortest: Mm, longest: Mm) -> Iterator[Points]:
    """Yield the rows of a letter with fewer holes where they lie close; no stitch gets shorter than ``shortest`` by it, nor longer
    than ``longest``.
    """
    holes = _Holes()
    for row in rows:
        yield _eased(row, holes, shortest, longest)


def _eased(row: Points, holes: _Holes, shortest: Mm, longest: Mm) -> Points:
    kept: list[Point] = []
    places: list[Point] = [(x, y) for x, y in row.tolist()]
    left_out = 0
    for number, place in enumerate(places):
        inner = 0 < number < len(places) - 1
        near = holes.around(place)
        if len(near) >= MOST and inner:
            gap, hole = min(near)
            too_far = math.dist(kept[-1], places[number + 1]) > longest
            if gap > AT_HAND and left_out < MOST_LEFT_OUT and not too_far:
                left_out += 1
                continue
            place = hole
        if inner and math.dist(kept[-1], place) < shortest:
            left_out += 1
            continue
        left_out = 0
        kept.append(place)
        holes.add(place)
    if len(kept) > 2 and math.dist(kept[-2], kept[-1]) < shortest:
        del kept[-2]
    return np.array(kept)
