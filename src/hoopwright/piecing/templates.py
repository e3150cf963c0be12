"""Templates: the area of a patch plus its allowance, with corners that can be cut with a ruler.

A corner narrower than a right angle would run out in a long point. It is cut off square, one allowance past the
corner of the area: there a later seam or the outline still finds all the cloth it needs, for every place within one
allowance of the area stays inside the template. Right and wide corners keep their points.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.polygon import orient

from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import COVER_AREA, GRID, MERGE
from hoopwright.core.types import Mm, Points

LONGEST_POINT: Final = 1.5
"""A point longer than this many allowances, measured from the corner of the area, is cut off (angles below 83.6)."""

POINTED_LIMIT: Final = 100.0
"""Points longer than this many allowances are never drawn, even in a pointed template (angles below 1.1 degrees)."""


def corners_of(area: Polygon) -> Points:
    """Return the corners of a polygon's rim, counter-clockwise, shape (n, 2), without vertices on straight edges."""
    ring = shapely.get_coordinates(orient(area).exterior)[:-1]
    first = int(np.argmax(((ring - ring.mean(axis=0)) ** 2).sum(axis=1)))
    rolled = Polygon(np.roll(ring, -first, axis=0))
    plain = orient(shapely.simplify(rolled, MERGE))
    return shapely.get_coordinates(plain.exterior)[:-1]


def is_convex(area: Polygon) -> bool:
    """Return whether a polygon has no dents worth mention."""
    return bool(area.convex_hull.area - area.area <= COVER_AREA)


def pointed_template(area: Polygon, allowance: Mm) -> Polygon:
    """Return the area plus ``allowance`` (mm) all round with every corner drawn out to its point.

    Raises GeometryError when the area is empty or the allowance not positive.
    """
    if area.is_empty or allowance <= 0.0:
        raise GeometryError("a template needs an area and an allowance above 0", "Check the patch and the allowance")
    return _pointed(corners_of(area), allowance)


def _pointed(corners: Points, allowance: Mm) -> Polygon:
    grown = Polygon(corners).buffer(allowance, join_style="mitre", mitre_limit=POINTED_LIMIT)
    return orient(Polygon(grown.exterior))


def template_of(area: Polygon, allowance: Mm) -> Polygon:
    """Return the template: the area plus ``allowance`` (mm) all round, long points cut off one allowance past the corner.

    Every place within one allowance of the area lies inside it. Raises GeometryError as ``pointed_template``.
    """
    if area.is_empty or allowance <= 0.0:
        raise GeometryError("a template needs an area and an allowance above 0", "Check the patch and the allowance")
    return template_round(corners_of(area), allowance)


def template_round(corners: Points, allowance: Mm) -> Polygon:
    """Return the template of the area with these corners, as ``corners_of`` gives them; see ``template_of``."""
    template = _pointed(corners, allowance)
    points = _long_points(corners, allowance)
    if not points:
        return template
    off = shapely.union_all(points)
    area = Polygon(corners)
    if not is_convex(area):
        off = off.difference(area.buffer(allowance))
    left = template.difference(off)
    return orient(max(shapely.get_parts(left), key=lambda p: float(p.area)))


def _long_points(corners: Points, allowance: Mm) -> list[Polygon]:
    """Return what to cut off at each corner whose point would be too long."""
    back = _unit(np.roll(corners, 1, axis=0) - corners)
    ahead = _unit(np.roll(corners, -1, axis=0) - corners)
    cross = ahead[:, 0] * back[:, 1] - ahead[:, 1] * back[:, 0]
    half = np.arctan2(cross, (ahead * back).sum(axis=1)) / 2.0
    sharp = (half > 0.0) & (np.sin(np.clip(half, 0.0, None)) * LONGEST_POINT < 1.0)
    outward = -_unit(back + ahead)
    return [_cut_off(corners[i], outward[i], float(half[i]), allowance) for i in np.flatnonzero(sharp)]


def _unit(vectors: Points) -> Points:
    lengths = np.hypot(vectors[:, 0], vectors[:, 1])[:, None]
    return np.divide(vectors, lengths, out=np.zeros_like(vectors), where=lengths > 0.0)


def _cut_off(corner: Points, outward: Points, half: float, allowance: Mm) -> Polygon:
    """Return the point of the template beyond a line square to ``outward``, one allowance past the corner.

    The point is a triangle; it is drawn a hair wider than it is, so that cutting leaves no slivers.
    """
    across = np.array([-outward[1], outward[0]])
    tip = min(allowance / math.sin(half), (POINTED_LIMIT + 1.0) * allowance)
    side = allowance * (1.0 / math.cos(half) - math.tan(half)) + GRID
    base, far = corner + allowance * outward, corner + (tip + GRID) * outward
    return Polygon([base - side * across, base + side * across, far + side * across, far - side * across])
