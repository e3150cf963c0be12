"""A walk round a random tree: one closed line that passes every site of a region and never crosses itself.

Sites and wall are joined by a Delaunay triangulation. A tree is chosen among its edges between sites; the line goes round
the tree, a quarter of the way along every edge it crosses (half the way to a wall), so it runs midway between the tree and what
separates its branches. docs/theory-grounds.md says why it is one line and cannot cross.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components, minimum_spanning_tree
from scipy.spatial import Delaunay

from hoopwright.core.types import Mm, Points

LONG: Final = 2.4
"""An edge longer than this many spacings is taken into a tree only where there is no other."""


@dataclass(frozen=True, slots=True, eq=False)
class SiteNet:
    """Sites (the first ``count`` of ``places``) and wall, triangulated.

    ``turns`` gives for a vertex and its neighbour the next neighbour counter-clockwise; ``edges`` the pairs of
    neighbouring sites, shape (m, 2).
    """

    places: Points
    count: int
    turns: dict[tuple[int, int], int]
    edges: NDArray[np.intp]

    @property
    def groups(self) -> int:
        """How many groups of sites are not joined to each other."""
        return int(connected_components(self._graph(np.ones(len(self.edges))), directed=False)[0])

    def _graph(self, weights: NDArray[np.float64]) -> coo_array:
        return coo_array((weights, (self.edges[:, 0], self.edges[:, 1])), shape=(self.count, self.count))

    def tree(self, spacing: Mm, rng: np.random.Generator) -> frozenset[tuple[int, int]]:
        """Return the edges of a random tree (of one for each group), in both directions."""
        ends = self.places[self.edges]
        lengths = np.hypot(*(ends[:, 0] - ends[:, 1]).T) / spacing
        weights = rng.uniform(1.0, 2.0, len(self.edges)) + 3.0 * np.maximum(0.0, lengths - LONG)
        chosen = minimum_spanning_tree(self._graph(weights)).tocoo()
        pairs = list(zip(chosen.row.tolist(), chosen.col.tolist(), strict=True))
        return frozenset(pairs + [(b, a) for a, b in pairs])


def site_net(sites: Points, wall: Points) -> SiteNet:
    """Triangulate ``sites`` and ``wall``."""
    places = np.concatenate([sites, wall])
    triangles = Delaunay(places).simplices
    a, b, c = (places[triangles[:, k]] for k in range(3))
    clockwise = (b - a)[:, 0] * (c - a)[:, 1] < (b - a)[:, 1] * (c - a)[:, 0]
    triangles[clockwise] = triangles[clockwise][:, ::-1]
    turns: dict[tuple[int, int], int] = {}
    for i, j, k in triangles.tolist():
        turns[i, j], turns[j, k], turns[k, i] = k, i, j
    pairs = np.sort(np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]]), axis=1)
    edges = np.unique(pairs[pairs[:, 1] < len(sites)], axis=0).astype(np.intp)
    return SiteNet(places, len(sites), turns, edges)


def walks(net: SiteNet, tree: frozenset[tuple[int, int]]) -> tuple[Points, ...]:
    """Return the closed walks round each group of ``tree``, without the repeated first place."""
    found, seen = [], set[int]()
    first = {at: towards for at, towards in net.turns if at < net.count}
    for site in range(net.count):
        if site not in seen:
            places, passed = _walk(net, tree, (site, first[site]))
            found.append(places)
            seen |= passed
    return tuple(found)


def _walk(net: SiteNet, tree: frozenset[tuple[int, int]], start: tuple[int, int]) -> tuple[Points, set[int]]:
    """Go round from ``start`` (a site and a neighbour), keeping the tree to the left; return places and the sites passed."""
    rows: list[tuple[tuple[int, float], ...]] = []
    passed, step = {start[0]}, start
    while True:
        at, towards = step
        if step in tree:
            step = (towards, net.turns[towards, at])
            passed.add(towards)
            if step in tree:
                rows.append(((at, 1 / 3), (towards, 1 / 3), (step[1], 1 / 3)))
        else:
            share = 0.25 if towards < net.count else 0.5
            rows.append(((at, 1 - share), (towards, share), (at, 0.0)))
            step = (at, net.turns[at, towards])
        if step == start:
            break
    corners = np.array(rows)
    return (net.places[corners[:, :, 0].astype(np.intp)] * corners[:, :, 1, None]).sum(axis=1), passed
