"""One continuous walk over a network of lines, with as little sewn twice as possible (route inspection).

Words: a *walk* covers every line of a connected network at least once; an *odd* place is one where an odd number of
lines meet: a walk can be drawn without lifting only when at most two places are odd, so odd places are paired and the
way between each pair is sewn twice.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import Final, TypeAlias

import networkx as nx
import shapely
from shapely.geometry import LineString

from hoopwright.core.tolerances import GRID, MERGE
from hoopwright.core.types import Mm

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
    odd = sorted(n for n, degree in part.degree() if degree % 2)
    for a, b in _pairs(part, odd):
        for u, v in itertools.pairwise(nx.shortest_path(part, a, b, weight="length")):
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


def _pairs(part: Network, odd: list[Node]) -> list[tuple[Node, Node]]:
    """Pair all odd places but two, so that the paths between the pairs are shortest together."""
    if len(odd) <= 2:
        return []
    ways = {n: nx.single_source_dijkstra_path_length(part, n, weight="length") for n in odd}
    if len(odd) > MOST_ODD_EXACT:
        return _nearest_pairs(odd, ways)
    table: nx.Graph[Node | str] = nx.Graph()
    for a, b in itertools.combinations(odd, 2):
        table.add_edge(a, b, weight=ways[a][b])
    for free in ("start", "end"):
        for a in odd:
            table.add_edge(free, a, weight=0.0)
    matched = nx.min_weight_matching(table)
    return sorted(_sorted_pair(a, b) for a, b in matched if not isinstance(a, str) and not isinstance(b, str))


def _sorted_pair(a: Node, b: Node) -> tuple[Node, Node]:
    return (a, b) if a <= b else (b, a)


def _nearest_pairs(odd: list[Node], ways: dict[Node, dict[Node, Mm]]) -> list[tuple[Node, Node]]:
    """Pair odd places nearest first, leaving the last two."""
    pairs = []
    left = set(odd)
    for _, a, b in sorted((ways[a][b], a, b) for a, b in itertools.combinations(odd, 2)):
        if len(left) > 2 and a in left and b in left:
            pairs.append((a, b))
            left -= {a, b}
    return pairs
