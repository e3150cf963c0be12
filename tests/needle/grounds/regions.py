"""Random regions with holes, necks and slivers, from a seed."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon, box

from hoopwright.needle.working_lines import largest


def blob(rng: np.random.Generator, radius: float) -> Polygon:
    turns = np.linspace(0, 2 * math.pi, 140, endpoint=False)
    reach = np.ones(len(turns))
    for waves in range(2, 7):
        reach += rng.normal(0, 0.3 / waves) * np.cos(waves * turns + rng.uniform(0, 7))
    reach = radius * np.maximum(reach, 0.25)
    return largest(Polygon(np.column_stack([reach * np.cos(turns), reach * np.sin(turns)])).buffer(0))


def star(rng: np.random.Generator, radius: float) -> Polygon:
    count = int(rng.integers(3, 9))
    turns = np.arange(2 * count) * math.pi / count + rng.uniform(0, 7)
    reach = np.where(np.arange(2 * count) % 2, rng.uniform(0.2, 0.8), 1.0) * radius
    return Polygon(np.column_stack([reach * np.cos(turns), reach * np.sin(turns)]))


def corner(rng: np.random.Generator, radius: float) -> Polygon:
    wide, high = rng.uniform(0.25, 1.6, 2) * radius
    lying, standing = box(0, 0, 2 * radius, wide), box(0, 0, high, 2 * radius)
    return largest(lying.union(standing))


def neck(rng: np.random.Generator, radius: float) -> Polygon:
    """Two blobs joined by a band, perhaps bent, of any width from a thread's to a hand's."""
    far = (2.5 * radius, rng.uniform(-1, 1) * radius)
    other = affinity.translate(blob(rng, radius * 0.7), *far)
    way = LineString([(0, 0), (1.2 * radius, rng.uniform(-1, 1) * radius), far])
    return largest(shapely.union_all([blob(rng, radius * 0.8), other, way.buffer(rng.uniform(0.5, radius / 3))]))


def strip(rng: np.random.Generator, radius: float) -> Polygon:
    return box(0, 0, 2 * radius, rng.uniform(0.05, 0.5) * radius)


def sliver(rng: np.random.Generator, radius: float) -> Polygon:
    """A triangle with at least one narrow point, sometimes hardly more than a thread."""
    return Polygon(
        [
            (0, 0),
            (2 * radius, rng.uniform(0, 0.3) * radius),
            (rng.uniform(0.2, 1.8) * radius, radius * rng.uniform(0.5, 1.5)),
        ]
    )


SHAPES: tuple[Callable[[np.random.Generator, float], Polygon], ...] = (blob, star, corner, neck, strip, sliver)


def _hole(rng: np.random.Generator, region: Polygon, radius: float) -> Polygon:
    left, low, right, high = region.bounds
    at = rng.uniform((left, low), (right, high))
    size = rng.uniform(0.05, 0.4) * radius
    kind = int(rng.integers(3))
    if kind == 0:
        return Point(*at).buffer(size, quad_segs=6)
    hole = box(-size, -size / 3, size, size) if kind == 1 else star(rng, size)
    return affinity.translate(affinity.rotate(hole, rng.uniform(0, 360)), *at)


def random_region(seed: int) -> Polygon:
    """Return a region of 20 to 110 mm across, turned anyhow, with up to five holes that may also bite its edge."""
    rng = np.random.default_rng(seed)
    radius = float(rng.uniform(12, 45))
    region = SHAPES[seed % len(SHAPES)](rng, radius)
    for _ in range(int(rng.integers(0, 6))):
        region = largest(region.difference(_hole(rng, region, radius)))
    return affinity.rotate(region, float(rng.uniform(0, 360)), origin=(0, 0))


def random_spacing(seed: int) -> float:
    """Return a spacing of 2.5 to 9 mm for the region of the same seed."""
    return float(np.random.default_rng(seed + 10_000).uniform(2.5, 9.0))
