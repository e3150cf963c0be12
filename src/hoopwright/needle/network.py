"""Lines that meet, as places and stretches between them.

Words: a *place* is where lines meet or end; a *stretch* is the piece of line between two places; the two *ends* of
stretch e are numbered 2e (at its first place) and 2e + 1 (at its last).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from scipy.sparse import csr_array
from scipy.sparse.csgraph import connected_components
from shapely.geometry import LineString

from hoopwright.core.tolerances import GRID, MERGE
from hoopwright.core.types import Mm, Point

Row = list[Point]


@dataclass(frozen=True, slots=True, eq=False)
class Network:
    """Places, and stretches with the two places they join, their length (mm) and their points in that direction."""

    places: tuple[Point, ...]
    joins: tuple[tuple[int, int], ...]
    lengths: tuple[Mm, ...]
    rows: tuple[Row, ...]

    @property
    def degrees(self) -> list[int]:
        """Return how many ends of stretches meet at each place."""
        count = [0] * len(self.places)
        for a, b in self.joins:
            count[a] += 1
            count[b] += 1
        return count

    def at(self, end: int) -> int:
        """Return the place where an end of a stretch lies."""
        return self.joins[end >> 1][end & 1]

    def shortest(self) -> dict[tuple[int, int], int]:
        """Return the shortest stretch between any two places that one joins, the lower place first."""
        order = sorted(enumerate(self.joins), key=lambda item: -self.lengths[item[0]])
        return {(min(a, b), max(a, b)): k for k, (a, b) in order}

    def lengths_table(self) -> csr_array:
        """Return the table of the shortest direct stretch between any two places, as a sparse array."""
        joins = np.sort(np.array(self.joins, dtype=np.intp).reshape(-1, 2), axis=1)
        lengths = np.array(self.lengths, dtype=np.float64)
        order = np.lexsort((lengths, joins[:, 1], joins[:, 0]))
        joins, lengths = joins[order], lengths[order]
        first = np.ones(len(joins), dtype=bool)
        first[1:] = (joins[1:] != joins[:-1]).any(axis=1)
        count = len(self.places)
        return csr_array((lengths[first], (joins[first, 0], joins[first, 1])), shape=(count, count))


def network_of(lines: Sequence[LineString], at: Sequence[Point] = ()) -> Network:
    """Return the network of ``lines``, noded where they touch; a stretch that passes nearest to one of ``at`` is parted there."""
    noded = shapely.union_all(list(lines), grid_size=GRID)
    parts = shapely.get_parts(shapely.line_merge(noded))
    coords, which = shapely.get_coordinates(parts, return_index=True)
    bounds = np.searchsorted(which, np.arange(len(parts) + 1)).tolist()
    points = [(x, y) for x, y in coords.tolist()]
    rows = [points[a:b] for a, b in pairwise(bounds)]
    for place in at:
        rows = _parted(rows, place)
    return _joined(rows)


def parts_of(network: Network) -> tuple[Network, ...]:
    """Return the connected parts of a network, the one with the lowest place first."""
    count, which = connected_components(network.lengths_table(), directed=False)
    if count == 1:
        return (network,)
    rows: list[list[Row]] = [[] for _ in range(count)]
    for (a, _), row in zip(network.joins, network.rows, strict=True):
        rows[which[a]].append(row)
    return tuple(sorted((_joined(r) for r in rows if r), key=lambda part: min(_key(p) for p in part.places)))


def _joined(rows: list[Row]) -> Network:
    """Return the network of rows of points whose ends meet; places are numbered by x, then y."""
    ends = [(_key(r[0]), _key(r[-1]), _length(r), r) for r in rows]
    kept = [end for end in ends if end[0] != end[1] or end[2] > MERGE]
    spots = {key: p for a, b, _, row in kept for key, p in ((b, row[-1]), (a, row[0]))}
    number = {key: i for i, key in enumerate(sorted(spots))}
    joined = [(number[a], number[b], length, row) for a, b, length, row in kept]
    joined.sort(key=lambda r: (min(r[0], r[1]), max(r[0], r[1]), len(r[3]), r[3][len(r[3]) // 2]))
    return Network(
        tuple(spots[k] for k in number),
        tuple((a, b) for a, b, _, _ in joined),
        tuple(length for _, _, length, _ in joined),
        tuple(row for _, _, _, row in joined),
    )


def _key(point: Point) -> tuple[int, int]:
    return round(point[0] / MERGE), round(point[1] / MERGE)


def _length(row: Row) -> Mm:
    return math.dist(row[0], row[1]) if len(row) == 2 else math.fsum(math.dist(p, q) for p, q in pairwise(row))


def _parted(rows: list[Row], place: Point) -> list[Row]:
    """Part the row that comes nearest to ``place`` at its point nearest to it."""
    lines = [LineString(r) for r in rows]
    best = int(np.argmin(shapely.distance(lines, shapely.Point(place))))
    row, line = rows[best], lines[best]
    along = line.project(shapely.Point(place))
    if along < MERGE or along > line.length - MERGE:
        return rows
    spot = line.interpolate(along)
    travelled = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(np.array(row), axis=0).T))])
    k = int(np.searchsorted(travelled, along, side="right"))
    middle = (spot.x, spot.y)
    halves = [_without_repeats([*row[:k], middle]), _without_repeats([middle, *row[k:]])]
    return [*rows[:best], *halves, *rows[best + 1 :]]


def _without_repeats(row: Row) -> Row:
    return [row[0], *(p for q, p in pairwise(row) if p != q)]
