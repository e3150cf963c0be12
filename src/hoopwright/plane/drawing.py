"""Drawings: the paths of an SVG file as rows of points in millimetres, y up, the page's lower left corner at 0, 0.

Sizes follow SVG 1.1 and CSS: 1 px is 1/96 inch; width and height with a unit scale the viewBox.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

import svgelements

from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import ARC_CHORD, MERGE
from hoopwright.core.types import Mm, Point
from hoopwright.plane.arcs import arc_steps
from hoopwright.plane.drawing_guard import guard

MM_A_PIXEL: Final = 25.4 / 96.0
"""CSS: 96 px are an inch."""

MOST_POINTS: Final = 100_000
"""Points of a drawing that are still taken."""

LARGEST_PLACE: Final = 10_000.0
"""Millimetres; nothing that is sewn lies farther from the page's corner."""


@dataclass(frozen=True, slots=True)
class DrawnPath:
    """One stroke of the pen: its id, points (mm, y up), whether it is closed, and which pieces come from a curve.

    ``curved[i]`` speaks of the piece from point i to the next one; a closed path does not repeat its first point.
    """

    id: str
    points: tuple[Point, ...]
    closed: bool
    curved: tuple[bool, ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """The paths of a drawing, its page (width, height; mm), and how many texts and pictures were left out, by kind."""

    paths: tuple[DrawnPath, ...]
    page: tuple[Mm, Mm]
    ignored: tuple[tuple[str, int], ...]


def read_drawing(data: bytes, name: str) -> Drawing:
    """Read an SVG drawing; ``name`` is for messages.

    Raises GeometryError, with a cure, for whatever is not a plain drawing of lines (see drawing_guard).
    """
    ignored = guard(data, name)
    try:
        document = svgelements.SVG.parse(io.BytesIO(data), ppi=96.0, reify=True)
        page = (float(document.width) * MM_A_PIXEL, float(document.height) * MM_A_PIXEL)
        paths = tuple(_paths(document, page[1], name))
    except (ValueError, TypeError, KeyError, IndexError, AttributeError, ZeroDivisionError, RecursionError) as error:
        raise GeometryError(
            f"The drawing {name} has a part that cannot be read", "Save it again as plain SVG"
        ) from error
    if not all(math.isfinite(v) and 0.0 <= v <= LARGEST_PLACE for v in page):
        raise GeometryError(f"The drawing {name} has no usable page size", "Give width and height in mm")
    return Drawing(paths, page, ignored)


def _paths(document: Any, page_height: Mm, name: str) -> Iterator[DrawnPath]:
    seen, left = 0, MOST_POINTS
    taken: dict[str, int] = {}
    for element in document.elements():
        if not isinstance(element, svgelements.Shape):
            continue
        for subpath in svgelements.Path(element).as_subpaths():
            seen += 1
            stem = element.id or f"path-{seen}"
            id_, number = _free(stem, taken)
            path = _path(id_, list(svgelements.Path(subpath)), page_height, name, left)
            if path is not None:
                taken |= {id_: 1, stem: number}
                left -= len(path.points)
                yield path


def _free(stem: str, taken: Mapping[str, int]) -> tuple[str, int]:
    """Return the id itself, or with a number when another stroke has it; ``taken`` knows the last number of each."""
    id_, number = stem, taken.get(stem, 1)
    while id_ in taken:
        number += 1
        id_ = f"{stem}-{number}"
    return id_, number


def _path(id_: str, pieces: list[Any], page_height: Mm, name: str, most: int) -> DrawnPath | None:
    points: list[Point] = []
    curved: list[bool] = []
    for piece in pieces:
        for x, y in _ends(piece):
            place = (x * MM_A_PIXEL, page_height - y * MM_A_PIXEL)
            if not all(math.isfinite(v) and abs(v) <= LARGEST_PLACE for v in place):
                raise GeometryError(f"The drawing {name} has a point too far away", "Check its page size and units")
            if points and math.dist(points[-1], place) <= MERGE:
                continue
            if points:
                curved.append(not isinstance(piece, svgelements.Line | svgelements.Close))
            points.append(place)
        if len(points) > most:
            raise GeometryError(f"The drawing {name} has more than {MOST_POINTS} points", "Draw it with fewer points")
    closed = len(points) > 2 and (
        any(isinstance(p, svgelements.Close) for p in pieces) or math.dist(points[0], points[-1]) <= MERGE
    )
    if closed and math.dist(points[0], points[-1]) <= MERGE:
        points.pop()
    elif closed:
        curved.append(False)
    return DrawnPath(id_, tuple(points), closed, tuple(curved)) if len(points) > 1 else None


def _ends(piece: Any) -> Iterator[Point]:
    """Yield the points a piece of a path goes to, the first one of a move included."""
    steps = 1
    if isinstance(piece, svgelements.CubicBezier):
        steps = _bezier_steps(6.0, (piece.start, piece.control1, piece.control2, piece.end))
    elif isinstance(piece, svgelements.QuadraticBezier):
        steps = _bezier_steps(2.0, (piece.start, piece.control, piece.end))
    elif isinstance(piece, svgelements.Arc):
        radius = max(float(piece.rx), float(piece.ry)) * MM_A_PIXEL
        steps = arc_steps(radius, math.degrees(float(piece.sweep)))
    if piece.end is None:
        return
    for i in range(1, steps):
        point = piece.point(i / steps)
        yield float(point.x), float(point.y)
    yield float(piece.end.x), float(piece.end.y)


def _bezier_steps(factor: float, controls: tuple[Any, ...]) -> int:
    """Return the number of equal steps; a chord over step h leaves the curve by at most h squared / 8 times |B''|."""
    places = [complex(c.x, c.y) * MM_A_PIXEL for c in controls]
    bend = max(abs(a - 2 * b + c) for a, b, c in zip(places, places[1:], places[2:], strict=False))
    wanted = math.sqrt(factor * bend / (8.0 * ARC_CHORD))
    return max(1, math.ceil(min(wanted, float(MOST_POINTS)))) if math.isfinite(wanted) else 1
