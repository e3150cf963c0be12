"""Pieces put on pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Mm
from hoopwright.outputs.templates.drawing import draw
from hoopwright.outputs.templates.furniture import FOOT, MARGIN, Sheet
from hoopwright.outputs.templates.marks import Drawing, Mark, Words, shifted, words_box
from hoopwright.outputs.templates.packing import pack
from hoopwright.outputs.templates.pieces import Piece, quarter_turned
from hoopwright.outputs.templates.tiling import Tiling, key_map, tile_marks, tiling

GAP: Mm = 4.0
"""Pieces lie at least this far apart, so that scissors pass."""


@dataclass(frozen=True, slots=True)
class Page:
    """What one page shows, in words and in marks (frame of the paper), and whether its lines are explained."""

    what: str
    marks: tuple[Mark, ...]
    legend: bool = True


def pages_of(pieces: Sequence[Piece], sheet: Sheet) -> tuple[Page, ...]:
    """Return the pages: packed ones first, then the tiles of every piece that is larger than a page."""
    drawn = [(piece, _fitting(piece, sheet.room)) for piece in pieces]
    small = [drawings for _, drawings in drawn if drawings]
    large = [piece for piece, drawings in drawn if not drawings]
    return (*_packed(small, sheet), *(page for piece in large for page in _tiled(piece, sheet)))


def _fitting(piece: Piece, room: tuple[Mm, Mm]) -> tuple[Drawing, ...]:
    """Return the piece drawn as it lies and a quarter turned, as far as these fit the page.

    A turn that drives more words out of the piece reads worse and is not offered beside the drawing as it lies.
    """
    upright, turned = draw(piece), draw(quarter_turned(piece))
    if not _fits(upright, room):
        return (turned,) if _fits(turned, room) else ()
    return (upright, turned) if _fits(turned, room) and turned.notes <= upright.notes else (upright,)


def _size(drawing: Drawing) -> tuple[Mm, Mm]:
    left, top, right, bottom = drawing.box
    return right - left, bottom - top


def _fits(drawing: Drawing, room: tuple[Mm, Mm]) -> bool:
    width, height = _size(drawing)
    return width <= room[0] and height <= room[1]


def _packed(choices: Sequence[tuple[Drawing, ...]], sheet: Sheet) -> tuple[Page, ...]:
    spots = pack([[_size(d) for d in drawings] for drawings in choices], sheet.room, GAP)
    x0, y0 = sheet.corner
    marks: dict[int, list[Mark]] = {}
    for drawings, spot in zip(choices, spots, strict=True):
        drawing = drawings[spot.choice]
        dx, dy = x0 + spot.x - drawing.box[0], y0 + spot.y - drawing.box[1]
        marks.setdefault(spot.page, []).extend(shifted(m, dx, dy) for m in drawing.marks)
    return tuple(Page("Templates at true size", tuple(marks[k])) for k in sorted(marks))


def _tiled(piece: Piece, sheet: Sheet) -> tuple[Page, ...]:
    choices = [(p, tiling(_extent(p), sheet.room)) for p in (piece, quarter_turned(piece))]
    chosen, whole = min(choices, key=lambda choice: len(choice[1].tiles))
    return tuple(_tile_page(chosen, whole, k, sheet) for k in range(len(whole.tiles)))


def _extent(piece: Piece) -> BaseGeometry:
    """Return what the tiles must show: the piece and the words that stand beside it."""
    words = [box(*words_box(m)) for m in draw(piece).marks if isinstance(m, Words)]
    return shapely.union_all([piece.cut, *words])


def _tile_page(piece: Piece, whole: Tiling, number: int, sheet: Sheet) -> Page:
    tile = whole.tiles[number]
    roomiest = max(
        whole.tiles, key=lambda t: (round(piece.inner.intersection(box(*t.box)).area, 3), -whole.tiles.index(t))
    )
    drawing = draw(piece, box(*roomiest.box))
    x0, y0 = sheet.corner
    dx, dy = x0 - tile.box[0], y0 - tile.box[1]
    marks = tuple(shifted(m, dx, dy) for m in tile_marks(drawing, whole, tile))
    corner = (sheet.width - MARGIN - 18.0, sheet.height - MARGIN - FOOT + 4.0)
    what = f"{piece.head}, tile {tile.name}: lay the crosses of the same name on each other"
    return Page(what, (*marks, *key_map(piece.cut, whole, tile, corner)))
