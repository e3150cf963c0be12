"""Outlines: from what the maker declares to a polygon whose bounding box has its middle at the origin."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from typing import assert_never

import shapely
from shapely.geometry import Polygon
from shapely.geometry.polygon import orient

from hoopwright.core.errors import GeometryError
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import LEAST_OUTLINE_AREA, MERGE
from hoopwright.core.types import Mm, Point
from hoopwright.plane.arcs import arc, ellipse
from hoopwright.plane.drawing import DrawnPath, read_drawing
from hoopwright.project.schema import (
    DrawnOutline,
    EllipseOutline,
    FlapOutline,
    ItemOutline,
    Outline,
    PolygonOutline,
    RectangleOutline,
    TongueOutline,
)

PATH = "panel.outline"


class _RefusedError(Exception):
    """Carries the finding that says why an outline cannot be used."""

    def __init__(self, code: str, message: str, cure: str, path: str = PATH, point: Point | None = None) -> None:
        self.finding = Finding(code, Severity.BLOCKS, message, cure, Where(path=path, point=point))


def outline_of(
    model: Outline, drawings: Mapping[str, bytes]
) -> tuple[Polygon | None, tuple[Finding, ...], tuple[Mm, Mm]]:
    """Return the outline (counter-clockwise, mm), the findings, and the shift that brought it to the origin.

    ``drawings`` gives the bytes of each drawing by the file name of the project. Places that were given in the
    outline's own numbers (cuts, lines) must be moved by the same shift. The polygon is None when a finding blocks.
    """
    try:
        corners = _corners(model, drawings)
        polygon = _sound(_without_repeats(corners))
    except _RefusedError as refused:
        return None, (refused.finding,), (0.0, 0.0)
    left, low, right, high = polygon.bounds
    shift = (0.0 - (left + right) / 2.0, 0.0 - (low + high) / 2.0)
    moved = Polygon([(x + shift[0], y + shift[1]) for x, y in polygon.exterior.coords[:-1]])
    return orient(moved), (), shift


def _corners(model: Outline, drawings: Mapping[str, bytes]) -> Sequence[Point]:
    match model:
        case RectangleOutline():
            return _rectangle(model)
        case FlapOutline():
            return _flap(model)
        case TongueOutline():
            return _tongue(model)
        case EllipseOutline():
            return ellipse((0.0, 0.0), model.width / 2.0, model.height / 2.0)
        case PolygonOutline():
            return model.points
        case DrawnOutline():
            return drawn_outline(model, drawings).points
        case ItemOutline():
            raise _RefusedError("HW210", "The outline of the panel is missing", "Give the panel an outline of its own")
        case _:
            assert_never(model)


def _rectangle(model: RectangleOutline) -> list[Point]:
    _check_radius(model.radius, min(model.width, model.height) / 2.0, "half the shorter side")
    x, y, r = model.width / 2.0, model.height / 2.0, model.radius
    return [
        *arc((x - r, y - r), r, 0.0, 90.0),
        *arc((r - x, y - r), r, 90.0, 180.0),
        *arc((r - x, r - y), r, 180.0, 270.0),
        *arc((x - r, r - y), r, 270.0, 360.0),
    ]


def _flap(model: FlapOutline) -> list[Point]:
    _check_radius(model.radius, min(model.width / 2.0, model.height), "half the width, and not above the height")
    x, y, r = model.width / 2.0, model.height / 2.0, model.radius
    return [(x, y), (-x, y), *arc((r - x, r - y), r, 180.0, 270.0), *arc((x - r, r - y), r, 270.0, 360.0)]


def _tongue(model: TongueOutline) -> list[Point]:
    """The slanted sides touch the circle of the rounded end; ``height`` is measured to its lowest point."""
    x, y, r, tip = model.width / 2.0, model.height / 2.0, model.radius, model.tip
    if tip > model.height:
        raise _RefusedError(
            "HW203",
            f"The tip of the tongue is {tip:g} mm high, but the whole outline only {model.height:g} mm",
            "Make the tip lower or the outline higher",
            f"{PATH}.tip",
        )
    _check_radius(r, x if tip >= x or tip == 0.0 else (x * x + tip * tip) / (2.0 * tip), "what the tip has room for")
    across, down = x, tip - r
    reach = math.hypot(across, down)
    lean = math.degrees(math.atan2(down, across)) - math.degrees(math.acos(min(1.0, r / reach)))
    end = arc((0.0, r - y), r, -180.0 - lean, lean)
    return [(x, y), (-x, y), (-x, tip - y), *end, (x, tip - y)]


def _check_radius(radius: Mm, largest: Mm, limit: str) -> None:
    if radius > largest + MERGE:
        raise _RefusedError(
            "HW201",
            f"The corner radius of {radius:g} mm is too large: {limit} is {largest:.2f} mm",
            f"Choose a radius of at most {math.floor(largest * 100) / 100:g} mm",
            f"{PATH}.radius",
        )


def drawn_outline(model: DrawnOutline, drawings: Mapping[str, bytes]) -> DrawnPath:
    """Return the closed path the maker means. Raises the refusal that ``outline_of`` reports."""
    paths = [p for p in _read(model.file, drawings) if p.closed]
    if model.path is not None:
        named = [p for p in paths if p.id == model.path]
        if not named:
            raise _RefusedError(
                "HW206", f"The drawing {model.file} has no closed path {model.path!r}", _choice(paths), f"{PATH}.path"
            )
        return named[0]
    if len(paths) != 1:
        raise _RefusedError(
            "HW206", f"The drawing {model.file} has {len(paths)} closed paths", _choice(paths), f"{PATH}.path"
        )
    return paths[0]


def _choice(paths: Sequence[DrawnPath]) -> str:
    if not paths:
        return "Close the path of the outline in the drawing and give it an id"
    return "Name one of them as path: " + ", ".join(p.id for p in paths[:8])


def _read(name: str, drawings: Mapping[str, bytes]) -> tuple[DrawnPath, ...]:
    if name not in drawings:
        raise _RefusedError(
            "HW205", f"The drawing {name} is missing", "Put the file beside the project file", f"{PATH}.file"
        )
    try:
        return read_drawing(drawings[name], name).paths
    except GeometryError as error:
        raise _RefusedError("HW207", error.message, error.cure, f"{PATH}.file") from error


def _without_repeats(corners: Sequence[Point]) -> list[Point]:
    """Drop corners that repeat the one before, and a last one that repeats the first."""
    kept: list[Point] = []
    for x, y in corners:
        if not (math.isfinite(x) and math.isfinite(y)):
            raise _RefusedError("HW204", "A corner of the outline is not a number", "Give every corner as [x, y] in mm")
        if not kept or math.dist(kept[-1], (x, y)) > MERGE:
            kept.append((float(x), float(y)))
    while len(kept) > 1 and math.dist(kept[0], kept[-1]) <= MERGE:
        kept.pop()
    return kept


def _sound(corners: list[Point]) -> Polygon:
    """Return the polygon of the corners. Refuses what encloses nothing or crosses itself."""
    if len(corners) < 3:
        raise _RefusedError(
            "HW204", "The outline has fewer than three different corners", "Give at least three corners"
        )
    polygon = Polygon(corners)
    if not polygon.is_valid:
        at = _crossing(polygon)
        raise _RefusedError(
            "HW202",
            "The outline crosses or touches itself",
            "Move the corners so that its line runs round once",
            point=at,
        )
    if polygon.area < LEAST_OUTLINE_AREA:
        raise _RefusedError(
            "HW204", f"The outline encloses almost nothing ({polygon.area:.3f} mm²)", "Give it width and height in mm"
        )
    return orient(polygon)


def _crossing(polygon: Polygon) -> Point | None:
    found = re.search(r"\[(\S+) (\S+)\]", shapely.is_valid_reason(polygon))
    return (float(found[1]), float(found[2])) if found else None
