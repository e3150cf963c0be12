"""Rows joined by sewing from one to the next where nobody sees it, before the thread is cut.

Words: a *way* leads from the end of a row to the beginning of the next. It may run along lines that are sewn anyway (before or
after), and through ground that later cloth covers; nowhere else, for there it would show.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra
from shapely.geometry import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.tolerances import FLAT, GRID, MERGE, SAME_PLACE
from hoopwright.core.types import Mm, Points
from hoopwright.needle.lines import even_stitches
from hoopwright.needle.routing import TRIM_WORTH

OFF_EDGE: Final[Mm] = 0.5
"""Hidden ways stay this far inside the cloth that will cover them, because cloth is never laid quite true."""
MOST_CORNERS: Final = 120
"""Straight ways through hidden ground are looked for between at most so many places."""


def joined(
    rows: Sequence[Points],
    length: Mm,
    shortest: Mm,
    hidden: BaseGeometry | None = None,
    along: Sequence[LineString] = (),
    worth: Mm = TRIM_WORTH,
) -> list[Points]:
    """Return the rows, those that can be reached unseen from the one before sewn on to it.

    ``hidden`` is ground that later cloth covers, ``along`` lines sewn before or after; the rows themselves are such lines too.
    Ways are sewn in stitches of at most ``length`` and not under ``shortest``, mm; longer ways than ``worth`` are left to a cut.
    Where a way bends within ``shortest`` of its end, the stitch there cuts that corner.
    """
    if len(rows) < 2:
        return list(rows)
    ways = _Ways(rows, hidden, along)
    done = [rows[0]]
    for row in rows[1:]:
        way = ways.between(done[-1][-1], row[0], worth)
        if way is None:
            done.append(row)
        else:
            done[-1] = _sewn_on(done[-1], way, row, length, shortest)
    return done


def _sewn_on(row: Points, way: Points, onward: Points, length: Mm, shortest: Mm) -> Points:
    """Return both rows as one with the way between them; a way shorter than a stitch takes the next row's first place away."""
    line = LineString(way) if len(way) > 1 else None
    if line is None or line.length <= SAME_PLACE:
        return np.concatenate([row, onward[1:]])
    if line.length < shortest:
        return np.concatenate([row, onward[1:] if len(onward) > 2 else onward])
    return np.concatenate([row, even_stitches(line, length, shortest)[1:-1], onward])


class _Ways:
    """Places and the ways between them, along lines and through hidden ground."""

    def __init__(self, rows: Sequence[Points], hidden: BaseGeometry | None, along: Sequence[LineString]) -> None:
        lines = [*(LineString(row) for row in rows if len(row) > 1), *along]
        parts = shapely.get_parts(shapely.union_all(lines, grid_size=GRID))
        coords, which = shapely.get_coordinates(parts, return_index=True)
        ends = np.array([row[k] for row in rows for k in (0, -1)])
        ground = None if hidden is None else hidden.buffer(-OFF_EDGE, join_style="mitre")
        corners = _corners(ground)
        self.places, number = np.unique(
            np.round(np.concatenate([coords, ends, corners]) / MERGE).astype(np.int64), axis=0, return_inverse=True
        )
        number = number.reshape(-1)
        same = np.flatnonzero(which[1:] == which[:-1])
        links = [np.column_stack([number[same], number[same + 1]])]
        if ground is not None and len(corners):
            links.append(
                _straight(np.asarray(self.places * MERGE, dtype=np.float64), np.unique(number[len(coords) :]), ground)
            )
        self.table = self._table(np.concatenate(links))

    def _table(self, links: NDArray[np.intp]) -> csr_array:
        links = np.unique(np.sort(links, axis=1), axis=0)
        links = links[links[:, 0] != links[:, 1]]
        gaps = np.hypot(*((self.places[links[:, 0]] - self.places[links[:, 1]]) * MERGE).T)
        count = len(self.places)
        return csr_array((gaps, (links[:, 0], links[:, 1])), shape=(count, count))

    def between(self, here: Points, there: Points, worth: Mm) -> Points | None:
        """Return the shortest way between two ends of rows as places, None where there is none up to ``worth`` mm."""
        if math.dist(here, there) <= SAME_PLACE:
            return np.array([here])
        start, goal = self._number(here), self._number(there)
        lengths, before = dijkstra(self.table, directed=False, indices=[start], return_predecessors=True, limit=worth)
        if not np.isfinite(lengths[0, goal]):
            return None
        way = [goal]
        while way[-1] != start:
            way.append(int(before[0, way[-1]]))
        places = self.places[way[::-1]] * MERGE
        places[0], places[-1] = here, there
        return np.asarray(places, dtype=np.float64)

    def _number(self, place: Points) -> int:
        steps = self.places * MERGE - place
        return int(np.argmin(np.hypot(steps[:, 0], steps[:, 1])))


def _corners(ground: BaseGeometry | None) -> Points:
    """Return the corners of hidden ground, where ways through it bend."""
    if not isinstance(ground, Polygon | MultiPolygon) or ground.is_empty:
        return np.empty((0, 2))
    return shapely.get_coordinates(ground.simplify(FLAT))


def _straight(places: Points, wanted: NDArray[np.intp], ground: BaseGeometry) -> NDArray[np.intp]:
    """Return the pairs of ``wanted`` places with a straight way through the ground."""
    if len(wanted) > MOST_CORNERS:
        return np.empty((0, 2), dtype=np.intp)
    one, other = np.triu_indices(len(wanted), 1)
    shapely.prepare(grown := ground.buffer(MERGE * 2, join_style="mitre"))
    lines = shapely.linestrings(np.stack([places[wanted[one]], places[wanted[other]]], axis=1))
    seen = shapely.covers(grown, lines)
    return np.column_stack([wanted[one[seen]], wanted[other[seen]]])
