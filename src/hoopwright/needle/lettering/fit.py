"""Lines of letters fitted into a box: one height of capitals for all, set left, in the middle or right.

Words: a *face* knows how wide letters are and how far they move on, capitals 1 high; a *box* is wide and high, and its
origin is its lower left corner; the *pitch* is the distance between neighbouring baselines.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, Literal, Protocol, TypeAlias

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm

Align: TypeAlias = Literal["left", "middle", "right"]

PITCH: Final = 1.55
"""Baselines stand so many heights of a capital apart, or more where upper and lower lengths need it (by eye)."""

BETWEEN: Final = 0.22
"""So much is left, in heights of a capital, between the lowest place of a line and the highest of the next (by eye)."""

STEP: Final[Mm] = 0.1
"""Heights found to fit are rounded down to this."""

Bounds: TypeAlias = tuple[float, float, float, float]


class Face(Protocol):
    """Measures of letters, capitals 1 high."""

    def advance(self, sign: str) -> float:
        """Return how far a letter moves on."""

    def kern(self, one: str, other: str) -> float:
        """Return by how much a pair stands further apart."""

    def bounds(self, sign: str) -> Bounds | None:
        """Return left, lower, right and upper end of a letter, None for a space."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A letter and its origin on the baseline, mm."""

    sign: str
    x: Mm
    y: Mm


@dataclass(frozen=True, slots=True)
class Measure:
    """Lines measured with capitals 1 high: letters with their places, and the ends of every line."""

    lines: tuple[tuple[tuple[str, float], ...], ...]
    bounds: tuple[Bounds, ...]
    pitch: float

    @property
    def width(self) -> float:
        """The widest line, from its first letter's left end to its last one's right end."""
        return max(b[2] - b[0] for b in self.bounds)

    @property
    def height(self) -> float:
        """From the highest place of the first line to the lowest of the last."""
        return self.bounds[0][3] + self.pitch * (len(self.lines) - 1) - self.bounds[-1][1]


def measured(lines: Sequence[str], face: Face) -> Measure:
    """Return the measure of lines. Capitals always count as high as they are, so that lines of small letters stand alike."""
    rows, bounds = [], []
    for line in lines:
        x = 0.0
        row: list[tuple[str, float]] = []
        for k, sign in enumerate(line):
            x += face.kern(line[k - 1], sign) if k else 0.0
            row.append((sign, x))
            x += face.advance(sign)
        rows.append(tuple(row))
        bounds.append(_ends(row, face))
    apart = [one[3] - other[1] for other, one in pairwise(bounds)]
    pitch = max([PITCH, *(gap + BETWEEN for gap in apart)])
    return Measure(tuple(rows), tuple(bounds), pitch)


def _ends(row: list[tuple[str, float]], face: Face) -> Bounds:
    ends = [(x, b) for sign, x in row if (b := face.bounds(sign)) is not None]
    if not ends:
        return 0.0, 0.0, 0.0, 1.0
    return (
        min(x + b[0] for x, b in ends),
        min(0.0, *(b[1] for _, b in ends)),
        max(x + b[2] for x, b in ends),
        max(1.0, *(b[3] for _, b in ends)),
    )


def largest(measure: Measure, width: Mm, height: Mm | None) -> Mm:
    """Return the greatest height of the capitals at which the lines fit a box, rounded down."""
    size = width / max(measure.width, SAME_PLACE)
    if height is not None:
        size = min(size, height / measure.height)
    return math.floor(size / STEP + SAME_PLACE) * STEP


def placed(measure: Measure, size: Mm, width: Mm, height: Mm, align: Align) -> tuple[Placed, ...]:
    """Return every letter's place in a box of this width and height, the lines as a whole in its middle."""
    base = (height + measure.height * size) / 2.0 - measure.bounds[0][3] * size
    found = []
    for number, (row, ends) in enumerate(zip(measure.lines, measure.bounds, strict=True)):
        free = width - (ends[2] - ends[0]) * size
        left = {"left": 0.0, "middle": free / 2.0, "right": free}[align] - ends[0] * size
        found += [Placed(s, left + x * size, base - number * measure.pitch * size) for s, x in row if s != " "]
    return tuple(found)
