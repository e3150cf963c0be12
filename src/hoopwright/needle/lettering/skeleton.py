"""The middle lines of an area: where a disc that touches its border at two places or more has its middle.

Words: the *feet* of a place on the middle line are the two places of the border its disc touches. Close to a corner of the
border the feet are near each other along the border, too: such lines only lead into corners and are left out. What remains
is a network; a *joint* is a place where three lines or more meet, a *branch* the line between two joints, or a free end.

The middle line is found from a Voronoi diagram of places along the border.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.spatial import Voronoi
from shapely.geometry import Polygon

from hoopwright.core.types import Points

STEP: Final = 0.009
"""Distance between the places of the border, in parts of the height of a capital."""

WAY_ROUND: Final = 1.65
"""A place belongs to a stroke if the way between its feet along the border is longer than the straight one by this many
times its radius. It is 1.14 in the middle of a round end, 1.73 in a corner of 60 degrees, 2 in the middle of a square end."""

Floats: TypeAlias = NDArray[np.float64]
Graph: TypeAlias = dict[int, list[int]]


@dataclass(frozen=True, slots=True, eq=False)
class Branch:
    """A middle line, shape (n, 2), the radius of its disc at every place, and the joints at its ends, None where it is free.

    A line that closes on itself without a joint is ``closed``.
    """

    points: Points
    radii: Floats
    start: int | None
    end: int | None
    closed: bool = False

    @property
    def length(self) -> float:
        """Length of the line."""
        return float(np.hypot(*np.diff(self.points, axis=0).T).sum())


@dataclass(frozen=True, slots=True)
class Joint:
    """A place where branches meet, and the radius of the disc there."""

    at: tuple[float, float]
    radius: float


def skeleton(area: Polygon) -> tuple[tuple[Branch, ...], dict[int, Joint]]:
    """Return the branches of one connected area and the joints they meet at, by number."""
    places, ring, along, around = _border(area)
    if len(places) < 4:
        return (), {}
    diagram = Voronoi(places)
    nodes, radii, graph = _network(area, diagram, places, ring, along, around)
    graph = _largest(graph)
    while True:
        branches = _branches(graph)
        weak = [b for b in branches if _weak(b, graph, nodes, radii)]
        if not weak or len(branches) == 1:
            break
        drop = min(weak, key=lambda b: (len(b), b))
        end = drop if len(graph[drop[0]]) == 1 else drop[::-1]
        for node in end[:-1]:
            _without(graph, node)
    return _named(branches, nodes, radii, graph)


def _border(area: Polygon) -> tuple[Points, NDArray[np.intp], Floats, Floats]:
    """Return places along the border, the ring of each, how far along it lies, and the length of every ring."""
    rows, rings, alongs, lengths = [], [], [], []
    for number, ring in enumerate((area.exterior, *area.interiors)):
        lengths.append(ring.length)
        corners = np.array([ring.project(shapely.Point(p)) for p in ring.coords[:-1]])
        corners = np.unique(np.append(corners, ring.length))
        parts = [np.linspace(a, b, max(1, math.ceil((b - a) / STEP)), endpoint=False) for a, b in pairwise(corners)]
        at = np.concatenate(parts)
        rows.append(shapely.get_coordinates(shapely.line_interpolate_point(ring, at)))
        rings.append(np.full(len(at), number))
        alongs.append(at)
    return np.vstack(rows), np.concatenate(rings), np.concatenate(alongs), np.array(lengths)


def _network(
    area: Polygon, diagram: Voronoi, places: Points, ring: NDArray[np.intp], along: Floats, around: Floats
) -> tuple[Points, Floats, Graph]:
    """Return places of the middle lines, their radii, and which are neighbours."""
    nodes = np.asarray(diagram.vertices, dtype=np.float64)
    shapely.prepare(area)
    inside = np.asarray(shapely.contains_xy(area, nodes))
    edges = np.asarray(diagram.ridge_vertices)
    feet = np.asarray(diagram.ridge_points)
    kept = np.flatnonzero((edges >= 0).all(axis=1))
    kept = kept[np.asarray(inside[edges[kept]]).all(axis=1)]
    edges, feet = edges[kept], feet[kept]
    radii = np.zeros(len(nodes))
    for end in (0, 1):
        radii[edges[:, end]] = np.hypot(*(nodes[edges[:, end]] - places[feet[:, 0]]).T)
    straight = np.hypot(*(places[feet[:, 0]] - places[feet[:, 1]]).T)
    way = np.abs(along[feet[:, 0]] - along[feet[:, 1]])
    way = np.minimum(way, around[ring[feet[:, 0]]] - way)
    far = (way - straight) > WAY_ROUND * radii[edges].mean(axis=1)
    strong = edges[far | (ring[feet[:, 0]] != ring[feet[:, 1]])]
    graph: Graph = {}
    for a, b in strong.tolist():
        if a != b:
            graph.setdefault(a, []).append(b)
            graph.setdefault(b, []).append(a)
    return nodes, radii, graph


def _largest(graph: Graph) -> Graph:
    """Return the largest connected part; the rest are crumbs beside it."""
    left = set(graph)
    best: set[int] = set()
    while left:
        todo, part = [min(left)], set[int]()
        while todo:
            node = todo.pop()
            if node not in part:
                part.add(node)
                todo.extend(graph[node])
        left -= part
        best = max(best, part, key=len)
    return {n: graph[n] for n in sorted(best)}


def _without(graph: Graph, node: int) -> None:
    for other in graph.pop(node):
        graph[other].remove(node)


def _branches(graph: Graph) -> list[list[int]]:
    """Return the rows of nodes between joints and free ends; a closed line ends where it began."""
    ends = [n for n in graph if len(graph[n]) != 2]
    rows: list[list[int]] = []
    for start in ends:
        for step in graph[start]:
            row = [start, step]
            while len(graph[row[-1]]) == 2:
                one, other = graph[row[-1]]
                row.append(other if one == row[-2] else one)
            if row <= row[::-1]:
                rows.append(row)
    if not ends and graph:
        rows.append(_round(graph))
    return rows


def _round(graph: Graph) -> list[int]:
    start = min(graph)
    row = [start, graph[start][0]]
    while row[-1] != start:
        one, other = graph[row[-1]]
        row.append(other if one == row[-2] else one)
    return row


def _weak(row: list[int], graph: Graph, nodes: Points, radii: Floats) -> bool:
    """Whether a branch with a free end hardly reaches past the disc of the joint it starts from."""
    free = [len(graph[n]) == 1 for n in (row[0], row[-1])]
    if free[0] == free[1]:
        return False
    joint = row[-1] if free[0] else row[0]
    reach = np.hypot(*(nodes[row] - nodes[joint]).T) + radii[row]
    return float(reach.max()) < 1.35 * float(radii[joint])


def _named(
    rows: list[list[int]], nodes: Points, radii: Floats, graph: Graph
) -> tuple[tuple[Branch, ...], dict[int, Joint]]:
    """Return the branches; joints whose discs lie over each other are one, and the short lines between them are gone."""
    joints = [n for n in graph if len(graph[n]) > 2]
    home = {n: n for n in joints}

    def root(n: int) -> int:
        while home[n] != n:
            n = home[n]
        return n

    short = set[int]()
    for k, row in enumerate(rows):
        a, b = row[0], row[-1]
        if a in home and b in home and a != b:
            length = float(np.hypot(*np.diff(nodes[row], axis=0).T).sum())
            if length < max(radii[a], radii[b]):
                short.add(k)
                home[max(root(a), root(b))] = min(root(a), root(b))
    named = {n: root(n) for n in joints}
    branches = tuple(_branch(row, nodes, radii, named) for k, row in enumerate(rows) if k not in short)
    return branches, dict(_joints(named, nodes, radii))


def _joints(named: dict[int, int], nodes: Points, radii: Floats) -> Iterator[tuple[int, Joint]]:
    for name in sorted(set(named.values())):
        group = [n for n, m in named.items() if m == name]
        x, y = nodes[group].mean(axis=0)
        spread = float(np.hypot(*(nodes[group] - [x, y]).T).max())
        yield name, Joint((float(x), float(y)), float(radii[group].max()) + spread / 2.0)


def _branch(row: list[int], nodes: Points, radii: Floats, named: dict[int, int]) -> Branch:
    closed = row[0] == row[-1] and row[0] not in named
    return Branch(nodes[row], radii[row], named.get(row[0]), named.get(row[-1]), closed)
