"""The roomiest place of a polygon: where a number, a label or a fingertip fits best."""

from __future__ import annotations

import shapely
from shapely.geometry import Polygon

from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import FLAT
from hoopwright.core.types import Mm, Point


def pole_of_inaccessibility(polygon: Polygon) -> tuple[Point, Mm]:
    """Return the place inside a polygon that is farthest from its boundary, to within FLAT, and that distance (mm).

    Raises GeometryError for a polygon without area.
    """
    if polygon.is_empty or polygon.area <= 0.0:
        raise GeometryError("A polygon without area has no place inside", "Give it at least three corners")
    radius = shapely.maximum_inscribed_circle(polygon, tolerance=FLAT)
    middle, edge = radius.coords[0], radius.coords[-1]
    return (float(middle[0]), float(middle[1])), float(shapely.distance(shapely.Point(middle), shapely.Point(edge)))
