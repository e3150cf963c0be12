"""Pieces put on pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry import box

from hoopwright.core.types import Mm
from hoopwright.outputs.templates.drawing import draw
from hoopwright.outputs.templates.furniture import FOOT, MARGIN, Sheet
from hoopwright.outputs.templates.marks import Drawing, Mark, shifted
from hoopwright.outputs.templates.packing import pack
from hoopwright.outputs.templates.pieces import Piece, quarter_turned
from hoopwright.outputs.templates.tiling import Tiling, key_map, tile_marks, tiling

GAP: Mm = 5.0
"""Pieces lie at least this far apart, so that scissors pass."""


@dataclass(frozen=True, slots=True)
class Page:
    """What one page shows, in words and in marks (frame of the paper)."""

    what: str
    marks: tuple[Mark, ...]


def pages_of(pieces: Sequence[Piece], sheet: Sheet) -> tuple[Page, ...]:
    """Return the pages: packed ones first, then the tiles of every piece that is larger than a page."""
    drawn = [(piece, _fitting(piece, sheet.room)) for piece in pieces]
    small = [drawing for _, drawing in drawn if drawing is not None]
    large = [piece for piece, drawing in drawn if drawing is None]
    return (*_packed(small, sheet), *(page for piece in large for page in _tiled(piece, sheet)))


def _fitting(piece: Piece, room: tuple[Mm, Mm]) -> Drawing | None:
    """Return the piece drawn as it lies, or a quarter turned if only so it fits the page; None when neither does."""
    for turned in (piece, quarter_turned(piece)):
        drawing = draw(turned)
        left, top, right, bottom = drawing.box
        if right - left <= room[0] and bottom - top <= room[1]:
            return drawing
    return None


def _packed(drawings: Sequence[Drawing], sheet: Sheet) -> tuple[Page, ...]:
    sizes = [(d.box[2] - d.box[0], d.box[3] - d.box[1]) for d in drawings]
    spots = pack(sizes, sheet.room, GAP)
    x0, y0 = sheet.corner
    marks: dict[int, list[Mark]] = {}
    for drawing, spot in zip(drawings, spots, strict=True):
        dx, dy = x0 + spot.x - drawing.box[0], y0 + spot.y - drawing.box[1]
        marks.setdefault(spot.page, []).extend(shifted(m, dx, dy) for m in drawing.marks)
    return tuple(Page("Templates at true size", tuple(marks[k])) for k in sorted(marks))


def _tiled(piece: Piece, sheet: Sheet) -> tuple[Page, ...]:
    choices = [(p, tiling(p.cut, sheet.room)) for p in (piece, quarter_turned(piece))]
    chosen, whole = min(choices, key=lambda choice: len(choice[1].tiles))
    return tuple(_tile_page(chosen, whole, k, sheet) for k in range(len(whole.tiles)))


def _tile_page(piece: Piece, whole: Tiling, number: int, sheet: Sheet) -> Page:
    tile = whole.tiles[number]
    roomiest = max(
        whole.tiles, key=lambda t: (round(piece.sew.intersection(box(*t.box)).area, 3), -whole.tiles.index(t))
    )
    drawing = draw(piece, box(*roomiest.box))
    x0, y0 = sheet.corner
    dx, dy = x0 - tile.box[0], y0 - tile.box[1]
    marks = tuple(shifted(m, dx, dy) for m in tile_marks(drawing, whole, tile))
    corner = (sheet.width - MARGIN - 18.0, sheet.height - MARGIN - FOOT + 4.0)
    what = f"{piece.head}, tile {tile.name}: lay the crosses of the same name on each other"
    return Page(what, (*marks, *key_map(piece.cut, whole, tile, corner)))
