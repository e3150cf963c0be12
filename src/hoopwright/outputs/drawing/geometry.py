"""From Shapely geometries to shapes of the display list."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry import LinearRing, LineString, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Degrees, Mm, Point
from hoopwright.outputs.drawing.shapes import Area, Hatch, Line, Paint, Ring


def polygons_of(geometry: BaseGeometry | None) -> tuple[Polygon, ...]:
    """Return the polygons in a geometry of any kind, nothing for None or an empty one."""
    if geometry is None or geometry.is_empty:
        return ()
    parts = shapely.get_parts(geometry).tolist()
    flat = [q for p in parts for q in (shapely.get_parts(p).tolist() if hasattr(p, "geoms") else [p])]
    return tuple(p for p in flat if isinstance(p, Polygon) and not p.is_empty)


def rings_of(polygon: Polygon) -> tuple[Ring, ...]:
    """Return rim and holes of a polygon, without their repeated last place."""
    return tuple(_ring(r) for r in (polygon.exterior, *polygon.interiors))


def _ring(ring: LinearRing) -> Ring:
    return tuple((x, y) for x, y in shapely.get_coordinates(ring)[:-1].tolist())


def areas(
    geometry: BaseGeometry | None,
    fill: Paint | None = None,
    edge: Paint | None = None,
    width: Mm = 0.0,
    dash: tuple[Mm, ...] = (),
    opacity: float = 1.0,
) -> tuple[Area, ...]:
    """Return an area for each polygon of ``geometry``."""
    return tuple(Area(rings_of(p), fill, edge, width, dash, opacity) for p in polygons_of(geometry))


def hatches(
    geometry: BaseGeometry | None,
    colour: Paint,
    width: Mm,
    spacing: Mm,
    angle: Degrees = 45.0,
    dash: tuple[Mm, ...] = (),
) -> tuple[Hatch, ...]:
    """Return a hatch for each polygon of ``geometry``."""
    return tuple(Hatch(rings_of(p), colour, width, spacing, angle, dash) for p in polygons_of(geometry))


def lines(
    paths: Sequence[LineString] | BaseGeometry, colour: Paint, width: Mm, dash: tuple[Mm, ...] = ()
) -> tuple[Line, ...]:
    """Return a line for each path; closed paths become closed lines."""
    parts = shapely.get_parts(paths).tolist()
    return tuple(
        _line(shapely.get_coordinates(p).tolist(), colour, width, dash)
        for p in parts
        if isinstance(p, LineString) and not p.is_empty
    )


def _line(row: list[list[float]], colour: Paint, width: Mm, dash: tuple[Mm, ...]) -> Line:
    points: tuple[Point, ...] = tuple((x, y) for x, y in row)
    closed = len(points) > 3 and points[0] == points[-1]
    return Line(points[:-1] if closed else points, colour, width, dash, closed)
