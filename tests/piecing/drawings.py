"""Small drawings used by several tests."""

from __future__ import annotations

from shapely.geometry import Polygon, box

from hoopwright.piecing.patch_map_basics import map_of
from hoopwright.piecing.shapes import PatchMap
from hoopwright.plane.subdivision import subdivide

Segment = tuple[tuple[float, float], tuple[float, float]]


def drawn(region: Polygon, *segments: Segment) -> PatchMap:
    return map_of(region, subdivide(region, segments))


T_OF_THREE = drawn(box(0, 0, 60, 60), ((0, 30), (60, 30)), ((30, 30), (30, 60)))
"""A (upper left) and B (upper right) over C."""

STRIPS = drawn(box(0, 0, 100, 40), *(((20.0 * i, 0.0), (20.0 * i, 40.0)) for i in range(1, 5)))
"""A, B, C, D, E from left to right."""

FOUR_SQUARES = drawn(box(0, 0, 60, 60), ((0, 30), (60, 30)), ((30, 0), (30, 60)))
"""A B over C D."""

WINDMILL = drawn(
    box(0, 0, 60, 60), ((0, 20), (40, 20)), ((40, 0), (40, 40)), ((20, 40), (60, 40)), ((20, 20), (20, 60))
)
"""Four patches that turn round a fifth."""

GAPPED = drawn(
    Polygon([(0, 0), (60, 0), (60, 60), (40, 60), (30, 30), (20, 60), (0, 60)]),
    ((0, 30), (30, 30)),
    ((30, 30), (60, 30)),
)
"""Two towers on a base; they touch at one point of the base's line, with a notch between them."""
