"""A piece larger than a page: cut into windows that overlap, with crosses and letters to join them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Mm, Point
from hoopwright.outputs.templates.marks import Area, Box, Drawing, Line, Mark, Words

OVERLAP: Mm = 10.0
"""Two neighbouring tiles show the same strip of this width (common practice, no source)."""

MAP: Mm = 16.0
"""Longest side of the small map of the tiles."""


@dataclass(frozen=True, slots=True)
class Tile:
    """One window on a large piece: its name ("A2": row A, second column), its box in the piece's frame."""

    name: str
    row: int
    column: int
    box: Box


@dataclass(frozen=True, slots=True)
class Tiling:
    """All tiles of a piece that have something of it to show, and the number of rows and columns."""

    tiles: tuple[Tile, ...]
    rows: int
    columns: int
    box: Box


def tiling(shape: BaseGeometry, room: tuple[Mm, Mm]) -> Tiling:
    """Return the tiles of ``room`` size that cover ``shape``; windows without any of it are left out."""
    left, top, right, bottom = shape.bounds
    columns, rows = _count(right - left, room[0]), _count(bottom - top, room[1])
    x = (left + right) / 2 - _span(columns, room[0]) / 2
    y = (top + bottom) / 2 - _span(rows, room[1]) / 2
    tiles = []
    for row in range(rows):
        for column in range(columns):
            a, b = x + column * (room[0] - OVERLAP), y + row * (room[1] - OVERLAP)
            window = (a, b, a + room[0], b + room[1])
            if shape.intersection(box(*window)).area > 0:
                tiles.append(Tile(f"{_letter(row)}{column + 1}", row, column, window))
    return Tiling(tuple(tiles), rows, columns, (x, y, x + _span(columns, room[0]), y + _span(rows, room[1])))


def _count(length: Mm, room: Mm) -> int:
    return max(1, math.ceil((length - OVERLAP) / (room - OVERLAP)))


def _span(count: int, room: Mm) -> Mm:
    return count * (room - OVERLAP) + OVERLAP


def _letter(row: int) -> str:
    return chr(ord("A") + row) if row < 26 else f"{_letter(row // 26 - 1)}{_letter(row % 26)}"


def tile_marks(drawing: Drawing, whole: Tiling, tile: Tile) -> tuple[Mark, ...]:
    """Return what of ``drawing`` shows in the tile, with the marks that join it to its neighbours."""
    window = box(*tile.box)
    shown = [part for mark in drawing.marks for part in _clipped(mark, window)]
    return (*shown, *_joins(whole, tile))


def _clipped(mark: Mark, window: Polygon) -> Iterator[Mark]:
    match mark:
        case Line():
            yield from _clipped_line(mark, window)
        case Area():
            if window.contains(Polygon(mark.rings[0])):
                yield mark
        case Words():
            if window.contains(shapely.Point(mark.at)):
                yield mark


def _clipped_line(mark: Line, window: Polygon) -> Iterator[Line]:
    row = (*mark.points, mark.points[0]) if mark.closed else mark.points
    path = LineString(row)
    if window.contains(path):
        yield mark
        return
    cut = path.intersection(window)
    merged = shapely.line_merge(cut) if cut.geom_type == "MultiLineString" else cut
    for part in shapely.get_parts(merged):
        if isinstance(part, LineString) and not part.is_empty:
            yield Line(tuple((x, y) for x, y in part.coords), mark.style)


def _joins(whole: Tiling, tile: Tile) -> Iterator[Mark]:
    """Yield crosses in the strips shared with neighbours, the same letter on both, and the edge to lay them to."""
    names = {(t.row, t.column) for t in whole.tiles}
    a, b, c, d = tile.box
    strips = (
        ((tile.row, tile.column - 1), (a + OVERLAP / 2, b, a + OVERLAP / 2, d), ((a + OVERLAP, b), (a + OVERLAP, d))),
        ((tile.row, tile.column + 1), (c - OVERLAP / 2, b, c - OVERLAP / 2, d), ((c - OVERLAP, b), (c - OVERLAP, d))),
        ((tile.row - 1, tile.column), (a, b + OVERLAP / 2, c, b + OVERLAP / 2), ((a, b + OVERLAP), (c, b + OVERLAP))),
        ((tile.row + 1, tile.column), (a, d - OVERLAP / 2, c, d - OVERLAP / 2), ((a, d - OVERLAP), (c, d - OVERLAP))),
    )
    for other, line, edge in strips:
        if other in names:
            yield Line(edge, "tile")
            yield from _crosses(whole, (tile.row, tile.column), other, line)


def _crosses(whole: Tiling, one: tuple[int, int], other: tuple[int, int], line: Box) -> Iterator[Mark]:
    first, second = sorted((one, other))
    number = (first[0] * whole.columns + first[1]) * 2 + (0 if first[0] == second[0] else 1)
    for k, part in enumerate((0.15, 0.5, 0.85)):
        at = (line[0] + part * (line[2] - line[0]), line[1] + part * (line[3] - line[1]))
        yield from _cross(at, f"{_letter(number).lower()}{k + 1}")


def _cross(at: Point, name: str) -> Iterator[Mark]:
    x, y = at
    yield Line(((x - 3.0, y), (x + 3.0, y)), "join")
    yield Line(((x, y - 3.0), (x, y + 3.0)), "join")
    yield Words(name, (x + 0.8, y - 1.8), 7.0, style="join")


def key_map(cut: Polygon, whole: Tiling, tile: Tile, corner: Point) -> tuple[Mark, ...]:
    """Return the small map of the tiles with this one filled, its left top corner at ``corner``."""
    left, top, right, bottom = whole.box
    scale = MAP / max(right - left, bottom - top)

    def there(x: Mm, y: Mm) -> Point:
        return corner[0] + (x - left) * scale, corner[1] + (y - top) * scale

    marks: list[Mark] = []
    for t in whole.tiles:
        a, b, c, d = t.box
        ring = (there(a, b), there(c, b), there(c, d), there(a, d))
        if t == tile:
            marks.append(Area((ring,), "here"))
        marks.append(Line(ring, "hair", closed=True))
    marks.append(Line(tuple(there(x, y) for x, y in cut.exterior.coords[:-1]), "map", closed=True))
    for t in whole.tiles:
        a, b, c, d = t.box
        marks.append(Words(t.name, there((a + c) / 2, (b + d) / 2), 6.0, "center"))
    return tuple(marks)
