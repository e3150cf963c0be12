"""A block of letters as rows of needle positions, letter by letter in the order of reading."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from hoopwright.core.types import Mm, Points, frozen_points
from hoopwright.needle.lettering.crowding import eased
from hoopwright.needle.lettering.faces import face_of, lacking
from hoopwright.needle.lettering.fit import Placed, largest, measured, placed
from hoopwright.needle.lettering.pen_thread import pen_rows
from hoopwright.needle.lettering.satin import CLOSE, WIDEST, letter, thread_of
from hoopwright.needle.lettering.single_line import sign
from hoopwright.operations.vocabulary import LetteringStyle

SHORTEST: Final[Mm] = 1.0
"""Letters may have stitches of this length, also where the machine's shortest useful one is longer."""


def lettering_rows(box: Polygon, style: LetteringStyle, shortest: Mm) -> tuple[Points, ...]:
    """Return the rows of a block of letters in its box, whose first side is the direction of writing.

    Letters that the face lacks are left out. Raises FontError when the style's font file is none.
    """
    rows = _rows(style, *_size(box), min(shortest, SHORTEST))
    origin, along, up = _frame(box)
    return tuple(frozen_points(origin + row[:, :1] * along + row[:, 1:] * up) for row in rows)


def _corners(box: Polygon) -> NDArray[np.float64]:
    return np.asarray(shapely.get_coordinates(box), dtype=np.float64)


def _size(box: Polygon) -> tuple[Mm, Mm]:
    """Return width and height of a box, rounded so that a box that is only moved or turned stays the same."""
    a, b, c = _corners(box)[:3]
    return round(float(np.hypot(*(b - a))), 6), round(float(np.hypot(*(c - b))), 6)


def _frame(box: Polygon) -> tuple[Points, Points, Points]:
    """Return the box's origin and the directions of writing and upwards."""
    a, b, c = _corners(box)[:3]
    return a, (b - a) / np.hypot(*(b - a)), (c - b) / np.hypot(*(c - b))


@lru_cache(maxsize=64)
def _rows(style: LetteringStyle, width: Mm, height: Mm, shortest: Mm) -> tuple[Points, ...]:
    """Return the rows of a block in a box whose origin is (0, 0); kept, so that a panel that changes sews them once."""
    face = face_of(style.font)
    without = set(lacking(style.lines, face))
    lines = tuple("".join(c for c in line if c not in without) for line in style.lines)
    measure = measured(lines, face)
    size = style.height if style.height is not None else largest(measure, width, height)
    places = placed(measure, size, width, height, style.align)
    return tuple(row for place in places for row in _letter_rows(place, size, replace(style, lines=()), shortest))


def _letter_rows(place: Placed, size: Mm, style: LetteringStyle, shortest: Mm) -> Iterator[Points]:
    if style.font is None:
        found = sign(place.sign)
        assert found is not None
        yield from pen_rows(found, place.x, place.y, size, style.times)
        return
    parts = letter(style.font, place.sign)
    strokes = ([replace(s, spokes=s.spokes * size + (place.x, place.y)) for s in part] for part in parts)
    rows = (row for part in strokes for row in thread_of(part, style, shortest) if len(row) > 1)
    yield from eased(rows, min(shortest, CLOSE), WIDEST)
