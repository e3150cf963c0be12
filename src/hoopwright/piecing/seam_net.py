"""The seam net: what the order of sewing needs to know of a patch map, and nothing else.

Words: a *piece* is what one step adds: a face, or several faces sewn together before (a section). A *row* is a
chain of seam edges as far as it is straight and does not pass the rim. A vertex is *whole* in a set of pieces when it is not on the rim and
every piece that touches it is in the set. A piece is *straight* at a vertex when a row passes there along its side.

Sets of pieces are whole numbers used as bit rows: bit p is piece p.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from hoopwright.core.tolerances import FLAT
from hoopwright.core.types import Point
from hoopwright.plane.subdivision import OUTSIDE, Subdivision

ABSENT = -1
"""Marks a face that does not belong to any piece of the net."""


@dataclass(frozen=True, slots=True)
class NetEdge:
    """A seam edge: row and place in it, pieces and faces on both sides as seen along the row."""

    row: int
    place: int
    left: int
    right: int
    left_face: int
    right_face: int
    length: float


@dataclass(frozen=True, slots=True)
class Row:
    """A straight row: its chain, and the vertices of the chain from the row's start to its end."""

    chain: int
    vertices: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Chord:
    """The one straight seam of a piece: row, first and last place in it, and whether the piece lies on the left."""

    row: int
    first: int
    last: int
    on_left: bool


@dataclass(frozen=True, slots=True, eq=False)
class SeamNet:
    """Pieces and the seam edges between them.

    ``faces_of[p]`` are the faces of piece p. ``edges_of[p]`` are its edges, ``vertices_of[p]`` the vertices it touches,
    ``straight_at[p]`` those where it is straight. ``around[v]`` is the set of pieces that touch vertex v, with a bit
    that no set contains when v can never be whole. ``touching[p]`` is the set of pieces that share a vertex with p;
    ``across[p][k]`` the set of those that share more than k seam edges with it. Whether and how a piece can be sewn last
    depends only on which of the pieces that touch it are there; answers are kept in ``known_last`` and ``known_chords``,
    which changes nothing but the time.
    """

    count: int
    edges: tuple[NetEdge, ...]
    rows: tuple[Row, ...]
    faces_of: tuple[tuple[int, ...], ...]
    edges_of: tuple[tuple[int, ...], ...]
    vertices_of: tuple[tuple[int, ...], ...]
    straight_at: tuple[tuple[int, ...], ...]
    around: tuple[int, ...]
    touching: tuple[int, ...]
    across: tuple[tuple[int, ...], ...]
    known_last: dict[tuple[int, int], bool] = field(default_factory=dict)
    known_chords: dict[tuple[int, int], Chord] = field(default_factory=dict)

    @property
    def everything(self) -> int:
        """The set of all pieces."""
        return (1 << self.count) - 1

    def other(self, edge: int, piece: int) -> int:
        """Return the piece across ``edge`` from ``piece``."""
        e = self.edges[edge]
        return e.right if e.left == piece else e.left

    def whole(self, vertex: int, pieces: int) -> bool:
        """Return whether ``vertex`` lies inside the union of ``pieces``."""
        return not self.around[vertex] & ~pieces


def members(pieces: int) -> list[int]:
    """Return the numbers in a set, ascending."""
    found = []
    while pieces:
        low = pieces & -pieces
        found.append(low.bit_length() - 1)
        pieces ^= low
    return found


def net_of(plane: Subdivision, groups: Sequence[int] | None = None) -> SeamNet:
    """Return the net of a subdivision.

    ``groups[f]`` is the piece that face f belongs to, ABSENT for a face that is not there; pieces count from 0 without
    gaps. Without ``groups`` each face is a piece.
    """
    group = tuple(groups) if groups is not None else tuple(range(len(plane.faces)))
    count = max(group, default=ABSENT) + 1
    rows = _rows(plane)
    edges = _edges(plane, rows, group)
    around = _around(plane, group, count)
    straight = _straight(edges, rows, count)
    touched = _vertices_of(around, count)
    return SeamNet(
        count=count,
        edges=edges,
        rows=rows,
        faces_of=_by_piece(((g, f) for f, g in enumerate(group) if g != ABSENT), count),
        edges_of=_by_piece(((p, i) for i, e in enumerate(edges) for p in (e.left, e.right)), count),
        vertices_of=touched,
        straight_at=straight,
        around=around,
        touching=_touching(around, touched, count),
        across=tuple(_layers(pieces) for pieces in _by_piece(_neighbours(edges), count)),
    )


def _by_piece(pairs: Iterable[tuple[int, int]], count: int) -> tuple[tuple[int, ...], ...]:
    lists: list[list[int]] = [[] for _ in range(count)]
    for piece, item in pairs:
        lists[piece].append(item)
    return tuple(tuple(items) for items in lists)


def _rows(plane: Subdivision) -> tuple[Row, ...]:
    """Cut every chain where it passes a vertex of the rim, and where it leaves a straight line by more than FLAT."""
    rows = []
    for number, chain in enumerate(plane.chains):
        last = len(chain.vertices) - 1
        cuts = [0, *(i for i in range(1, last) if chain.vertices[i] in plane.rim), last]
        for start, end in pairwise(cuts):
            part = chain.vertices[start : end + 1]
            rows += [Row(number, vertices) for vertices in _flat_parts(plane, part)]
    return tuple(rows)


def _flat_parts(plane: Subdivision, vertices: tuple[int, ...]) -> list[tuple[int, ...]]:
    parts, start = [], 0
    while start < len(vertices) - 1:
        end = _flat_end(plane, vertices, start)
        parts.append(vertices[start : end + 1])
        start = end
    return parts


def _flat_end(plane: Subdivision, vertices: tuple[int, ...], start: int) -> int:
    end = len(vertices) - 1
    while not is_flat([plane.vertices[v] for v in vertices[start : end + 1]]):
        end -= 1
    return end


def is_flat(points: Sequence[Point]) -> bool:
    """Return whether no point leaves the chord from first to last by more than FLAT."""
    (ax, ay), (bx, by) = points[0], points[-1]
    length = math.hypot(bx - ax, by - ay)
    return all(abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) <= FLAT * length for x, y in points[1:-1])


def _edges(plane: Subdivision, rows: tuple[Row, ...], group: tuple[int, ...]) -> tuple[NetEdge, ...]:
    by_ends = {frozenset((e.start, e.end)): e for e in plane.edges if e.chain != OUTSIDE}
    found = []
    for number, row in enumerate(rows):
        for place, (a, b) in enumerate(pairwise(row.vertices)):
            edge = by_ends[frozenset((a, b))]
            left, right = (edge.left, edge.right) if edge.start == a else (edge.right, edge.left)
            if ABSENT in (group[left], group[right]) or group[left] == group[right]:
                continue
            length = math.dist(plane.vertices[a], plane.vertices[b])
            found.append(NetEdge(number, place, group[left], group[right], left, right, length))
    return tuple(found)


def _around(plane: Subdivision, group: tuple[int, ...], count: int) -> tuple[int, ...]:
    never = 1 << count
    sets = [never if v in plane.rim else 0 for v in range(len(plane.vertices))]
    for edge in plane.edges:
        for face in (edge.left, edge.right):
            if face != OUTSIDE:
                bit = never if group[face] == ABSENT else 1 << group[face]
                sets[edge.start] |= bit
                sets[edge.end] |= bit
    return tuple(sets)


def _vertices_of(around: tuple[int, ...], count: int) -> tuple[tuple[int, ...], ...]:
    inside = (1 << count) - 1
    return _by_piece(((p, v) for v, pieces in enumerate(around) for p in members(pieces & inside)), count)


def _straight(edges: tuple[NetEdge, ...], rows: tuple[Row, ...], count: int) -> tuple[tuple[int, ...], ...]:
    """List for each piece the vertices where two edges of one row follow each other along its side."""
    pairs = []
    for one, two in pairwise(edges):
        if one.row == two.row and two.place == one.place + 1:
            vertex = rows[one.row].vertices[two.place]
            pairs += [(p, vertex) for p, q in ((one.left, two.left), (one.right, two.right)) if p == q]
    return _by_piece(pairs, count)


def _neighbours(edges: tuple[NetEdge, ...]) -> Iterator[tuple[int, int]]:
    for e in edges:
        yield e.left, e.right
        yield e.right, e.left


def _layers(pieces: tuple[int, ...]) -> tuple[int, ...]:
    """Return the set of the pieces named, of those named at least twice, and so on."""
    layers = [0] * max(Counter(pieces).values(), default=0)
    for piece, times in Counter(pieces).items():
        for k in range(times):
            layers[k] |= 1 << piece
    return tuple(layers)


def _touching(around: tuple[int, ...], touched: tuple[tuple[int, ...], ...], count: int) -> tuple[int, ...]:
    inside = (1 << count) - 1
    sets = []
    for piece in range(count):
        near = 0
        for v in touched[piece]:
            near |= around[v]
        sets.append(near & inside & ~(1 << piece))
    return tuple(sets)
