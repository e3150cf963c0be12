"""The net of threads that is left when the base is gone, read off the needle positions.

A lockstitch closes thread round whatever lies between its two holes: its upper thread above, its lower thread below. So where
a later stitch crosses an earlier one, the two hold each other; where they share a hole, the thread goes on. These are the
*knots* of the net, and the *stretches* of thread between knots are its edges. Passes sewn on each other in one line count
once: they give way together.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components
from shapely.geometry import LineString

from hoopwright.core.tolerances import GRID, MERGE
from hoopwright.core.types import Points


@dataclass(frozen=True, slots=True, eq=False)
class ThreadNet:
    """Knots by number with their places, shape (n, 2); stretches as lines (m,) with the knots at their ends, shape (m, 2)."""

    places: Points
    stretches: NDArray[np.object_]
    ends: NDArray[np.intp]

    def parts(self, kept: NDArray[np.bool_] | None = None) -> NDArray[np.int_]:
        """Return for each knot the number of the connected part it is in, when only the stretches ``kept`` are there."""
        ends = self.ends if kept is None else self.ends[kept]
        count = len(self.places)
        table = coo_array((np.ones(len(ends), dtype=np.int8), (ends[:, 0], ends[:, 1])), shape=(count, count))
        return np.asarray(connected_components(table, directed=False)[1])

    def degrees(self) -> NDArray[np.intp]:
        """Return how many stretches meet in each knot."""
        return np.bincount(self.ends.ravel(), minlength=len(self.places))


def thread_net(rows: tuple[Points, ...]) -> ThreadNet:
    """Return the net of the runs ``rows``, each shape (n, 2), in mm."""
    noded = shapely.union_all([LineString(row) for row in rows], grid_size=GRID)
    stretches = shapely.get_parts(shapely.line_merge(noded))
    ends = np.array([(s.coords[0], s.coords[-1]) for s in stretches]).reshape(-1, 2)
    keys, inverse = np.unique(np.round(ends / MERGE).astype(np.int64), axis=0, return_inverse=True)
    return ThreadNet(np.asarray(keys * MERGE, dtype=np.float64), stretches, np.reshape(inverse, (-1, 2)))


def bridges(net: ThreadNet) -> tuple[int, ...]:
    """Return the stretches that alone join what lies on their two sides, by the lowest knot that can be reached around each.

    Two stretches between the same two knots are no bridges.
    """
    around = _around(net)
    found: list[int] = []
    met = np.full(len(net.places), -1, dtype=np.intp).tolist()
    low = list(met)
    count = 0
    for root in range(len(net.places)):
        if met[root] >= 0:
            continue
        met[root] = low[root] = count
        count += 1
        way: list[tuple[int, int, int]] = [(root, -1, 0)]
        while way:
            knot, came, turn = way.pop()
            if turn < len(around[knot]):
                way.append((knot, came, turn + 1))
                other, stretch = around[knot][turn]
                if stretch == came:
                    continue
                if met[other] < 0:
                    met[other] = low[other] = count
                    count += 1
                    way.append((other, stretch, 0))
                else:
                    low[knot] = min(low[knot], met[other])
            elif came >= 0:
                before = way[-1][0]
                low[before] = min(low[before], low[knot])
                if low[knot] > met[before]:
                    found.append(came)
    return tuple(sorted(found))


def _around(net: ThreadNet) -> list[list[tuple[int, int]]]:
    """Return for each knot its neighbours with the stretches that lead there."""
    around: list[list[tuple[int, int]]] = [[] for _ in net.places]
    for stretch, (a, b) in enumerate(net.ends.tolist()):
        around[a].append((b, stretch))
        around[b].append((a, stretch))
    return around
