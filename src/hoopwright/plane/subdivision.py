"""Planar subdivisions: what straight segments make of a region.

Words: a *vertex* is a place where edges meet; an *edge* is a straight piece between two vertices with a *face* on
each side (OUTSIDE where there is none); a *chain* is a row of inner edges that run on in one straight line
through their vertices, as long as possible.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.polygon import orient

from hoopwright.core.tolerances import CORNER_DEGREES, GRID, MERGE, STRAIGHT_DEGREES
from hoopwright.core.types import Point

OUTSIDE = -1
"""Stands for a missing face or chain."""


@dataclass(frozen=True, slots=True)
class Edge:
    """A straight piece of boundary: vertex numbers, faces on both sides, chain number (OUTSIDE on the rim)."""

    start: int
    end: int
    left: int
    right: int
    chain: int


@dataclass(frozen=True, slots=True)
class Chain:
    """Inner edges in one straight line, in order from ``vertices[0]`` to ``vertices[-1]``."""

    vertices: tuple[int, ...]
    edges: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Subdivision:
    """The region cut up: vertices (mm), edges, faces (counter-clockwise polygons), chains, vertices on the rim."""

    vertices: tuple[Point, ...]
    edges: tuple[Edge, ...]
    faces: tuple[Polygon, ...]
    chains: tuple[Chain, ...]
    rim: frozenset[int]


def subdivide(region: Polygon, segments: Iterable[tuple[Point, Point]]) -> Subdivision:
    """Cut ``region`` along straight ``segments`` (mm), given in no order; parts outside the region are ignored.

    Segments that end inside a face without meeting another line make no difference to the faces and are dropped.
    Faces are numbered in reading order: from the top row down, left to right within a row.
    """
    lines = [LineString(s) for s in segments]
    rings = [region.exterior, *region.interiors]
    work = shapely.union_all([*(LineString(r) for r in rings), *lines], grid_size=GRID)
    pieces = shapely.get_parts(shapely.polygonize([work]))
    shapely.prepare(region)
    inside = pieces[shapely.contains(region, shapely.point_on_surface(pieces))]
    return subdivision_of(reading_order(inside))


def bridges(region: Polygon, segments: Iterable[tuple[Point, Point]]) -> tuple[LineString, ...]:
    """Return the lines that part nothing: they join two places, but the same face lies on both their sides."""
    return _leftover(region, segments, 1)


def dangles(region: Polygon, segments: Iterable[tuple[Point, Point]]) -> tuple[LineString, ...]:
    """Return the lines that end in the open, inside a face."""
    return _leftover(region, segments, 2)


def _leftover(region: Polygon, segments: Iterable[tuple[Point, Point]], kind: int) -> tuple[LineString, ...]:
    """Return the lines inside a region of which no face is made: 1, those that join two places; 2, those that end in the open."""
    rings = [LineString(r) for r in (region.exterior, *region.interiors)]
    work = shapely.union_all([*rings, *(LineString(s) for s in segments)], grid_size=GRID)
    found = shapely.get_parts(shapely.polygonize_full([work])[kind])
    return tuple(line for line in found if region.contains(line.interpolate(0.5, normalized=True)))


ROW = 0.25
"""Faces whose middles differ in height by less than this part of their own heights stand in one row."""


def reading_order(faces: Iterable[Polygon]) -> list[Polygon]:
    """Return the faces from the top row down, from left to right within a row, by the middles of their boxes."""
    kept = list(faces)
    boxes: list[list[float]] = shapely.bounds(kept).reshape(-1, 4).tolist()
    left = sorted(
        (
            (-(low + high) / 2.0, (x1 + x2) / 2.0, high - low, f)
            for (x1, low, x2, high), f in zip(boxes, kept, strict=True)
        ),
        key=_place,
    )
    rows: list[list[tuple[float, float, float, Polygon]]] = []
    for entry in left:
        if rows and entry[0] - rows[-1][0][0] <= ROW * min(entry[2], rows[-1][0][2]):
            rows[-1].append(entry)
        else:
            rows.append([entry])
    return [face for row in rows for _, _, _, face in sorted(row, key=lambda e: (e[1], e[0]))]


def _place(entry: tuple[float, float, float, Polygon]) -> tuple[float, float]:
    return entry[:2]


def subdivision_of(faces: Sequence[Polygon]) -> Subdivision:
    """Return the subdivision whose faces are the given polygons, which must share their vertices exactly.

    Vertices nearer than MERGE are taken as one. The faces keep the order given.
    """
    numbers: dict[tuple[int, int], int] = {}
    exact: dict[Point, int] = {}
    places: list[Point] = []
    sides: dict[tuple[int, int], int] = {}
    kept = tuple(orient(f) for f in faces)
    for index, ring in _rings(kept):
        row = []
        for p in ring:
            if p not in exact:
                exact[p] = _vertex(p, numbers, places)
            row.append(exact[p])
        for a, b in zip(row, row[1:] + row[:1], strict=True):
            if a != b:
                sides[(a, b)] = index
    return _assemble(kept, places, sides)


def _rings(faces: tuple[Polygon, ...]) -> Iterator[tuple[int, list[Point]]]:
    """Yield the rings of all faces with the number of the face, their last point not repeated."""
    rings, face_of = shapely.get_rings(list(faces), return_index=True)
    coordinates = [(x, y) for x, y in shapely.get_coordinates(rings).tolist()]
    start = 0
    for face, count in zip(face_of.tolist(), shapely.get_num_coordinates(rings).tolist(), strict=True):
        yield face, coordinates[start : start + count - 1]
        start += count


def _vertex(point: Sequence[float], numbers: dict[tuple[int, int], int], places: list[Point]) -> int:
    """Return the number of the vertex at ``point``, new when no known one lies within MERGE."""
    i, j = round(point[0] / MERGE), round(point[1] / MERGE)
    for key in ((i, j), *((i + a, j + b) for a in (-1, 0, 1) for b in (-1, 0, 1))):
        if key in numbers and math.dist(places[numbers[key]], point[:2]) <= MERGE:
            return numbers[key]
    numbers[(i, j)] = len(places)
    places.append((float(point[0]), float(point[1])))
    return numbers[(i, j)]


def _assemble(faces: tuple[Polygon, ...], places: list[Point], sides: dict[tuple[int, int], int]) -> Subdivision:
    raw = [(a, b, face, sides.get((b, a), OUTSIDE)) for (a, b), face in sides.items() if a < b or (b, a) not in sides]
    inner = [i for i, (_, _, _, right) in enumerate(raw) if right != OUTSIDE]
    rim = frozenset(v for a, b, _, right in raw if right == OUTSIDE for v in (a, b))
    chains = _chains(raw, inner, places)
    chain_of = {e: c for c, chain in enumerate(chains) for e in chain.edges}
    edges = tuple(Edge(a, b, left, right, chain_of.get(i, OUTSIDE)) for i, (a, b, left, right) in enumerate(raw))
    return Subdivision(tuple(places), edges, faces, tuple(chains), rim)


def _chains(raw: list[tuple[int, int, int, int]], inner: list[int], places: list[Point]) -> list[Chain]:
    """Group the inner edges into straight rows that run on through their vertices."""
    at: dict[int, list[tuple[float, int]]] = {}
    doubt: dict[int, float] = {}
    for e in inner:
        a, b = raw[e][:2]
        away = math.degrees(math.atan2(places[b][1] - places[a][1], places[b][0] - places[a][0]))
        doubt[e] = _doubt(math.dist(places[a], places[b]))
        at.setdefault(a, []).append((away, e))
        at.setdefault(b, []).append((away + 180.0, e))
    follows: dict[tuple[int, int], int] = {}
    for vertex, meeting in at.items():
        for away, e in meeting:
            bends = [(abs((other - away) % 360.0 - 180.0), f) for other, f in meeting if f != e]
            if bends and (best := min(bends))[0] < max(STRAIGHT_DEGREES, doubt[e], doubt[best[1]]):
                follows[(e, vertex)] = best[1]
    done: set[int] = set()
    chains: list[Chain] = []
    for e in inner:
        if e not in done:
            chain = _follow(raw, follows, e)
            done.update(chain.edges)
            chains.append(chain)
    return chains


def _doubt(length: float) -> float:
    """Return by how many degrees an edge may be turned because its ends were moved by up to MERGE."""
    return min(math.degrees(MERGE / length), CORNER_DEGREES)


def _follow(raw: list[tuple[int, int, int, int]], follows: dict[tuple[int, int], int], first: int) -> Chain:
    """Walk from edge ``first`` both ways as far as the line runs on straight."""
    vertices = list(raw[first][:2])
    edges = [first]
    for forward in (True, False):
        edge, vertex = first, vertices[-1] if forward else vertices[0]
        while (edge, vertex) in follows and follows[(edge, vertex)] not in edges:
            edge = follows[(edge, vertex)]
            a, b = raw[edge][:2]
            vertex = b if a == vertex else a
            if forward:
                edges.append(edge)
                vertices.append(vertex)
            else:
                edges.insert(0, edge)
                vertices.insert(0, vertex)
    return Chain(tuple(vertices), tuple(edges))
