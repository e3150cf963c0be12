"""The line along the middle of a band, open or closed.

Words: the *clearance* of a place is its distance to the nearest edge; the *skeleton* of a region is where two edges are
equally near; the *midline* is its longest way, or the ring of it that runs round a hole.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.sparse import csr_array
from scipy.sparse.csgraph import connected_components, dijkstra
from scipy.spatial import Voronoi
from shapely.geometry import LineString, Polygon

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Points

FINEST: Final[Mm] = 0.5
COARSEST: Final[Mm] = 2.0
"""Bounds of the distance between places on the edge from which the skeleton is drawn."""

PLACES: Final = 250
"""About so many places on the edge are enough for an even midline."""

BLIND: Final = 0.7
"""An open midline ends where the clearance falls below this part of its middle one: beyond it only runs into a corner."""


@dataclass(frozen=True, slots=True, eq=False)
class Midline:
    """A midline: places, shape (n, 2), whether it is closed (the first place is then also the last), middle clearance."""

    points: Points
    closed: bool
    clearance: Mm


def midline(part: Polygon) -> Midline | None:
    """Return the midline of a band or a ring; None where there is no single one."""
    if len(part.interiors) > 1:
        return None
    places, pairs = _skeleton(part)
    if len(pairs) < 4:
        return None
    closed = len(part.interiors) == 1
    way = _ring(len(places), pairs) if closed else _longest(places, pairs)
    if len(way) < 4:
        return None
    line = places[way]
    room = shapely.distance(shapely.points(line), part.boundary)
    usual = float(np.median(room))
    if not closed:
        wide = np.flatnonzero(room >= BLIND * usual)
        line = line[wide[0] : wide[-1] + 1]
    return Midline(line, closed, usual) if len(line) > 3 and LineString(line).length > 2.0 * usual else None


def _skeleton(part: Polygon) -> tuple[Points, NDArray[np.intp]]:
    """Return places of the skeleton and which of them are neighbours, both ends well inside."""
    step = min(COARSEST, max(FINEST, part.length / PLACES))
    rings = [shapely.get_coordinates(shapely.segmentize(r, step))[:-1] for r in (part.exterior, *part.interiors)]
    drawn = Voronoi(np.concatenate(rings))
    shapely.prepare(part)
    inside = shapely.contains_xy(part, drawn.vertices)
    pairs = np.asarray(drawn.ridge_vertices)
    pairs = pairs[(pairs >= 0).all(axis=1)]
    return drawn.vertices, pairs[inside[pairs].all(axis=1)]


def _table(places: Points, pairs: NDArray[np.intp]) -> csr_array:
    lengths = np.maximum(np.hypot(*(places[pairs[:, 0]] - places[pairs[:, 1]]).T), SAME_PLACE)
    return csr_array((lengths, (pairs[:, 0], pairs[:, 1])), shape=(len(places), len(places)))


def _longest(places: Points, pairs: NDArray[np.intp]) -> list[int]:
    """Return the longest way through a skeleton without rings: the farthest place from any, and the farthest from that."""
    table = _table(places, pairs)
    _, names = connected_components(table, directed=False)
    largest = np.bincount(names[pairs[:, 0]]).argmax()
    start = int(np.flatnonzero(names == largest)[0])
    away = dijkstra(table, directed=False, indices=[start])[0]
    first = int(np.where(np.isfinite(away), away, -1.0).argmax())
    away, before = dijkstra(table, directed=False, indices=[first], return_predecessors=True)
    at = int(np.where(np.isfinite(away[0]), away[0], -1.0).argmax())
    way = [at]
    while way[-1] != first:
        way.append(int(before[0, way[-1]]))
    return way


def _ring(count: int, pairs: NDArray[np.intp]) -> list[int]:
    """Return the one ring of a skeleton, its first place again at the end: what is left when all twigs are taken off."""
    while True:
        degree = np.bincount(pairs.ravel(), minlength=count)
        kept = (degree[pairs] > 1).all(axis=1)
        if kept.all():
            break
        pairs = pairs[kept]
    after: dict[int, list[int]] = {}
    for a, b in pairs.tolist():
        after.setdefault(a, []).append(b)
        after.setdefault(b, []).append(a)
    if not after or any(len(n) != 2 for n in after.values()):
        return []
    start = min(after)
    way = [start, min(after[start])]
    while way[-1] != start:
        one, other = after[way[-1]]
        way.append(other if one == way[-2] else one)
    return way
