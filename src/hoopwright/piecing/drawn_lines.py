"""The lines of a drawing, brought into the frame of the outline."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from shapely.geometry import Polygon

from hoopwright.core.errors import GeometryError
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.types import Mm, Point
from hoopwright.piecing.outline import drawn_outline
from hoopwright.plane.drawing import Drawing, DrawnPath, read_drawing
from hoopwright.plane.strokes import Stroke, strokes_of
from hoopwright.project.schema import DrawingPatchwork, DrawnOutline, Outline, PolygonOutline

FILE = "panel.patchwork.file"


def drawn_strokes(
    work: DrawingPatchwork, outline: Polygon, model: Outline, shift: Point, drawings: Mapping[str, bytes]
) -> tuple[tuple[Stroke, ...] | None, tuple[Finding, ...]]:
    """Return the strokes of the drawing in the outline's frame, without the outline's own path.

    Where the drawing lies: an outline that has numbers of its own (a polygon, a drawing) shares them with the lines.
    For the named shapes the closed path of the outline's size is the outline; when there is none, the middle of
    the page is the middle of the outline. None when the drawing cannot be read.
    """
    if work.file not in drawings:
        message, cure = f"The drawing {work.file} is missing", "Put the file beside the project file"
        return None, (Finding("HW208", Severity.BLOCKS, message, cure, Where(path=FILE)),)
    try:
        drawing = read_drawing(drawings[work.file], work.file)
    except GeometryError as error:
        return None, (Finding("HW207", Severity.BLOCKS, error.message, error.cure, Where(path=FILE)),)
    own = _own_path(work, outline, model, drawing, drawings)
    move = _shift(model, shift, own, drawing)
    paths = [_moved(p, move) for p in drawing.paths if own is None or p.id != own.id]
    return strokes_of(paths, work.gap), tuple(_ignored(work.file, drawing))


def _own_path(
    work: DrawingPatchwork, outline: Polygon, model: Outline, drawing: Drawing, drawings: Mapping[str, bytes]
) -> DrawnPath | None:
    """Return the path of the drawing that is the outline itself, if there is one."""
    if isinstance(model, DrawnOutline):
        return drawn_outline(model, drawings) if model.file == work.file else None
    if isinstance(model, PolygonOutline):
        return None
    left, low, right, high = outline.bounds
    return next((p for p in drawing.paths if p.closed and _size_differs(p, right - left, high - low) <= work.gap), None)


def _size_differs(path: DrawnPath, width: Mm, height: Mm) -> Mm:
    left, low, right, high = _box(path)
    return max(abs(right - left - width), abs(high - low - height))


def _box(path: DrawnPath) -> tuple[Mm, Mm, Mm, Mm]:
    xs, ys = [p[0] for p in path.points], [p[1] for p in path.points]
    return min(xs), min(ys), max(xs), max(ys)


def _shift(model: Outline, shift: Point, own: DrawnPath | None, drawing: Drawing) -> Point:
    if isinstance(model, DrawnOutline | PolygonOutline):
        return shift
    left, low, right, high = _box(own) if own else (0.0, 0.0, *drawing.page)
    return (-(left + right) / 2.0, -(low + high) / 2.0)


def _moved(path: DrawnPath, by: Point) -> DrawnPath:
    return DrawnPath(path.id, tuple((x + by[0], y + by[1]) for x, y in path.points), path.closed, path.curved)


def _ignored(name: str, drawing: Drawing) -> Iterator[Finding]:
    for kind, count in drawing.ignored:
        yield Finding(
            "HW209",
            Severity.NOTES,
            f"The drawing {name} has {count} element{'s' if count > 1 else ''} of kind {kind}, which {'were' if count > 1 else 'was'} left out",
            "Nothing to do when they are only remarks; letters that shall be seams must be turned into paths",
            Where(path=FILE),
        )


def line_strokes(lines: tuple[tuple[Point, Point], ...], shift: Point) -> tuple[Stroke, ...]:
    """Return plain lines as strokes, moved by ``shift``."""
    return tuple(
        Stroke(((a[0] + shift[0], a[1] + shift[1]), (b[0] + shift[0], b[1] + shift[1])))
        for a, b in lines
        if all(math.isfinite(v) for v in (*a, *b))
    )
