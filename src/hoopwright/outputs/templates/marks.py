"""What a template page is drawn with: lines, areas, words and pictures, in millimetres.

On paper y runs DOWN from the top edge; a drawing of a piece has its own frame until it is put on a page.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from hoopwright.core.types import Mm, Point
from hoopwright.outputs.templates.lettering import POINT, text_width

Box: TypeAlias = tuple[float, float, float, float]
"""Left, top, right, bottom."""

Anchor: TypeAlias = Literal["left", "center", "right"]


@dataclass(frozen=True, slots=True)
class Line:
    """A row of places joined by straight lines; ``style`` is a name known to the page source."""

    points: tuple[Point, ...]
    style: str
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Area:
    """A filled area without an edge: rings, and a style name."""

    rings: tuple[tuple[Point, ...], ...]
    style: str


@dataclass(frozen=True, slots=True)
class Words:
    """One line of words at ``at`` (its middle height), ``size`` in points, turned ``turn`` degrees clockwise.

    ``width`` makes it a block of that width in mm, which may break into lines and hangs from ``at``.
    """

    text: str
    at: Point
    size: float = 8.0
    anchor: Anchor = "left"
    bold: bool = False
    turn: float = 0.0
    style: str = "ink"
    width: Mm | None = None

    @property
    def length(self) -> Mm:
        """Width of the words on paper in mm."""
        return text_width(self.text, self.size, bold=self.bold)

    @property
    def height(self) -> Mm:
        """Height of the words with a little air, mm."""
        return self.size * POINT * 1.2


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture from the file of this name, its left top corner ``at``, exactly ``width`` by ``height`` mm; ``alt`` says what it shows."""

    file: str
    at: Point
    width: Mm
    height: Mm
    alt: str


Mark: TypeAlias = Line | Area | Words | Picture


@dataclass(frozen=True, slots=True)
class Drawing:
    """Marks of one piece, the box they fill, and how many notes stand beside it."""

    name: str
    marks: tuple[Mark, ...]
    box: Box
    notes: int


def shifted(mark: Mark, dx: Mm, dy: Mm) -> Mark:
    """Return the mark moved by (dx, dy)."""
    match mark:
        case Line():
            return replace(mark, points=tuple((x + dx, y + dy) for x, y in mark.points))
        case Area():
            return replace(mark, rings=tuple(tuple((x + dx, y + dy) for x, y in ring) for ring in mark.rings))
        case Words() | Picture():
            return replace(mark, at=(mark.at[0] + dx, mark.at[1] + dy))


def words_box(words: Words) -> Box:
    """Return the box of one unturned or turned line of words."""
    w, h = words.length, words.height
    left = {"left": 0.0, "center": -w / 2, "right": -w}[words.anchor]
    corners = [(left, -h / 2), (left + w, -h / 2), (left + w, h / 2), (left, h / 2)]
    c, s = math.cos(math.radians(words.turn)), math.sin(math.radians(words.turn))
    xs = [words.at[0] + x * c - y * s for x, y in corners]
    ys = [words.at[1] + x * s + y * c for x, y in corners]
    return min(xs), min(ys), max(xs), max(ys)


def box_of(marks: tuple[Mark, ...]) -> Box:
    """Return the box that holds all marks."""
    boxes = []
    for mark in marks:
        if isinstance(mark, Words):
            boxes.append(words_box(mark))
        elif isinstance(mark, Picture):
            boxes.append((*mark.at, mark.at[0] + mark.width, mark.at[1] + mark.height))
        else:
            points = mark.points if isinstance(mark, Line) else [p for ring in mark.rings for p in ring]
            xs, ys = [p[0] for p in points], [p[1] for p in points]
            boxes.append((min(xs), min(ys), max(xs), max(ys)))
    return (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))


def as_data(mark: Mark) -> dict[str, object]:
    """Return the mark as plain data for the page source; places are kept to a ten-thousandth of a millimetre."""
    match mark:
        case Line():
            return {"k": "line", "p": _places(mark.points), "st": mark.style, "closed": mark.closed}
        case Area():
            return {"k": "area", "rings": [_places(r) for r in mark.rings], "st": mark.style}
        case Words():
            weight = "semibold" if mark.bold else "regular"
            at = _places((mark.at,))[0]
            words = {"k": "words", "t": mark.text, "at": at, "size": mark.size, "a": mark.anchor, "weight": weight}
            return {**words, "turn": round(mark.turn, 3), "st": mark.style, "width": mark.width}
        case Picture():
            size = {"width": round(mark.width, 4), "height": round(mark.height, 4)}
            return {"k": "picture", "file": mark.file, "at": _places((mark.at,))[0], **size, "alt": mark.alt}


def _places(points: tuple[Point, ...]) -> list[list[float]]:
    return [[round(x, 4), round(y, 4)] for x, y in points]
