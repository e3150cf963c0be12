"""Single-line letters: what a hand would write, one line wide.

Shapes come from the single-line letters of the Hershey-Fonts package (public data of A. V. Hershey, 1967), their bends
drawn round; letters with marks and some signs are put together here (signs.py). A *dot* is kept apart from the strokes: it is
sewn as one short stitch, however small the letters are.
"""

from __future__ import annotations

import functools
import math
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Final, TypeAlias

import numpy as np
from HersheyFonts import HersheyFonts

from hoopwright.core.types import Points
from hoopwright.needle.lettering.signs import (
    ABOVE,
    CAPITAL,
    DOTS_ABOVE,
    JOINED,
    MARKS_ABOVE,
    MARKS_BELOW,
    OWN,
    SAME,
    SMALL,
    STRUCK,
    TURNED,
    Rows,
)

BASE: Final = 9.0
"""Where the baseline lies in the data, whose y runs down."""

SHARP: Final = math.radians(62.0)
"""A line that bends by more has a corner there; by less, it is meant to be round."""

LONG: Final = 5.5
"""A part of a line longer than this is meant to be straight."""

CHORDS: Final = 6
"""A round part is drawn by so many chords for each of the data."""

DOT: Final = 2.6
"""A closed line smaller than this is a dot."""

DOT_PART: Final = 0.09
"""A dot is sewn so high, in heights of a capital."""

Place: TypeAlias = tuple[float, float]


@dataclass(frozen=True, slots=True, eq=False)
class Sign:
    """A letter: its strokes (arrays of places), dots, and how far it moves on. Capitals are 1 high, the baseline is 0."""

    strokes: tuple[Points, ...]
    dots: tuple[Place, ...]
    advance: float

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, lower, right and upper end of what is sewn; of nothing, its advance."""
        rows = [*self.strokes, *(np.array([[x, y - DOT_PART / 2.0], [x, y + DOT_PART / 2.0]]) for x, y in self.dots)]
        if not rows:
            return 0.0, 0.0, self.advance, 0.0
        points = np.vstack(rows)
        low, high = points.min(axis=0), points.max(axis=0)
        return float(low[0]), float(low[1]), float(high[0]), float(high[1])


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A letter in the measure of the data."""

    rows: Rows
    dots: tuple[Place, ...]
    advance: float


@functools.cache
def sign(character: str) -> Sign | None:
    """Return a letter of one character, None when there is none."""
    drawn = _drawn(character)
    if drawn is None:
        return None
    strokes = tuple(_rounded(np.array(row, dtype=np.float64)) / CAPITAL for row in drawn.rows if len(row) > 1)
    dots = tuple((x / CAPITAL, y / CAPITAL) for x, y in drawn.dots)
    return Sign(strokes, dots, drawn.advance / CAPITAL)


def _drawn(character: str) -> _Drawn | None:
    character = SAME.get(character, character)
    if character in OWN:
        advance, rows = OWN[character]
        return _Drawn(rows, (), advance)
    if character in TURNED:
        return _upside_down(_drawn(TURNED[character]))
    if character in JOINED:
        one, other, by = JOINED[character]
        return _side_by_side(_drawn(one), _drawn(other), by)
    if character in STRUCK:
        base = _drawn(STRUCK[character][0])
        return None if base is None else _Drawn((*base.rows, STRUCK[character][1]), base.dots, base.advance)
    if character.isascii():
        return _from_data(character)
    parts = unicodedata.normalize("NFD", character)
    return _marked(parts[0], parts[1:]) if len(parts) > 1 else None


def _from_data(character: str) -> _Drawn | None:
    """Return a letter of the data; its small closed lines are dots."""
    glyph = _letters().get(character)
    if glyph is None or not character.isprintable():
        return None
    rows: list[tuple[Place, ...]] = []
    dots: list[Place] = []
    for stroke in glyph.strokes:
        places = tuple((float(x - glyph.left_offset), BASE - float(y)) for x, y in stroke)
        xs, ys = zip(*places, strict=True)
        if places[0] == places[-1] and max(max(xs) - min(xs), max(ys) - min(ys)) < DOT:
            dots.append(((max(xs) + min(xs)) / 2.0, (max(ys) + min(ys)) / 2.0))
        else:
            rows.append(_without_dot(places))
    return _Drawn(tuple(rows), tuple(dots), float(glyph.char_width))


def _without_dot(places: tuple[Place, ...]) -> tuple[Place, ...]:
    """Return a comma without the dot it begins with."""
    return (places[0], *places[5:]) if len(places) > 5 and places[0] == places[4] else places


@functools.cache
def _letters() -> dict[str, Any]:
    letters = HersheyFonts()
    letters.load_default_font("futural")
    signs = [chr(c) for c in range(32, 127)]
    return dict(zip(signs, letters.glyphs_for_text("".join(signs)), strict=True))


def _upside_down(drawn: _Drawn | None) -> _Drawn | None:
    if drawn is None:
        return None

    def turned(place: Place) -> Place:
        return drawn.advance - place[0], SMALL - place[1]

    return _Drawn(
        tuple(tuple(turned(p) for p in row) for row in drawn.rows), tuple(turned(p) for p in drawn.dots), drawn.advance
    )


def _side_by_side(one: _Drawn | None, other: _Drawn | None, by: float) -> _Drawn | None:
    if one is None or other is None:
        return None
    move = one.advance + by
    return _Drawn((*one.rows, *_moved(other.rows, move, 0.0)), one.dots, move + other.advance)


def _moved(rows: Rows, x: float, y: float) -> Rows:
    return tuple(tuple((a + x, b + y) for a, b in row) for row in rows)


def _marked(letter: str, marks: str) -> _Drawn | None:
    """Return a letter with its marks; i and j lose their dot to a mark above."""
    above = any(m in MARKS_ABOVE or m in DOTS_ABOVE for m in marks)
    base = _drawn({"i": "ı", "j": "ȷ"}.get(letter, letter) if above else letter)
    if base is None or not base.rows:
        return None
    xs, ys = zip(*(p for row in base.rows for p in row), strict=True)
    middle, top, low = (min(xs) + max(xs)) / 2.0, max(ys), min(ys)
    rows, dots = list(base.rows), list(base.dots)
    for mark in marks:
        if mark in MARKS_ABOVE:
            rows += _moved(MARKS_ABOVE[mark], middle, top + ABOVE)
            top += ABOVE + max(y for row in MARKS_ABOVE[mark] for _, y in row)
        elif mark in DOTS_ABOVE:
            dots += [(middle + x, top + ABOVE + 1.2) for x in DOTS_ABOVE[mark]]
            top += ABOVE + 2.4
        elif mark in MARKS_BELOW:
            rows += _moved(MARKS_BELOW[mark], middle, max(low, 0.0))
        else:
            return None
    return _Drawn(tuple(rows), tuple(dots), base.advance)


def _rounded(row: Points) -> Points:
    """Return a stroke whose bends are drawn round: each part but long ones is a curve through its ends."""
    steps = np.diff(row, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    ways = steps / lengths[:, None]
    drawn = [row[:1]]
    for k, (a, b) in enumerate(pairwise(row)):
        if lengths[k] > LONG:
            drawn.append(b[None, :])
            continue
        out = _direction(ways, lengths, k - 1, k, row)
        into = _direction(ways, lengths, k, k + 1, row)
        t = (np.arange(1, CHORDS + 1) / CHORDS)[:, None]
        one, other = out if out is not None else ways[k], into if into is not None else ways[k]
        drawn.append(
            (2 * t**3 - 3 * t**2 + 1) * a
            + (t**3 - 2 * t**2 + t) * one * lengths[k]
            + (3 * t**2 - 2 * t**3) * b
            + (t**3 - t**2) * other * lengths[k]
        )
    return np.asarray(np.vstack(drawn), dtype=np.float64)


def _direction(ways: Points, lengths: Points, one: int, other: int, row: Points) -> Points | None:
    """Return the direction of a stroke between two of its parts, None at a corner or an end.

    A straight part keeps its own direction; a stroke that closes on itself runs on round.
    """
    if not (one >= 0 and other < len(ways)):
        if math.dist(row[0], row[-1]) > 0.0:
            return None
        one, other = one % len(ways), other % len(ways)
    if float(ways[one] @ ways[other]) < math.cos(SHARP):
        return None
    for k in (one, other):
        if lengths[k] > LONG:
            return np.asarray(ways[k], dtype=np.float64)
    way = ways[one] / lengths[one] + ways[other] / lengths[other]
    return np.asarray(way / np.hypot(*way), dtype=np.float64)


def missing(text: Sequence[str]) -> tuple[str, ...]:
    """Return the characters of these lines that cannot be sewn, each once, in order."""
    return tuple(dict.fromkeys(c for line in text for c in line if c != " " and sign(c) is None))
