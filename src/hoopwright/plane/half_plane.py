"""Half planes, cut large enough for any hoop."""

from __future__ import annotations

import math
from typing import Final

from shapely.geometry import Polygon

from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm, Point

REACH: Final[Mm] = 4000.0
"""How far a half plane is drawn, mm; longer than any hoop or bolt."""


def left_of(start: Point, end: Point, by: Mm = 0.0) -> Polygon:
    """Return the part of the plane to the left of the line from ``start`` to ``end``, from ``by`` mm beyond it.

    Raises GeometryError when the two places are one.
    """
    length = math.dist(start, end)
    if length <= MERGE:
        raise GeometryError("a line has no length", "Give it two different ends")
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    x, y = start[0] - uy * by, start[1] + ux * by
    near = [(x - ux * REACH, y - uy * REACH), (x + ux * REACH, y + uy * REACH)]
    far = [(px - uy * REACH, py + ux * REACH) for px, py in reversed(near)]
    return Polygon([*near, *far])
