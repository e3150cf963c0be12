"""One piece drawn: lines first, then the words that fit inside it; what does not fit stands beside it with a leader."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import shapely
import shapely.ops
from shapely.geometry import LineString, MultiPoint, MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Degrees, Mm, Point
from hoopwright.outputs.templates.lettering import POINT, shortened, text_width
from hoopwright.outputs.templates.marks import Area, Drawing, Line, Mark, Words, box_of
from hoopwright.outputs.templates.pieces import ENGLISH, Piece, Signs
from hoopwright.outputs.templates.places import fit_arrow, fit_box, middle_of

SIZES: tuple[tuple[float, float], ...] = ((18.0, 8.5), (14.0, 7.5), (11.0, 7.0), (9.5, 6.5))
"""Sizes tried for the name and the lines below it, in points."""

ARROWS: tuple[Mm, ...] = (40.0, 30.0, 22.0, 15.0, 10.0)
"""Lengths tried for the grain arrow."""

HEAD: Mm = 2.2
"""Length of an arrow's head."""

CLEAR: Mm = 1.2
"""Words keep at least this far from a line."""

BESIDE: Mm = 5.0
"""Distance from a piece to the words beside it."""

WIDEST: Mm = 60.0
"""A longer line of words is cut off."""

FOLD_ROOM: Mm = 3.2
"""Words keep this far from a fold line, which has a word of its own."""

HATCH: Mm = 1.6
"""Distance between the hatching lines of what is cut away."""


Rows: TypeAlias = tuple[tuple[str, float, bool], ...]
"""Words under each other: text, size in points, bold."""


@dataclass(frozen=True, slots=True)
class _Beside:
    """Words to stand beside the piece, and the place their leader points to; a grain arrow with its word may go with them."""

    lines: Rows
    to: Point
    arrow: Degrees | None = None
    signs: Signs = ENGLISH


def draw(piece: Piece, window: Polygon | None = None) -> Drawing:
    """Return the piece drawn in its own frame. Words keep inside ``window`` when one is given (a page of a large piece)."""
    room = piece.inner if piece.clip is None else piece.inner.difference(piece.clip)
    if piece.fold is not None:
        room = room.difference(piece.fold.buffer(FOLD_ROOM))
    if window is not None:
        room = room.intersection(window)
    inside, beside = _inside(piece, room.buffer(-CLEAR))
    clip, clip_beside = _clip(piece)
    marks = (*clip, *_outlines(piece), *_fold(piece), *inside)
    notes = tuple(note for note in (beside, clip_beside) if note is not None)
    marks = (*marks, *_beside(notes, piece.cut.bounds))
    return Drawing(piece.name, marks, box_of(marks), len(notes))


def _outlines(piece: Piece) -> tuple[Mark, ...]:
    cut = Line(_ring(piece.cut), "cut", closed=True)
    sew = () if piece.sew is None else (Line(_ring(piece.sew), "sew", closed=True),)
    seam = () if piece.seam is None else (Line(tuple((x, y) for x, y in piece.seam.coords), "seam"),)
    return cut, *sew, *seam


def _fold(piece: Piece) -> tuple[Mark, ...]:
    """Return the line a piece is folded along, with its word above the middle."""
    if piece.fold is None:
        return ()
    (ax, ay), (bx, by) = piece.fold.coords
    turn = (math.degrees(math.atan2(by - ay, bx - ax)) + 90) % 180 - 90
    up = math.radians(turn - 90)
    middle = ((ax + bx) / 2 + 1.6 * math.cos(up), (ay + by) / 2 + 1.6 * math.sin(up))
    return Line(((ax, ay), (bx, by)), "fold"), Words(piece.signs.fold, middle, 7.0, "center", turn=turn)


def _inside(piece: Piece, room: BaseGeometry) -> tuple[tuple[Mark, ...], _Beside | None]:
    """Return words and arrow that fit inside, and what must stand beside the piece.

    Tried in this order: words and arrow with its word, words and bare arrow, words alone, arrow alone.
    """
    for arrow_word in (True, False):
        for rows in _sizes(piece):
            marks = _both(piece, room, rows, word=arrow_word)
            if marks:
                return marks, None
    for rows in _sizes(piece):
        words = _words(room, rows)
        if words is not None:
            return words[0], _Beside(
                ((piece.signs.grain, 7.0, False),), _near_right(piece.cut), piece.grain, piece.signs
            )
    rows = _rows(piece, 11.0, 7.0)
    arrow = _arrow(piece, room, word=False)
    return arrow, _Beside(rows, middle_of(piece.inner), None if arrow else piece.grain, piece.signs)


def _sizes(piece: Piece) -> tuple[Rows, ...]:
    return tuple(_rows(piece, head, body) for head, body in SIZES)


def _rows(piece: Piece, head: float, body: float) -> Rows:
    return ((piece.head, head, True), *((shortened(line, body, WIDEST), body, False) for line in piece.lines))


def _both(piece: Piece, room: BaseGeometry, rows: Rows, *, word: bool) -> tuple[Mark, ...]:
    """Return words and arrow, whichever of the two must go first for both to fit; nothing when they do not."""
    words = _words(room, rows)
    if words is None:
        return ()
    if piece.grain is None:
        return words[0]
    arrow = _arrow(piece, room.difference(words[1].buffer(CLEAR)), word=word)
    if arrow:
        return (*words[0], *arrow)
    arrow = _arrow(piece, room, word=word)
    taken = MultiPoint([p for mark in arrow if isinstance(mark, Line) for p in mark.points]).convex_hull
    beside = _words(room.difference(taken.buffer(2 * CLEAR + 1.0)), rows) if arrow else None
    return (*beside[0], *arrow) if beside else ()


def _words(room: BaseGeometry, rows: Rows) -> tuple[tuple[Mark, ...], Polygon] | None:
    """Return rows of words inside ``room`` and the box they take, or None."""
    width, height = _block_size(rows)
    middle = fit_box(room, width, height)
    if middle is None:
        return None
    x, y = middle
    return _block(rows, middle), box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)


def _arrow(piece: Piece, room: BaseGeometry, *, word: bool) -> tuple[Mark, ...]:
    """Return the grain arrow where it fits, else nothing."""
    if piece.grain is None:
        return ()
    line = fit_arrow(room.buffer(-2.0 if word else -0.8), piece.grain, ARROWS if word else ARROWS[2:])
    if line is None:
        return ()
    start, end = ((x, y) for x, y in line.coords)
    return grain_arrow(start, end, one_way=piece.has_up, signs=piece.signs if word else None)


def _near_right(area: Polygon) -> Point:
    """Return the place of the cutting line that is nearest to words at the right of the piece."""
    _, low, right, high = area.bounds
    near, _ = shapely.ops.nearest_points(area.exterior, shapely.Point(right + BESIDE, (low + high) / 2))
    return near.x, near.y


def grain_arrow(start: Point, end: Point, *, one_way: bool, signs: Signs | None = ENGLISH) -> tuple[Mark, ...]:
    """Return an arrow along the grain with its word, or without ``signs`` bare; ``one_way`` for cloth that has an up."""
    angle = math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))
    heads = [_head(end, angle)] if one_way else [_head(end, angle), _head(start, angle + 180)]
    reading = (angle + 90) % 180 - 90
    up = math.radians(reading - 90)
    middle = ((start[0] + end[0]) / 2 + 1.5 * math.cos(up), (start[1] + end[1]) / 2 + 1.5 * math.sin(up))
    said = () if signs is None else (signs.grain_up, signs.up) if one_way else (signs.grain,)
    fitting = [s for s in said if text_width(s, 6.0) + 2 * HEAD <= math.dist(start, end)][:1]
    words = tuple(Words(s, middle, 6.0, "center", turn=reading) for s in fitting)
    return (Line((start, end), "grain"), *heads, *words)


def _head(tip: Point, angle: Degrees) -> Area:
    corners = [tip]
    for side in (160, 200):
        turn = math.radians(angle + side)
        corners.append((tip[0] + HEAD * math.cos(turn), tip[1] + HEAD * math.sin(turn)))
    return Area((tuple(corners),), "ink")


def _clip(piece: Piece) -> tuple[tuple[Mark, ...], _Beside | None]:
    """Return the hatched region that is cut away, and its words with a leader."""
    if piece.clip is None or piece.clip.is_empty:
        return (), None
    parts = [p for p in shapely.get_parts(piece.clip) if isinstance(p, Polygon)]
    edges = tuple(Line(_ring(p), "clip", closed=True) for p in parts)
    biggest = max(parts, key=lambda p: p.area)
    note = _Beside(((piece.signs.clip, 7.0, False),), middle_of(biggest))
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


def _block_size(rows: Rows) -> tuple[Mm, Mm]:
    width = max(text_width(t, size, bold=bold) for t, size, bold in rows)
    return width, sum(size * POINT * 1.2 for _, size, _ in rows)


def _block(rows: Rows, middle: Point) -> tuple[Words, ...]:
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
        marks += grain_arrow(*ends, one_way=False, signs=note.signs)
    return marks


def _dot(at: Point) -> tuple[Point, ...]:
    steps = [2 * math.pi * k / 12 for k in range(12)]
    return tuple((at[0] + 0.4 * math.cos(a), at[1] + 0.4 * math.sin(a)) for a in steps)


def _ring(area: Polygon) -> tuple[Point, ...]:
    return tuple((x, y) for x, y in area.exterior.coords[:-1])
