"""A simple ground for quilted bodies: crossing parallel lines, sewn as one walk."""

from __future__ import annotations

import math

import shapely
from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Degrees, Mm
from hoopwright.items.recipe import Workshop
from hoopwright.needle.working_lines import largest
from hoopwright.operations.vocabulary import Role, RunStyle, Stitch


def crossed_lines(region: Polygon, spacing: Mm, margin: Mm, angle: Degrees = 45.0) -> tuple[LineString, ...]:
    """Return two sets of parallel lines, ``spacing`` apart, at ``angle`` and its mirror image, with the border they end on.

    All stay ``margin`` mm inside ``region``; empty when nothing is left of it.
    """
    inner = largest(region.buffer(-margin, join_style="mitre"))
    if inner.is_empty:
        return ()
    lines = [LineString(inner.exterior.coords)]
    middle, reach = inner.envelope.centroid, math.hypot(*_size(inner))
    for turn in (angle, 180.0 - angle):
        u, v = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        for k in range(-int(reach / spacing), int(reach / spacing) + 1):
            x, y = middle.x - v * k * spacing, middle.y + u * k * spacing
            whole = LineString([(x - u * reach, y - v * reach), (x + u * reach, y + v * reach)])
            lines += [
                p
                for p in shapely.get_parts(whole.intersection(inner))
                if isinstance(p, LineString) and p.length > spacing / 4
            ]
    return tuple(lines)


def _size(shape: Polygon) -> tuple[Mm, Mm]:
    left, low, right, high = shape.bounds
    return right - left, high - low


def ground(shop: Workshop, what: str, region: Polygon, spacing: Mm, margin: Mm) -> Stitch:
    """Return the block that quilts ``what`` over ``region``."""
    return Stitch(
        Role.GROUND,
        f"Ground of {what}",
        shop.thread("outline"),
        crossed_lines(region, spacing, margin),
        RunStyle(shop.project.stitching.run),
        f"Crossing lines quilt {what}.",
    )
