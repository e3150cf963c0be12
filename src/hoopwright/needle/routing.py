"""One continuous walk over a network of lines, with as little sewn twice as possible (route inspection).

Words: a *walk* covers every line of a connected network at least once; an *odd* place is one where an odd number of
lines meet: a walk can be drawn without lifting only when at most two places are odd, so odd places are paired and the
way between each pair is sewn twice.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import Final, TypeAlias

import networkx as nx
import shapely
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra
from shapely.geometry import LineString

from hoopwright.core.tolerances import GRID, MERGE
from hoopwright.core.types import Mm
from hoopwright.needle.pairing import FREE, Pairs, Ways, least_pairs

MOST_ODD_EXACT: Final = 40
"""Above so many odd places they are paired nearest first instead of by the exact least-weight matching."""

Node: TypeAlias = tuple[int, int]
Network: TypeAlias = "nx.MultiGraph[Node]"


def one_walk(lines: Sequence[LineString]) -> tuple[LineString, ...]:
    """Return one line for each connected part of the network of ``lines``, covering all of it.

    The length sewn twice is the least possible up to MOST_ODD_EXACT odd places. Lines are noded where they touch.
    """
    network = _network(lines)
    parts = [network.subgraph(c) for c in nx.connected_components(network)]
    return tuple(_walk(nx.MultiGraph(part)) for part in sorted(parts, key=_corner))


def _network(lines: Sequence[LineString]) -> Network:
    noded = shapely.union_all(list(lines), grid_size=GRID)
    network: Network = nx.MultiGraph()
    for piece in shapely.get_parts(shapely.line_merge(noded)):
        coords = [(float(x), float(y)) for x, y in shapely.get_coordinates(piece)]
        network.add_edge(_node(coords[0]), _node(coords[-1]), length=piece.length, coords=coords)
    return network


def _node(point: tuple[float, float]) -> Node:
    return round(point[0] / MERGE), round(point[1] / MERGE)


def _corner(part: Network) -> Node:
    """Return the lowest node of a part, to keep the order of the parts fixed."""
    return min(part.nodes)


def _walk(part: Network) -> LineString:
    for u, v in list(_twice(part)):
        key = min(part[u][v], key=lambda k, u=u, v=v: (part[u][v][k]["length"], k))  # type: ignore[misc]
        part.add_edge(u, v, **part[u][v][key])
    left = sorted(n for n, degree in part.degree() if degree % 2)
    start = left[0] if left else min(part.nodes)
    coords: list[tuple[float, float]] = []
    for u, v, key in nx.eulerian_path(part, source=start, keys=True):
        row = part[u][v][key]["coords"]
        row = row if _node(row[0]) == u else row[::-1]
        coords.extend(row if not coords else row[1:])
    return LineString(coords)


def _twice(part: Network) -> Iterator[tuple[Node, Node]]:
    """Return the stretches to be sewn twice: the ways between pairs of all odd places but two."""
    nodes = sorted(part.nodes)
    odd = [i for i, n in enumerate(nodes) if part.degree(n) % 2]
    if len(odd) <= FREE:
        return
    lengths, before = dijkstra(_lengths(part, nodes), directed=False, indices=odd, return_predecessors=True)
    ways = lengths[:, odd]
    for a, b in least_pairs(ways) if len(odd) <= MOST_ODD_EXACT else _nearest_pairs(ways):
        at = odd[b]
        while at != odd[a]:
            yield nodes[before[a, at]], nodes[at]
            at = before[a, at]


def _lengths(part: Network, nodes: list[Node]) -> csr_array:
    """Return the table of the shortest direct way between any two places."""
    number = {n: i for i, n in enumerate(nodes)}
    least: dict[tuple[int, int], Mm] = {}
    for u, v, data in part.edges(data=True):
        pair = min(number[u], number[v]), max(number[u], number[v])
        least[pair] = min(data["length"], least.get(pair, data["length"]))
    rows, columns = zip(*least, strict=True)
    return csr_array((list(least.values()), (rows, columns)), shape=(len(nodes), len(nodes)))


def _nearest_pairs(ways: Ways) -> Pairs:
    """Pair odd places nearest first, leaving the last two."""
    pairs = []
    left = set(range(len(ways)))
    for _, a, b in sorted((ways[a, b], a, b) for a, b in itertools.combinations(range(len(ways)), 2)):
        if len(left) > FREE and a in left and b in left:
            pairs.append((a, b))
            left -= {a, b}
    return tuple(pairs)
