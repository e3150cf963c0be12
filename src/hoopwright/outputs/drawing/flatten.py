"""Arrows and hatches broken down into areas and lines, so that every replay draws the same."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import shapely
import shapely.ops
from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Point
from hoopwright.outputs.drawing.geometry import lines
from hoopwright.outputs.drawing.shapes import Area, Arrow, Drawing, Hatch, Line, Primitive

HEAD_SLENDER = 0.8
"""Breadth of an arrow head over its length."""


def primitives(drawing: Drawing) -> Iterator[Primitive]:
    """Yield the shapes of a drawing in order, arrows and hatches broken down."""
    for shape in drawing.shapes:
        if isinstance(shape, Arrow):
            yield from _arrow(shape)
        elif isinstance(shape, Hatch):
            yield from _hatch(shape)
        else:
            yield shape


def _arrow(arrow: Arrow) -> tuple[Primitive, ...]:
    """Return shaft and head; the shaft ends inside the head so that the tip stays sharp."""
    way = LineString(arrow.points)
    cut = max(way.length - 0.8 * arrow.head, 0.0)
    neck, tip = way.interpolate(max(way.length - arrow.head, 0.0)), arrow.points[-1]
    angle = math.atan2(tip[1] - neck.y, tip[0] - neck.x)
    side = 0.5 * HEAD_SLENDER * arrow.head
    back = (tip[0] - arrow.head * math.cos(angle), tip[1] - arrow.head * math.sin(angle))
    left = (back[0] - side * math.sin(angle), back[1] + side * math.cos(angle))
    right = (back[0] + side * math.sin(angle), back[1] - side * math.cos(angle))
    shaft = shapely.ops.substring(way, 0.0, cut)
    points: tuple[Point, ...] = tuple((x, y) for x, y in shapely.get_coordinates(shaft).tolist())
    head = Area(((tip, left, right),), arrow.colour, arrow.colour, 0.5 * arrow.width)
    return (Line(points, arrow.colour, arrow.width), head) if len(points) > 1 else (head,)


def _hatch(hatch: Hatch) -> tuple[Line, ...]:
    """Return the hatch lines clipped to the polygon; line n passes at n spacings from the origin."""
    polygon = Polygon(hatch.rings[0], hatch.rings[1:])
    along = np.array([math.cos(math.radians(hatch.angle)), math.sin(math.radians(hatch.angle))])
    across = np.array([-along[1], along[0]])
    rim = np.array(hatch.rings[0])
    u, v = rim @ along, rim @ across
    offsets = np.arange(math.ceil(v.min() / hatch.spacing), math.floor(v.max() / hatch.spacing) + 1) * hatch.spacing
    if not len(offsets):
        return ()
    start = offsets[:, None] * across + (u.min() - 1.0) * along
    end = offsets[:, None] * across + (u.max() + 1.0) * along
    rows = shapely.linestrings(np.stack([start, end], axis=1))
    shapely.prepare(polygon)
    cut = shapely.get_parts(shapely.intersection(rows, polygon))
    return tuple(x for part in cut for x in lines(part, hatch.colour, hatch.width, hatch.dash))
