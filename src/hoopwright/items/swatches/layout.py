"""Where swatches stand: rows in columns and squares in a grid, on as many sheets as the field asks for.

Words: a *sheet* is what one hooping holds; a *row* shows a seam stitch, a *square* a ground with its number in a *tab*
above it, like that of a file card; a *label* is a sewn number. Every sheet lies about the middle of the field.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from hoopwright.core.types import Mm, Point

LABEL: Final[Mm] = 4.0
"""Height of a sewn number."""

LABEL_ROOM: Final[Mm] = 9.0
"""Width kept for the number before a row."""

LABEL_OFF: Final[Mm] = 0.75
"""The number stands so much farther from its row than the middle of that room."""

ROW: Final[Mm] = 48.0
"""Least length of a row, where the field is not smaller."""

LONGEST_ROW: Final[Mm] = 100.0

LEAST_ROW: Final[Mm] = 30.0
"""On a shorter row a seam stitch does not show how it goes on."""

BETWEEN_ROWS: Final[Mm] = 4.0
BETWEEN_COLUMNS: Final[Mm] = 7.0
STRETCH: Final[Mm] = 3.0
"""Rows are moved apart by at most so much, to make the columns of a sheet equally long."""

SQUARE: Final[Mm] = 48.0
"""Wished side of a square, and the largest: the larger patterns show how they go on, and four squares fit above each other on A4."""

LEAST_SQUARE: Final[Mm] = 30.0
"""A smaller square does not show how a ground goes on."""

BETWEEN_SQUARES: Final[Mm] = 3.5
TAB: Final[tuple[Mm, Mm]] = (10.0, 6.0)
"""Width and height of the tab that holds the number of a square."""

STEP: Final[Mm] = 0.5
"""Column heights are tried in steps of this."""


@dataclass(frozen=True, slots=True)
class RowPlace:
    """A row: number of its sheet (from 0), its line from left to right, the middle of its number."""

    sheet: int
    start: Point
    end: Point
    label: Point


@dataclass(frozen=True, slots=True)
class Reach:
    """How far a stitch reaches below and above its line, mm."""

    below: Mm
    above: Mm

    @property
    def height(self) -> Mm:
        """Height of the row, at least that of its number."""
        return max(self.below + self.above, LABEL)

    @property
    def middle(self) -> Mm:
        """How far the middle of the row lies above the line."""
        return (self.above - self.below) / 2


@dataclass(frozen=True, slots=True)
class SquarePlace:
    """A square: number of its sheet (from 0), its left lower corner, its side, the middle of its number."""

    sheet: int
    corner: Point
    side: Mm

    @property
    def label(self) -> Point:
        """Middle of the number in the tab."""
        return self.corner[0] + TAB[0] / 2, self.corner[1] + self.side + TAB[1] / 2


def row_length(width: Mm) -> tuple[int, Mm]:
    """Return how many columns a room of this width has, and the length of their rows; 0 when it is too small for one."""
    count = max(1, int((width + BETWEEN_COLUMNS) // (LABEL_ROOM + ROW + BETWEEN_COLUMNS)))
    pitch = (width + BETWEEN_COLUMNS) / count
    length = float(math.floor(min(pitch - BETWEEN_COLUMNS - LABEL_ROOM, LONGEST_ROW)))
    return (count, length) if length >= LEAST_ROW else (0, 0.0)


def row_places(reaches: Sequence[Reach], room: tuple[Mm, Mm]) -> tuple[RowPlace, ...]:
    """Return the places of rows in a ``room`` (width, height); nothing when it is too small for one of them."""
    count, length = row_length(room[0])
    heights = [r.height for r in reaches]
    if not count or not heights or max(heights) > room[1]:
        return ()
    count = _beside(heights, room, count, length)
    columns = _columns(heights, room[1], count)
    left = -(count * (LABEL_ROOM + length) + (count - 1) * BETWEEN_COLUMNS) / 2
    places: list[RowPlace] = []
    for sheet, first in enumerate(range(0, len(columns), count)):
        here = columns[first : first + count]
        tallest = max(_height(c) for c in here)
        for k, column in enumerate(here):
            x = left + k * (LABEL_ROOM + length + BETWEEN_COLUMNS)
            for middle, reach in zip(_middles(column, tallest), reaches[len(places) :], strict=False):
                y = middle - reach.middle
                start, end = (x + LABEL_ROOM, y), (x + LABEL_ROOM + length, y)
                places.append(RowPlace(sheet, start, end, (x + LABEL_ROOM / 2 - LABEL_OFF, middle)))
    return tuple(places)


def _beside(heights: Sequence[Mm], room: tuple[Mm, Mm], most: int, length: Mm) -> int:
    """Return how many columns a sheet gets: no more sheets than with ``most``, and a shape as near the room's as can be."""
    needed = len(_filled(heights, room[1]))
    fitting = [k for k in range(1, most + 1) if -(-needed // k) == -(-needed // most)]

    def shape(count: int) -> float:
        width = count * (LABEL_ROOM + length + BETWEEN_COLUMNS) - BETWEEN_COLUMNS
        return width / max(_height(c) for c in _columns(heights, room[1], count))

    return min(fitting, key=lambda k: _apart(shape(k), room))


def _apart(shape: float, room: tuple[Mm, Mm]) -> float:
    """Return how much slimmer or squatter than the room a sheet of this width over height is; 0 for the same shape."""
    return abs(math.log(shape * room[1] / room[0]))


def _columns(heights: Sequence[Mm], most: Mm, beside: int) -> list[list[Mm]]:
    """Return the heights in columns, filled in order and as evenly as the sheets they need allow."""
    count = -(-len(_filled(heights, most)) // beside) * beside
    room = max(heights)
    while len(_filled(heights, min(room, most))) > count:
        room += STEP
    return _filled(heights, min(room, most))


def _filled(heights: Sequence[Mm], most: Mm) -> list[list[Mm]]:
    columns: list[list[Mm]] = []
    for height in heights:
        if columns and _height([*columns[-1], height]) <= most:
            columns[-1].append(height)
        else:
            columns.append([height])
    return columns


def _height(column: Sequence[Mm]) -> Mm:
    return sum(column) + BETWEEN_ROWS * (len(column) - 1)


def _middles(column: Sequence[Mm], tallest: Mm) -> list[Mm]:
    """Return the middle heights of the rows of a column, from the top of a sheet ``tallest`` mm high downwards."""
    gaps = max(len(column) - 1, 1)
    between = BETWEEN_ROWS + min((tallest - _height(column)) / gaps, STRETCH)
    middles, y = [], tallest / 2
    for height in column:
        middles.append(y - height / 2)
        y -= height + between
    return middles


def square_places(count: int, room: tuple[Mm, Mm]) -> tuple[SquarePlace, ...]:
    """Return the places of so many squares in a ``room`` (width, height); nothing when it is too small for one."""
    across, down = _fitting(room[0], 0.0), _fitting(room[1], TAB[1])
    side = math.floor(min(_side(room[0], across, 0.0), _side(room[1], down, TAB[1]), SQUARE))
    if side < LEAST_SQUARE:
        return ()
    if count <= across * down:
        across = min(range(-(-count // down), across + 1), key=lambda k: _apart(_shape(count, k, side), room))
    return tuple(_square(i, count, (across, down), float(side)) for i in range(count))


def _fitting(room: Mm, tab: Mm) -> int:
    """Return how many squares, each with a ``tab`` above it, fit a length: as near their wished side as can be."""
    many = max(1, round((room + BETWEEN_SQUARES) / (SQUARE + tab + BETWEEN_SQUARES)))
    return next((n for n in range(many, 0, -1) if _side(room, n, tab) >= LEAST_SQUARE), 1)


def _side(room: Mm, many: int, tab: Mm) -> Mm:
    return (room + BETWEEN_SQUARES) / many - BETWEEN_SQUARES - tab


def _shape(count: int, across: int, side: Mm) -> float:
    """Return the width over the height of so many squares, ``across`` of them beside each other."""
    width, height = _grid_size(across, -(-count // across), side)
    return width / height


def _grid_size(across: int, down: int, side: Mm) -> tuple[Mm, Mm]:
    width = across * (side + BETWEEN_SQUARES) - BETWEEN_SQUARES
    return width, down * (side + TAB[1] + BETWEEN_SQUARES) - BETWEEN_SQUARES


def _square(index: int, count: int, grid: tuple[int, int], side: Mm) -> SquarePlace:
    """Return the place of one square; sheets have full rows, as equally many as can be, about the field's middle."""
    across, down = grid
    row, column = divmod(index, across)
    starts = _first_rows(-(-count // across), down)
    sheet = max(k for k, start in enumerate(starts[:-1]) if start <= row)
    width, height = _grid_size(across, starts[sheet + 1] - starts[sheet], side)
    x = -width / 2 + column * (side + BETWEEN_SQUARES)
    y = height / 2 - (row - starts[sheet]) * (side + TAB[1] + BETWEEN_SQUARES) - TAB[1] - side
    return SquarePlace(sheet, (x, y), side)


def _first_rows(rows: int, most: int) -> list[int]:
    """Return the first row of every sheet, ``most`` rows a sheet and no more sheets than that asks for, and the number of rows."""
    sheets = -(-rows // most)
    return [-(-rows * k // sheets) for k in range(sheets + 1)]
