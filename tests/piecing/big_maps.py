"""Large patch maps that can be sewn, for measurements."""

from __future__ import annotations

import math
import random

from shapely.geometry import Polygon, box

from hoopwright.piecing.patch_map_basics import map_of
from hoopwright.piecing.shapes import PatchMap
from hoopwright.plane.subdivision import subdivide

Spot = tuple[float, float]


def clipped(corners: list[Spot], normal: Spot, depth: float) -> list[Spot]:
    """The part of a convex polygon where normal . p <= depth."""
    kept: list[Spot] = []
    for p, q in zip(corners, corners[1:] + corners[:1], strict=True):
        a, b = (normal[0] * c[0] + normal[1] * c[1] - depth for c in (p, q))
        if a <= 0:
            kept.append(p)
        if a * b < 0:
            t = a / (a - b)
            kept.append((p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])))
    return kept


def sliced_map(patches: int, seed: int = 1) -> PatchMap:
    """Slices of equal area cut off a square one after the other at random angles: patch by patch a crazy panel."""
    rng = random.Random(seed)
    size = 100.0 * patches
    rest: list[Spot] = [(0, 0), (size, 0), (size, size), (0, size)]
    cuts: list[tuple[Spot, Spot]] = []
    while len(cuts) < patches - 1:
        angle = rng.uniform(0, 2 * math.pi)
        normal = (math.cos(angle), math.sin(angle))
        goal = Polygon(rest).area * (1 - 1 / (patches - len(cuts)))
        depth = _depth(rest, normal, goal)
        line = [p for p in clipped(rest, normal, depth) if abs(normal[0] * p[0] + normal[1] * p[1] - depth) < 1e-6]
        cuts.append((line[0], line[-1]))
        rest = clipped(rest, normal, depth)
    region = box(0, 0, size, size)
    return map_of(region, subdivide(region, cuts))


def _depth(corners: list[Spot], normal: Spot, goal: float) -> float:
    heights = [normal[0] * p[0] + normal[1] * p[1] for p in corners]
    low, high = min(heights), max(heights)
    for _ in range(60):
        middle = (low + high) / 2
        part = clipped(corners, normal, middle)
        low, high = (middle, high) if len(part) < 3 or Polygon(part).area < goal else (low, middle)
    return high


def comb_map(patches: int) -> PatchMap:
    """A long spine with patches - 1 teeth that are joined to it alone: as many orders as there can be."""
    teeth = patches - 1
    corners: list[Spot] = [(0, 0), (20.0 * teeth, 0)]
    for i in range(teeth, 0, -1):
        corners += [(20.0 * i, 20), (20.0 * i - 4, 40), (20.0 * i - 16, 40), (20.0 * i - 20, 20)][(i < teeth) :]
    region = Polygon(corners)
    return map_of(region, subdivide(region, [((0, 20), (20.0 * teeth, 20))]))
