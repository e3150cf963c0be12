"""Rows joined to one line: along one, over the edge to the next, and back.

Words: a *row* is a piece of a line that begins and ends at the edge. The way from one row to the next follows the edge,
or, where that is much shorter, a row once more.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra
from shapely.geometry import LineString, Polygon

from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm, Points
from hoopwright.needle.grounds.along_edge import Marks, marks_on_edge

AGAIN: Final = 1.5
"""A row sewn a second time counts this much longer than the edge (by eye: the edge hides a second line better)."""

MOST_STARTS: Final = 24
"""So many rows are tried as the first one, spread over all; a search of fixed size."""


@dataclass(frozen=True, slots=True, eq=False)
class _Ways:
    """Places 2i and 2i + 1 are the ends of row i; ``length`` and ``before`` tell the shortest way between any two."""

    length: NDArray[np.float64]
    before: NDArray[np.int32]
    drawn: dict[tuple[int, int], Points]


def serpentine(rows: Sequence[LineString], part: Polygon) -> tuple[LineString, ...]:
    """Return the rows as one line, or several where neither edge nor rows lead from one to the other."""
    if not rows:
        return ()
    ways = _ways(rows, part)
    left = np.arange(len(rows))
    lines = []
    while len(left):
        reached = left[np.isfinite(ways.length[2 * left[0], 2 * left])]
        orders = [_nearest(ways.length, reached, start) for start in _starts(reached)]
        order = min(orders, key=lambda o: o[0])[1]
        lines.append(LineString(_drawn(rows, order, ways)))
        left = np.setdiff1d(left, reached)
    return tuple(lines)


def _ways(rows: Sequence[LineString], part: Polygon) -> _Ways:
    """Return the shortest ways between all ends of rows along the edge and over rows."""
    links: dict[tuple[int, int], tuple[Mm, Points]] = {}
    for i, row in enumerate(rows):
        _link(links, 2 * i, 2 * i + 1, AGAIN * row.length, np.asarray(row.coords)[:, :2])
    for marks in marks_on_edge(rows, part):
        _edge_links(links, marks)
    pairs = list(links)
    size = 2 * len(rows)
    table = csr_array(
        ([links[p][0] for p in pairs], ([p[0] for p in pairs], [p[1] for p in pairs])), shape=(size, size)
    )
    length, before = dijkstra(table, directed=False, return_predecessors=True)
    return _Ways(length, before, {p: points for p, (_, points) in links.items()})


def _edge_links(links: dict[tuple[int, int], tuple[Mm, Points]], marks: Marks) -> None:
    nodes = [[2 * piece + end for piece, end in ends] for ends in marks.ends]
    for i, same in enumerate(nodes):
        for other in same[1:]:
            _link(links, same[0], other, MERGE, marks.points[[i, i]])
        after = nodes[(i + 1) % len(nodes)][0]
        if after != same[0]:
            _link(links, same[0], after, float(marks.arcs[i]), marks.arc(i))


def _link(links: dict[tuple[int, int], tuple[Mm, Points]], a: int, b: int, length: Mm, points: Points) -> None:
    """Keep the shorter of two ways between the same places."""
    key, row = ((a, b), points) if a < b else ((b, a), points[::-1])
    if key not in links or length < links[key][0]:
        links[key] = (max(length, MERGE), row)


def _starts(rows: NDArray[np.intp]) -> list[int]:
    """Return ends at which the line may begin: of rows spread over all, the first and last among them."""
    picked = np.unique(np.linspace(0, len(rows) - 1, min(len(rows), MOST_STARTS)).round().astype(int))
    return [2 * int(rows[i]) + end for i in picked for end in (0, 1)]


def _nearest(length: NDArray[np.float64], rows: NDArray[np.intp], start: int) -> tuple[Mm, list[int]]:
    """Return the way travelled between rows and the ends at which they are entered, going to the nearest one each time."""
    free = np.full(len(length), np.inf)
    free[2 * rows] = free[2 * rows + 1] = 0.0
    order, travelled = [start], 0.0
    for _ in range(len(rows) - 1):
        free[[order[-1], order[-1] ^ 1]] = np.inf
        away = length[order[-1] ^ 1] + free
        after = int(np.argmin(away))
        travelled += float(away[after])
        order.append(after)
    return travelled, order


def _drawn(rows: Sequence[LineString], order: Sequence[int], ways: _Ways) -> Points:
    """Return the line that enters rows at these ends."""
    parts: list[Points] = []
    for k, entry in enumerate(order):
        if k:
            parts += _way(order[k - 1] ^ 1, entry, ways)
        row = np.asarray(rows[entry // 2].coords)[:, :2]
        parts.append(row if entry % 2 == 0 else row[::-1])
    return np.concatenate(parts)


def _way(start: int, end: int, ways: _Ways) -> list[Points]:
    """Return the pieces of the shortest way between two places, in order."""
    found: list[Points] = []
    at = end
    while at != start:
        came = int(ways.before[start, at])
        key = (min(came, at), max(came, at))
        found.append(ways.drawn[key] if key[0] == came else ways.drawn[key][::-1])
        at = came
    return found[::-1]
