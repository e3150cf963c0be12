"""The signs of the step pictures, explained."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from shapely.geometry import LineString, Polygon, box

from hoopwright.core.types import Point
from hoopwright.outputs.drawing.geometry import lines
from hoopwright.outputs.drawing.shapes import Drawing, Label, Shape
from hoopwright.outputs.pictures.inks import FIELD, INK, WHITE
from hoopwright.outputs.pictures.signs import (
    away,
    cloth_down,
    cloth_under,
    cloth_up,
    cut_line,
    folded_edge,
    opening,
    placement_under,
    raw_edge,
    sewn_before,
    sewn_now,
)
from hoopwright.outputs.pictures.symbols import flip_arrow, number_disc, scissors, seam_tag
from hoopwright.outputs.pictures.titles import tag
from hoopwright.outputs.saying import Say, plain

CLOTH: Final = "#8fa9bf"
ROW: Final = 13.0
"""Height of one entry, mm."""
COLUMN: Final = 88.0
"""Breadth of one entry, mm."""
SAMPLE: Final = (18.0, 9.0)
"""Breadth and height of a sample, mm."""
TYPE: Final = 4.2
"""Size of the words, mm."""


def legend_drawing(*, pieces: bool = False, say: Say = plain) -> Drawing:
    """Return the legend of the step pictures in two columns; with ``pieces`` also the signs of pieces that are no patches.

    ``say`` says its words.
    """
    entries = (*ENTRIES, *PIECES) if pieces else ENTRIES
    rows = -(-len(entries) // 2)
    shapes: list[Shape] = []
    for i, (sample, words) in enumerate(entries):
        column, row = divmod(i, rows)
        centre = (column * COLUMN + SAMPLE[0] / 2 + 2.0, -(row + 0.5) * ROW)
        shapes += sample(centre)
        shapes.append(Label(say(words), (column * COLUMN + SAMPLE[0] + 5.0, centre[1]), TYPE, INK, "start"))
    described = "; ".join(words for _, words in entries)
    return Drawing((0.0, -rows * ROW, 2 * COLUMN, 0.0), tuple(shapes), "Signs in the pictures", described, WHITE)


def _bar(at: Point) -> LineString:
    half = SAMPLE[0] / 2 - 1.0
    return LineString([(at[0] - half, at[1]), (at[0] + half, at[1])])


def _square(at: Point) -> Polygon:
    w, h = SAMPLE[0] / 2 - 1.0, SAMPLE[1] / 2
    return box(at[0] - w, at[1] - h, at[0] + w, at[1] + h)


def _up(at: Point) -> tuple[Shape, ...]:
    return cloth_up(_square(at), CLOTH)


def _down(at: Point) -> tuple[Shape, ...]:
    return cloth_down(_square(at), CLOTH)


def _raw(at: Point) -> tuple[Shape, ...]:
    (a, b) = _bar(at).coords
    return raw_edge((a[0], a[1]), (b[0], b[1]))


def _sew(at: Point) -> tuple[Shape, ...]:
    return sewn_now([_bar(at)], "#f4f1e6")


def _before(at: Point) -> tuple[Shape, ...]:
    return sewn_before([_bar(at)])


def _cut(at: Point) -> tuple[Shape, ...]:
    return (*away(_square(at)), *scissors(at, 0.0, 9.0))


def _cut_along(at: Point) -> tuple[Shape, ...]:
    return (*cut_line(_bar(at)), *scissors(at, 0.0, 9.0))


def _flip(at: Point) -> tuple[Shape, ...]:
    return flip_arrow((at[0] - 6.5, at[1] - 2.0), (at[0] + 6.5, at[1] - 2.0))


def _number(at: Point) -> tuple[Shape, ...]:
    return number_disc("3", at)


def _fresh(at: Point) -> tuple[Shape, ...]:
    return number_disc("4", at, strong=True)


def _tag(at: Point) -> tuple[Shape, ...]:
    return seam_tag("2", at, strong=True)


def _field(at: Point) -> tuple[Shape, ...]:
    return lines([_bar(at)], FIELD, 0.4, (2.0, 1.5))


ENTRIES: Final[tuple[tuple[Callable[[Point], tuple[Shape, ...]], str], ...]] = (
    (_up, "cloth, right side up"),
    (_down, "cloth, right side down"),
    (_number, "number of a patch that lies"),
    (_fresh, "number of the patch to lay now"),
    (_tag, "number of the seam decorated now"),
    (_raw, "raw edge: it must lie here"),
    (_sew, "what is sewn now"),
    (_before, "what was sewn before"),
    (_flip, "flip it open"),
    (_cut, "cut this away"),
    (_cut_along, "cut along this line"),
    (_field, "edge of the hoop's field"),
)


def _named(at: Point) -> tuple[Shape, ...]:
    return (*tag("A", (at[0] - 4.5, at[1])), *tag("B", (at[0] + 4.5, at[1]), strong=True))


def _folded(at: Point) -> tuple[Shape, ...]:
    return folded_edge([_bar(at)], now=True)


def _below(at: Point) -> tuple[Shape, ...]:
    return cloth_under(_square(at), CLOTH)


def _placement(at: Point) -> tuple[Shape, ...]:
    return placement_under([_bar(at)])


def _gap(at: Point) -> tuple[Shape, ...]:
    return opening(_bar(at))


PIECES: Final[tuple[tuple[Callable[[Point], tuple[Shape, ...]], str], ...]] = (
    (_named, "a piece that lies, and one to lay now"),
    (_folded, "folded edge of a piece"),
    (_below, "cloth under the hoop"),
    (_placement, "placement line under the cloth"),
    (_gap, "opening: it stays unsewn"),
)
