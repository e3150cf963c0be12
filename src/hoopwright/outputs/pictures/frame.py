"""The stage of every picture of one hooping: hoop, field, foundation, and what part of them is shown."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import MultiLineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Mm
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.outputs.drawing.geometry import areas, lines
from hoopwright.outputs.drawing.shapes import Extent, Shape
from hoopwright.outputs.pictures.inks import FIELD, FOUNDATION, HOOP, mix
from hoopwright.outputs.pictures.scene import scenes_of

AROUND: Mm = 8.0
"""From the field to the inner hoop, mm: a sketch, every hoop is a little different."""
RIM: Mm = 5.0
"""Breadth of the hoop's frame in the sketch, mm."""
CORNER: Mm = 14.0
"""Rounding of the inner hoop in the sketch, mm."""
AIR: Mm = 6.0
"""Room kept round the work, mm."""
WHOLE = 0.85
"""The whole hoop is shown unless leaving the rest out makes the picture lower than this share of it."""


def inner_hoop(plan: Plan) -> Polygon:
    """Return the sketched inside of the hoop."""
    w, h = plan.field[0] / 2 + AROUND, plan.field[1] / 2 + AROUND
    return box(-w + CORNER, -h + CORNER, w - CORNER, h - CORNER).buffer(CORNER, quad_segs=8)


def extent_of(plan: Plan, hooping: Hooping) -> Extent:
    """Return the part shown in all pictures of a hooping.

    That is the hoop's breadth, more where cloth reaches past it, and the hoop's height if the work fills it.
    """
    hoop = inner_hoop(plan).buffer(RIM + 1.0).bounds
    work = _work(plan, hooping)
    if work is None:
        return hoop
    left, right = min(work[0] - AIR, hoop[0]), max(work[2] + AIR, hoop[2])
    low, high = work[1] - AIR, work[3] + AIR
    whole = high - low > WHOLE * (hoop[3] - hoop[1])
    return (left, min(low, hoop[1]), right, max(high, hoop[3])) if whole else (left, low, right, high)


def _work(plan: Plan, hooping: Hooping) -> Extent | None:
    """Return the box round all cloth, cutting lines and stitches of a hooping."""
    scenes = [s for step in scenes_of(plan, hooping) for s in step]
    shapes = [p.outline for s in scenes for p in s.lying]
    shapes += [c.line for s in scenes for c in s.cuts]
    boxes = shapely.bounds([*shapes, *(p for s in hooping.steps for p in s.stitch.paths)])
    boxes = boxes[~np.isnan(boxes).any(axis=1)]
    if not len(boxes):
        return None
    low, high = boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def stage(plan: Plan, extent: Extent) -> tuple[Shape, ...]:
    """Return hoop, foundation and field, as far as they lie in ``extent``."""
    inside, view = inner_hoop(plan), box(*extent)
    rim = inside.buffer(RIM).difference(inside)
    w, h = plan.field[0] / 2, plan.field[1] / 2
    field = box(-w, -h, w, h).boundary.intersection(view)
    dark = mix(HOOP, "#000000", 0.35)
    return (
        *areas(inside.intersection(view), FOUNDATION),
        *areas(rim.intersection(view), HOOP),
        *lines(_merged(rim.boundary.intersection(view)), dark, 0.3),
        *lines(_merged(field), FIELD, 0.25, (2.0, 1.5)),
    )


def _merged(line: BaseGeometry) -> BaseGeometry:
    return shapely.line_merge(line) if isinstance(line, MultiLineString) else line
