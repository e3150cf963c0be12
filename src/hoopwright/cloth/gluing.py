"""Which places of which sheets the stitches make one.

Each join is cut where, in any sheet it holds, it meets another join, itself, or the edge of the sheet. Its pieces and
the places between them lie in each sheet it holds there; equal places of one sheet are one *node*, and nodes that a
join holds together are one *class*.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
import shapely
from scipy.spatial import cKDTree
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from hoopwright.cloth.shapes import Held, Join, Region
from hoopwright.core.tolerances import COVER, GRID
from hoopwright.core.types import Points

NEAR: Final = 3.0 * COVER
"""Places of a sheet nearer than this are one node, mm: a needle on a fold catches a hair (COVER) past it on both sides."""


@dataclass(frozen=True, slots=True, eq=False)
class Places:
    """Nodes of one kind (vertices or edges): for each its sheet, place (n, 2) in the sheet's frame, and class (n,)."""

    sheets: tuple[str, ...]
    at: Points
    classes: tuple[int, ...]

    @property
    def fewer(self) -> int:
        """How many fewer there are after gluing."""
        return len(self.sheets) - len(set(self.classes))


@dataclass(frozen=True, slots=True, eq=False)
class Glue:
    """Vertices and edges of the joins in all sheets; ``lines`` holds the piece of line of every edge node."""

    vertices: Places
    edges: Places
    lines: tuple[BaseGeometry, ...]

    @property
    def fewer_vertices(self) -> int:
        """By how many vertices gluing lessens the sheets."""
        return self.vertices.fewer

    @property
    def fewer_edges(self) -> int:
        """By how many edges gluing lessens the sheets."""
        return self.edges.fewer

    def sewn_edges(self, sheet: str) -> BaseGeometry:
        """Return the lines of a sheet along which it is glued to something."""
        counts = np.bincount(self.edges.classes) if self.edges.classes else np.zeros(0)
        rows = zip(self.edges.sheets, self.edges.classes, self.lines, strict=True)
        return shapely.union_all([line for s, c, line in rows if s == sheet and counts[c] > 1])

    def place(self, sheet: str, at: Points) -> int:
        """Return the class of the vertex of a sheet nearest to a place."""
        own = [i for i, s in enumerate(self.vertices.sheets) if s == sheet]
        return self.vertices.classes[min(own, key=lambda i: float(np.hypot(*(self.vertices.at[i] - at))))]

    def components(self, shells: Mapping[str, Region]) -> int:
        """Count the components of sheets that hang together by glued vertices."""
        parts = [(s, p) for s, r in shells.items() for p in shapely.get_parts(r)]
        groups = _Groups(len(parts))
        first: dict[int, int] = {}
        for sheet, at, kind in zip(self.vertices.sheets, self.vertices.at, self.vertices.classes, strict=True):
            place = shapely.Point(at)
            for i, (owner, part) in enumerate(parts):
                if owner == sheet and part.dwithin(place, NEAR):
                    groups.join(i, first.setdefault(kind, i))
        return len({groups.root(i) for i in range(len(parts))})


class _Groups:
    """Disjoint groups of numbers that can be joined."""

    __slots__ = ("of",)

    def __init__(self, count: int) -> None:
        self.of = list(range(count))

    def root(self, i: int) -> int:
        while self.of[i] != i:
            self.of[i] = i = self.of[self.of[i]]
        return i

    def join(self, i: int, j: int) -> None:
        self.of[self.root(i)] = self.root(j)


def glue_of(joins: Sequence[Join], shells: Mapping[str, Region], marks: Sequence[Points]) -> Glue:
    """Return what the joins glue of the sheets, of which only the ``shells`` count; each join is cut at its ``marks``."""
    corners: list[_Row] = []
    edges: list[_Row] = []
    lines: list[BaseGeometry] = []
    number = 0
    for join, own_marks in zip(joins, marks, strict=True):
        for piece in _pieces(join, own_marks):
            corners += _rows(join, shells, piece.coords[0], number)
            corners += _rows(join, shells, piece.coords[-1], number + 1)
            middle = _rows(join, shells, _middle(piece), number + 2)
            edges += middle
            lines += [row.held.placing.undone().shape(piece) for row in middle]
            number += 3
    vertices, _ = _nodes_and_classes(corners)
    sides, firsts = _nodes_and_classes(edges)
    return Glue(vertices, sides, tuple(lines[i] for i in firsts))


@dataclass(frozen=True, slots=True, eq=False)
class _Row:
    """A place of a join as it lies in one of its sheets; rows with the same number are one place of the hoop."""

    held: Held
    at: Points
    number: int


def _rows(join: Join, shells: Mapping[str, Region], spot: Sequence[float], number: int) -> list[_Row]:
    """Return a place of a join in each sheet that is held there and counts there."""
    here = shapely.Point(spot[:2])
    there = [h for h in join.held if h.sheet in shells and h.line.dwithin(here, NEAR)]
    placed = [(h, h.placing.undone().points(np.array([spot[:2]]))[0]) for h in there]
    return [_Row(h, at, number) for h, at in placed if shells[h.sheet].dwithin(shapely.Point(at), NEAR)]


def _middle(piece: LineString) -> tuple[float, float]:
    at = piece.interpolate(0.5, normalized=True)
    return at.x, at.y


def _pieces(join: Join, marks: Points) -> list[LineString]:
    """Return the pieces of a join between its marks; closed lines are cut at their marks, or at their start."""
    found: list[LineString] = []
    noded = shapely.line_merge(shapely.union_all([join.path], grid_size=GRID))
    for line in shapely.get_parts(noded):
        near = [line.project(shapely.Point(m)) for m in marks if line.dwithin(shapely.Point(m), NEAR)]
        stops = sorted({0.0, line.length, *near})
        kept = [s for i, s in enumerate(stops) if i == 0 or s - stops[i - 1] > NEAR]
        kept[-1] = line.length
        parts = [substring(line, a, b) for a, b in pairwise(kept) if b - a > NEAR]
        found += [p for p in parts if isinstance(p, LineString)]
    return found


def marks_of(joins: Sequence[Join], shells: Mapping[str, Region]) -> list[Points]:
    """Return for every join the places, in the hoop, where it must be cut."""
    held = [(j, h, h.own_line) for j, join in enumerate(joins) for h in join.held if h.sheet in shells]
    marks = [[_nodes([join.path]), *(shapely.get_coordinates(h.line.boundary) for h in join.held)] for join in joins]
    for sheet, shell in shells.items():
        nodes = _nodes([shell.boundary, *(line for _, h, line in held if h.sheet == sheet)])
        for j, h, line in held:
            if h.sheet == sheet and len(nodes):
                at = shapely.dwithin(shapely.points(nodes), line, NEAR)
                marks[j].append(h.placing.points(nodes[at]))
    return [np.concatenate(m) for m in marks]


def _nodes(lines: Sequence[BaseGeometry]) -> Points:
    """Return the places where lines meet, cross or end, shape (n, 2)."""
    noded = shapely.line_merge(shapely.union_all(list(lines), grid_size=GRID))
    return shapely.get_coordinates([part.boundary for part in shapely.get_parts(noded) if not part.is_empty])


def _nodes_and_classes(rows: Sequence[_Row]) -> tuple[Places, tuple[int, ...]]:
    """Return the nodes with their classes, and for each node the number of its first row."""
    same = _Groups(len(rows))
    for sheet in sorted({row.held.sheet for row in rows}):
        own = [i for i, row in enumerate(rows) if row.held.sheet == sheet]
        for a, b in sorted(cKDTree([rows[i].at for i in own]).query_pairs(NEAR)):
            same.join(own[b], own[a])
    node = [same.root(i) for i in range(len(rows))]
    glued = _Groups(len(rows))
    first: dict[int, int] = {}
    for i, row in enumerate(rows):
        glued.join(node[i], first.setdefault(row.number, node[i]))
    kept = sorted(set(node))
    at = np.array([rows[i].at for i in kept]).reshape(-1, 2)
    return Places(tuple(rows[i].held.sheet for i in kept), at, tuple(glued.root(i) for i in kept)), tuple(kept)
