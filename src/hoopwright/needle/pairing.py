"""Pairing places so that the ways between the pairs are shortest together, two places staying free.

Few places are paired by trying all pairings that can still be best; where that takes too long, by the least-weight
matching of a general graph. Both give the least length.
"""

from __future__ import annotations

import itertools
from typing import Final, TypeAlias

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm

Ways: TypeAlias = NDArray[np.float64]
"""Lengths of the ways between all places, shape (n, n), symmetric, mm."""

Pairs: TypeAlias = tuple[tuple[int, int], ...]

MOST_TRIED: Final = 4000
"""Pairings begun before the search is given up for the general matching, which takes as long as a few thousand of them."""

FREE: Final = 2
"""A walk begins at one odd place and ends at another: these two need no partner."""


def least_pairs(ways: Ways) -> Pairs:
    """Return the pairs of all places but two whose ways are shortest together, each (lower, higher), in order."""
    count = len(ways)
    if count <= FREE:
        return ()
    search = _Search(ways)
    if search.run():
        return search.best
    return _matched(ways)


class _Search:
    """A depth-first search with a bound: every place still to be paired costs at least half its shortest way."""

    def __init__(self, ways: Ways) -> None:
        self.rows: list[list[float]] = ways.tolist()
        count = len(self.rows)
        self.near = [
            sorted((b for b in range(count) if b != a), key=lambda b: (row[b], b)) for a, row in enumerate(self.rows)
        ]
        self.half = [self.rows[a][self.near[a][0]] / 2.0 for a in range(count)]
        self.most = max(self.half)
        self.tried = 0
        self.least = float("inf")
        self.best: Pairs = ()

    def run(self) -> bool:
        """Return whether the search came to its end."""
        self._go(tuple(range(len(self.rows))), FREE, 0.0, ())
        return self.tried <= MOST_TRIED

    def _go(self, left: tuple[int, ...], free: int, length: Mm, pairs: Pairs) -> None:
        self.tried += 1
        if self.tried > MOST_TRIED:
            return
        if len(left) == free:
            if length < self.least - SAME_PLACE:
                self.least, self.best = length, tuple(sorted(pairs))
            return
        if length + sum(self.half[a] for a in left) - free * self.most >= self.least - SAME_PLACE:
            return
        first, others = left[0], set(left[1:])
        for other in self.near[first]:
            if other in others:
                rest = tuple(a for a in left[1:] if a != other)
                self._go(rest, free, length + self.rows[first][other], (*pairs, (first, other)))
        if free:
            self._go(left[1:], free - 1, length, pairs)


def _matched(ways: Ways) -> Pairs:
    table: nx.Graph[int] = nx.Graph()
    count = len(ways)
    for a, b in itertools.combinations(range(count), 2):
        table.add_edge(a, b, weight=float(ways[a, b]))
    for free in range(count, count + FREE):
        table.add_weighted_edges_from((free, a, 0.0) for a in range(count))
    pairs = ((min(p), max(p)) for p in nx.min_weight_matching(table))
    return tuple(sorted(p for p in pairs if p[1] < count))
