"""Cut ends joined along the region's edge, so that a network can be sewn in one walk.

Words: a *cut end* is an end of a piece that lies on the edge; a *mark* is a place on the edge where cut ends lie; an
*arc* is the edge between two neighbouring marks. A mark where an odd number of ends meet needs one arc: every second
arc of a ring does that, in two ways. Whatever hangs apart then is joined by the shortest arcs, which are sewn twice.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components
from shapely.geometry import LineString, Polygon

from hoopwright.core.tolerances import GRID, MERGE
from hoopwright.core.types import Mm, Points
from hoopwright.needle.grounds.frame import ends_of

STRAY: Final = 0.05
"""A part that hangs together with nothing else and is shorter than this share of all is left out: a stray figure would
cost two trims (by eye)."""


@dataclass(frozen=True, slots=True, eq=False)
class Marks:
    """The marks of one ring in order: place along the ring (mm), point, and the cut ends there as (piece, end) rows."""

    ring: Points
    travelled: NDArray[np.float64]
    places: NDArray[np.float64]
    points: Points
    ends: tuple[tuple[tuple[int, int], ...], ...]

    @property
    def arcs(self) -> NDArray[np.float64]:
        """Length of the arc from each mark to the next, the last one past the ring's start."""
        return np.diff(self.places, append=self.places[:1] + self.travelled[-1])

    def arc(self, index: int) -> Points:
        """Return the edge from a mark to the next, both points included."""
        after = (index + 1) % len(self.places)
        first = int(np.searchsorted(self.travelled, self.places[index] + MERGE, side="right"))
        last = int(np.searchsorted(self.travelled, self.places[after] - MERGE, side="left"))
        inner = self.ring[first:last] if after else np.concatenate([self.ring[first:], self.ring[1:last]])
        return np.concatenate([self.points[index : index + 1], inner, self.points[after : after + 1]])


def marks_on_edge(pieces: Sequence[LineString], part: Polygon) -> tuple[Marks, ...]:
    """Return the marks of every ring of ``part`` on which ends of ``pieces`` lie."""
    ends = ends_of(pieces).reshape(-1, 2)
    points = shapely.points(ends)
    found = []
    for ring in (part.exterior, *part.interiors):
        shapely.prepare(ring)
        on = np.flatnonzero(shapely.dwithin(points, ring, MERGE))
        if len(on):
            found.append(_marks(ring, on, ends))
    return tuple(found)


def _marks(ring: shapely.LinearRing, on: NDArray[np.intp], ends: Points) -> Marks:
    edge = np.asarray(ring.coords)[:, :2]
    travelled = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(edge, axis=0).T))])
    at = np.asarray(shapely.line_locate_point(ring, shapely.points(ends[on])))
    at[at > travelled[-1] - MERGE] = 0.0
    order = np.lexsort((on, at))
    at, on = at[order], on[order]
    first = np.concatenate([[True], np.diff(at) > GRID])
    groups = np.split(on, np.flatnonzero(first)[1:])
    rows = tuple(tuple((int(i) // 2, int(i) % 2) for i in group) for group in groups)
    return Marks(edge, travelled, at[first], ends[on[first]], rows)


def joined_along_edge(pieces: Sequence[LineString], part: Polygon) -> tuple[LineString, ...]:
    """Return ``pieces`` with the arcs of the edge that make them one network, as far as the edge can."""
    if not pieces:
        return ()
    names = _connected(pieces)
    arcs: list[LineString] = []
    rings = marks_on_edge(pieces, part)
    open_arcs: list[tuple[Mm, int, int, int, int]] = []
    for number, marks in enumerate(rings):
        taken, names = _every_second(marks, names)
        arcs += [LineString(marks.arc(i)) for i in taken]
        open_arcs += [
            (float(length), number, i, marks.ends[i][0][0], marks.ends[(i + 1) % len(marks.ends)][0][0])
            for i, length in enumerate(marks.arcs)
            if i not in taken
        ]
    for _, number, i, a, b in sorted(open_arcs):
        if names[a] != names[b]:
            names = np.where(names == names[b], names[a], names)
            arcs.append(LineString(rings[number].arc(i)))
    return (*_without_strays(pieces, names), *arcs)


def _without_strays(pieces: Sequence[LineString], names: NDArray[np.intp]) -> tuple[LineString, ...]:
    lengths = np.bincount(names, shapely.length(np.asarray(pieces, dtype=np.object_)))
    return tuple(p for p, name in zip(pieces, names, strict=True) if lengths[name] >= STRAY * lengths.sum())


def _connected(pieces: Sequence[LineString]) -> NDArray[np.intp]:
    """Return for each piece the number of the connected part it belongs to."""
    row = np.asarray(pieces, dtype=np.object_)
    one, other = shapely.STRtree(row).query(row, predicate="dwithin", distance=MERGE / 4.0)
    return _named(len(pieces), one, other)


def _named(count: int, one: NDArray[np.intp], other: NDArray[np.intp]) -> NDArray[np.intp]:
    graph = coo_array((np.ones(len(one), dtype=np.int8), (one, other)), shape=(count, count))
    return np.asarray(connected_components(graph, directed=False)[1], dtype=np.intp)


def _every_second(marks: Marks, names: NDArray[np.intp]) -> tuple[set[int], NDArray[np.intp]]:
    """Return the arcs that leave no odd mark (but one where their number is odd), and the parts as they hang together then.

    Of the ways to choose them that with the fewest parts is taken, of those the shortest.
    """
    odd = [i for i, ends in enumerate(marks.ends) if len(ends) % 2]
    if len(odd) < 2:
        return set(), names
    ways = [_between(odd[k:] + odd[:k], len(marks.ends)) for k in _starts(odd, marks)]
    lengths = marks.arcs
    best = min(
        ((_joined(marks, way, names), way) for way in ways),
        key=lambda made: (len(set(made[0].tolist())), float(lengths[sorted(made[1])].sum())),
    )
    return best[1], best[0]


def _starts(odd: list[int], marks: Marks) -> tuple[int, ...]:
    """Return from which odd marks pairing may begin: two where all find a partner, else the best one to leave alone."""
    if len(odd) % 2 == 0:
        return (0, 1)
    at = marks.places[odd]
    gaps = np.diff(at, append=at[:1] + marks.travelled[-1])
    double = np.concatenate([gaps, gaps])
    lengths = [float(double[k : k + len(odd) - 1 : 2].sum()) for k in range(len(odd))]
    return (int(np.argmin(lengths)),)


def _between(odd: list[int], count: int) -> set[int]:
    """Return the arcs between the first and second, third and fourth ... of a row of marks."""
    arcs: set[int] = set()
    for a, b in zip(odd[::2], odd[1::2], strict=False):
        arcs.update(i % count for i in range(a, b if b > a else b + count))
    return arcs


def _joined(marks: Marks, arcs: set[int], names: NDArray[np.intp]) -> NDArray[np.intp]:
    """Return the connected parts when these arcs are sewn too."""
    links = [
        (a, b) for i in arcs for a in (marks.ends[i][0][0],) for b in (marks.ends[(i + 1) % len(marks.ends)][0][0],)
    ]
    links += [(ends[0][0], piece) for ends in marks.ends for piece, _ in ends[1:]]
    count = int(names.max()) + 1
    one = np.asarray([*range(count), *(names[a] for a, _ in links)], dtype=np.intp)
    other = np.asarray([*range(count), *(names[b] for _, b in links)], dtype=np.intp)
    return _named(count, one, other)[names]
