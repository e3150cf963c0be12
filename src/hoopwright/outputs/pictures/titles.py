"""The names of sheets in a picture: numbers in discs, titles on tags, each where its sheet shows, else beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
import shapely.ops
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Mm, Point
from hoopwright.outputs.drawing.shapes import Area, Circle, Extent, Label, Line, Shape
from hoopwright.outputs.naming import SheetName
from hoopwright.outputs.pictures.inks import INK, WHITE
from hoopwright.outputs.pictures.symbols import DISC, number_disc
from hoopwright.outputs.templates.lettering import POINT, shortened, text_width
from hoopwright.outputs.templates.places import fit_box

SIZES: tuple[Mm, ...] = (5.2, 4.4, 3.8)
"""Sizes of type tried for a tag in a picture as high as USUAL or less, mm; in a higher one they grow with it."""
USUAL: Mm = 120.0
"""Height of the part of the hoop that a picture of a pieced panel usually shows, mm."""
PAD: Mm = 1.2
"""From the words to the edge of their tag, mm."""
WIDER = 1.1
"""Words are measured in the semibold face; the bold one that is drawn is up to this much wider."""
WIDEST = 0.6
"""A title that takes a larger share of the picture's breadth is cut off."""
CUT_OFF = "…"
"""Ends a title that was cut off; such a one never hides its sheet but stands beside it."""
SHOWN = 60.0
"""A sheet of which less than this shows, mm2, gets no name unless it is handled now."""
TRIES = 16
"""Places tried each way for a name that stands beside its sheet."""


@dataclass(frozen=True, slots=True, eq=False)
class Named:
    """A sheet to be named: what shows of it, its name, whether it is handled now."""

    shows: BaseGeometry
    name: SheetName
    strong: bool


def named(sheets: Sequence[Named], marks: BaseGeometry, extent: Extent) -> tuple[Shape, ...]:
    """Return the names of all sheets; they keep clear of ``marks`` and of each other where there is room."""
    shapes: list[Shape] = []
    taken, grow = marks, growth(extent)
    everything = shapely.union_all([s.shows for s in sheets])
    for sheet in sorted(sheets, key=lambda s: (not s.name.numbered, not s.strong)):
        if sheet.name.numbered:
            at, room = spot(sheet.shows, marks)
            radius = min(max(room, DISC), grow * DISC)
            shapes += number_disc(sheet.name.sign, at, strong=sheet.strong, radius=radius)
            taken = taken.union(shapely.Point(at).buffer(radius + 0.5))
            continue
        made, box_ = _tag(sheet, taken, everything, extent)
        shapes += made
        taken = taken.union(box_)
    return tuple(shapes)


def growth(extent: Extent) -> float:
    """Return how much larger than usual names are drawn, because the picture is higher than usual."""
    return max((extent[3] - extent[1]) / USUAL, 1.0)


def _tag(
    sheet: Named, taken: BaseGeometry, everything: BaseGeometry, extent: Extent
) -> tuple[tuple[Shape, ...], BaseGeometry]:
    """Return the tag of a title and the room it takes: inside its sheet at one of the sizes, else beside it."""
    grow = growth(extent)
    widest = WIDEST * (extent[2] - extent[0])
    for size in (grow * s for s in SIZES):
        for rows in _whole(_rows(sheet.name.sign, size, widest)):
            width, height = _size(rows, size)
            at = fit_box(shapely.difference(sheet.shows, taken), width + 1.0, height + 1.0)
            if at is not None:
                return _drawn(rows, size, at, strong=sheet.strong), _box(at, width, height)
    size = grow * SIZES[-1]
    rows = _rows(sheet.name.sign, size, widest)[-1]
    width, height = _size(rows, size)
    at = _beside(sheet.shows, (width, height), taken, everything, extent)
    room = _box(at, width, height)
    end = shapely.ops.nearest_points(_core(sheet.shows), room)[0]
    start = shapely.ops.nearest_points(end, room)[1]
    leader = ((start.x, start.y), (end.x, end.y))
    dot = Circle((end.x, end.y), 0.8, INK, WHITE, 0.3)
    drawn = (Line(leader, WHITE, 1.2), Line(leader, INK, 0.5), dot, *_drawn(rows, size, at, strong=sheet.strong))
    return drawn, room.union(LineString(leader).buffer(0.8))


def _rows(title: str, size: Mm, widest: Mm) -> tuple[tuple[str, ...], ...]:
    """Return the title on one line, and on two when it has more than one word."""
    words = title.split(" ")
    breaks = [(" ".join(words[:k]), " ".join(words[k:])) for k in range(1, len(words))]
    two = min(breaks, key=lambda pair: (max(map(len, pair)), pair), default=())
    return tuple(tuple(shortened(r, size / POINT, widest, bold=True) for r in rows) for rows in ((title,), two) if rows)


def _whole(choices: Sequence[tuple[str, ...]]) -> tuple[tuple[str, ...], ...]:
    """Return the choices of rows in which no word is cut off."""
    return tuple(rows for rows in choices if not any(row.endswith(CUT_OFF) for row in rows))


def _size(rows: Sequence[str], size: Mm) -> tuple[Mm, Mm]:
    width = WIDER * max(text_width(r, size / POINT, bold=True) for r in rows)
    return width + 2 * PAD, size * (0.3 + len(rows)) + PAD / 2


def _box(at: Point, width: Mm, height: Mm) -> Polygon:
    return box(at[0] - width / 2, at[1] - height / 2, at[0] + width / 2, at[1] + height / 2)


def tag(text: str, at: Point, *, strong: bool = False, size: Mm = SIZES[1]) -> tuple[Shape, ...]:
    """Return a title on a tag; a ``strong`` one is white on ink."""
    return _drawn((text,), size, at, strong=strong)


def _drawn(rows: Sequence[str], size: Mm, at: Point, *, strong: bool) -> tuple[Shape, ...]:
    ground, ink = (INK, WHITE) if strong else (WHITE, INK)
    ring = tuple((x, y) for x, y in _box(at, *_size(rows, size)).exterior.coords[:-1])
    first = at[1] + (len(rows) - 1) * size / 2
    words = (Label(r, (at[0], first - k * size), size, ink, bold=True) for k, r in enumerate(rows))
    return Area((ring,), ground, INK, 0.35), *words


def _beside(
    shows: BaseGeometry, size: tuple[Mm, Mm], taken: BaseGeometry, everything: BaseGeometry, extent: Extent
) -> Point:
    """Return the place nearest to a sheet where its name covers nothing, else where it covers no other name or sign."""
    left, low, right, high = extent
    xs = [left + size[0] / 2 + 1.0 + k * (right - left - size[0] - 2.0) / TRIES for k in range(TRIES + 1)]
    ys = [low + size[1] / 2 + 1.0 + k * (high - low - size[1] - 2.0) / TRIES for k in range(TRIES + 1)]
    places = [(x, y) for y in ys for x in xs]
    rooms = [_box(p, *size) for p in places]
    far = shapely.distance(rooms, shows)
    covered = [0.01 * r.intersection(everything).area + r.intersection(taken).area for r in rooms]
    best = min(range(len(places)), key=lambda k: (round(10.0 * covered[k] + float(far[k]), 3), k))
    return places[best]


def _core(shows: BaseGeometry) -> BaseGeometry:
    """Return the inside of what shows, so that a leader ends well within it."""
    inner = shows.buffer(-2.0)
    return shows if inner.is_empty else inner


def spot(region: BaseGeometry, marks: BaseGeometry) -> tuple[Point, Mm]:
    """Return the place in ``region`` farthest from its edges and the marks, and how far that is.

    Marks count only where there is room.
    """
    clear = _roomiest(shapely.difference(region, marks))
    x, y, room = clear if clear[2] >= DISC else _roomiest(region)
    return (x, y), room


def _roomiest(region: BaseGeometry) -> tuple[float, float, float]:
    """Return the middle and the radius of the largest circle in ``region``, to half a millimetre; 0s for nothing."""
    if region.is_empty:
        return 0.0, 0.0, 0.0
    largest = max(shapely.get_parts(region).tolist(), key=lambda p: p.area)
    spoke = shapely.maximum_inscribed_circle(largest, tolerance=0.5)
    (x, y), _ = shapely.get_coordinates(spoke).tolist()
    return x, y, spoke.length
