"""One piece drawn: lines first, then the words that fit inside it; what does not fit stands beside it with a leader."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import LineString, MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Degrees, Mm, Point
from hoopwright.outputs.templates.lettering import POINT, shortened, text_width
from hoopwright.outputs.templates.marks import Area, Drawing, Line, Mark, Words, box_of
from hoopwright.outputs.templates.pieces import Piece
from hoopwright.outputs.templates.places import fit_arrow, fit_box, middle_of

SIZES: tuple[tuple[float, float], ...] = ((18.0, 8.5), (14.0, 7.5), (11.0, 7.0))
"""Sizes tried for the name and the lines below it, in points."""

ARROWS: tuple[Mm, ...] = (40.0, 30.0, 22.0, 15.0, 10.0)
"""Lengths tried for the grain arrow."""

CLEAR: Mm = 1.2
"""Words keep at least this far from a line."""

BESIDE: Mm = 5.0
"""Distance from a piece to the words beside it."""

WIDEST: Mm = 60.0
"""A longer line of words is cut off."""

HATCH: Mm = 1.6
"""Distance between the hatching lines of what is cut away."""

CLIP_WORDS = "cut this away after sewing"


@dataclass(frozen=True, slots=True)
class _Beside:
    """Words to stand beside the piece, and the place their leader points to."""

    lines: tuple[tuple[str, float, bool], ...]
    to: Point
    arrow: Degrees | None = None


def draw(piece: Piece, window: Polygon | None = None) -> Drawing:
    """Return the piece drawn in its own frame. Words keep inside ``window`` when one is given (a page of a large piece)."""
    room = piece.sew if piece.clip is None else piece.sew.difference(piece.clip)
    if window is not None:
        room = room.intersection(window)
    inside, beside = _inside(piece, room.buffer(-CLEAR))
    clip, clip_beside = _clip(piece)
    marks = (*clip, *_outlines(piece), *inside)
    notes = tuple(note for note in (beside, clip_beside) if note is not None)
    marks = (*marks, *_beside(notes, piece.cut.bounds))
    return Drawing(piece.name, marks, box_of(marks), len(notes))


def _outlines(piece: Piece) -> tuple[Mark, ...]:
    cut = Line(_ring(piece.cut), "cut", closed=True)
    sew = Line(_ring(piece.sew), "sew", closed=True)
    if piece.seam is None:
        return cut, sew
    return cut, sew, Line(tuple((x, y) for x, y in piece.seam.coords), "seam")


def _inside(piece: Piece, room: BaseGeometry) -> tuple[tuple[Mark, ...], _Beside | None]:
    """Return words and arrow that fit inside, and what must stand beside the piece."""
    for head, body in SIZES:
        rows = ((piece.head, head, True), *((shortened(line, body, WIDEST), body, False) for line in piece.lines))
        width, height = _block_size(rows)
        middle = fit_box(room, width, height)
        if middle is not None:
            words = _block(rows, middle)
            taken = box(middle[0] - width / 2, middle[1] - height / 2, middle[0] + width / 2, middle[1] + height / 2)
            return _with_arrow(piece, room, words, taken)
    rows = ((piece.head, 11.0, True), *((shortened(line, 7.0, WIDEST), 7.0, False) for line in piece.lines))
    arrow, beside = _arrow(piece, room)
    note = _Beside(rows, middle_of(piece.sew), beside)
    return arrow, note


def _with_arrow(
    piece: Piece, room: BaseGeometry, words: tuple[Mark, ...], taken: Polygon
) -> tuple[tuple[Mark, ...], _Beside | None]:
    arrow, missing = _arrow(piece, room.difference(taken.buffer(CLEAR)))
    if missing is None:
        return (*words, *arrow), None
    return words, _Beside((("grain", 7.0, False),), middle_of(piece.sew), missing)


def _arrow(piece: Piece, room: BaseGeometry) -> tuple[tuple[Mark, ...], Degrees | None]:
    """Return the grain arrow where it fits, else nothing and its angle."""
    if piece.grain is None:
        return (), None
    line = fit_arrow(room.buffer(-2.0), piece.grain, ARROWS)
    if line is None:
        return (), piece.grain
    start, end = ((x, y) for x, y in line.coords)
    return grain_arrow(start, end, one_way=piece.has_up), None


def grain_arrow(start: Point, end: Point, *, one_way: bool) -> tuple[Mark, ...]:
    """Return an arrow along the grain with its word; ``one_way`` for cloth that has an up."""
    angle = math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))
    heads = [_head(end, angle)] if one_way else [_head(end, angle), _head(start, angle + 180)]
    reading = (angle + 90) % 180 - 90
    up = math.radians(reading - 90)
    middle = ((start[0] + end[0]) / 2 + 1.5 * math.cos(up), (start[1] + end[1]) / 2 + 1.5 * math.sin(up))
    word = "grain, up" if one_way else "grain"
    if text_width(word, 6.0) > math.dist(start, end):
        word = "up" if one_way else ""
    words = (Words(word, middle, 6.0, "center", turn=reading),) if word else ()
    return (Line((start, end), "grain"), *heads, *words)


def _head(tip: Point, angle: Degrees) -> Area:
    corners = [tip]
    for side in (160, 200):
        turn = math.radians(angle + side)
        corners.append((tip[0] + 2.2 * math.cos(turn), tip[1] + 2.2 * math.sin(turn)))
    return Area((tuple(corners),), "ink")


def _clip(piece: Piece) -> tuple[tuple[Mark, ...], _Beside | None]:
    """Return the hatched region that is cut away, and its words with a leader."""
    if piece.clip is None or piece.clip.is_empty:
        return (), None
    parts = [p for p in shapely.get_parts(piece.clip) if isinstance(p, Polygon)]
    edges = tuple(Line(_ring(p), "clip", closed=True) for p in parts)
    biggest = max(parts, key=lambda p: p.area)
    note = _Beside(((CLIP_WORDS, 7.0, False),), middle_of(biggest))
    return (*edges, *_hatching(MultiPolygon(parts))), note


def _hatching(region: MultiPolygon) -> tuple[Line, ...]:
    left, low, right, high = region.bounds
    step = HATCH * math.sqrt(2)
    rows = np.arange(left - (high - low) + step / 2, right, step)
    lines = [LineString([(x, low), (x + high - low, high)]) for x in rows]
    parts = shapely.get_parts(shapely.intersection(lines, region))
    return tuple(
        Line(tuple((x, y) for x, y in p.coords), "hatch") for p in parts if isinstance(p, LineString) and p.length > 0
    )


def _block_size(rows: tuple[tuple[str, float, bool], ...]) -> tuple[Mm, Mm]:
    width = max(text_width(t, size, bold=bold) for t, size, bold in rows)
    return width, sum(size * POINT * 1.2 for _, size, _ in rows)


def _block(rows: tuple[tuple[str, float, bool], ...], middle: Point) -> tuple[Words, ...]:
    """Return rows of words under each other, centred on ``middle``."""
    y = middle[1] - _block_size(rows)[1] / 2
    words = []
    for text, size, bold in rows:
        height = size * POINT * 1.2
        words.append(Words(text, (middle[0], y + height / 2), size, "center", bold=bold))
        y += height
    return tuple(words)


def _beside(notes: tuple[_Beside, ...], bounds: tuple[float, float, float, float]) -> tuple[Mark, ...]:
    """Return the notes stacked to the right of the piece, each with its leader."""
    _, low, right, high = bounds
    heights = [_note_height(n) for n in notes]
    y = (low + high) / 2 - (sum(heights) + 2.0 * (len(notes) - 1)) / 2
    marks: list[Mark] = []
    for note, height in sorted(zip(notes, heights, strict=True), key=lambda pair: pair[0].to[1]):
        marks += _note(note, (right + BESIDE, y), height)
        y += height + 2.0
    return tuple(marks)


def _note_height(note: _Beside) -> Mm:
    height = _block_size(note.lines)[1]
    return height + (9.0 if note.arrow is not None else 0.0)


def _note(note: _Beside, at: Point, height: Mm) -> list[Mark]:
    x, y = at
    first = note.lines[0][1] * POINT * 1.2
    marks: list[Mark] = [Line(((x - 1.0, y + first / 2), note.to), "leader"), Area((_dot(note.to),), "ink")]
    for text, size, bold in note.lines:
        row = size * POINT * 1.2
        marks.append(Words(text, (x, y + row / 2), size, bold=bold))
        y += row
    if note.arrow is not None:
        c, s = 4.0 * math.cos(math.radians(note.arrow)), 4.0 * math.sin(math.radians(note.arrow))
        middle = (x + 5.0, at[1] + height - 4.5)
        ends = (middle[0] - c, middle[1] - s), (middle[0] + c, middle[1] + s)
        marks += grain_arrow(*ends, one_way=False)
    return marks


def _dot(at: Point) -> tuple[Point, ...]:
    steps = [2 * math.pi * k / 12 for k in range(12)]
    return tuple((at[0] + 0.4 * math.cos(a), at[1] + 0.4 * math.sin(a)) for a in steps)


def _ring(area: Polygon) -> tuple[Point, ...]:
    return tuple((x, y) for x, y in area.exterior.coords[:-1])
