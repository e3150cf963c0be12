"""A line of stitches joins every layer under it; what it catches is measured by overlay.

A run is taken as the line through its needle positions. How near it passes to what it does not catch is measured
only when asked for, because it looks at every layer.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.shapes import Held, Join, Layer, Stack
from hoopwright.core.tolerances import COVER, MERGE
from hoopwright.core.types import Mm, Points
from hoopwright.operations.vocabulary import Role


@dataclass(frozen=True, slots=True, eq=False)
class Free:
    """A layer a line does not catch, and how far the line passes from it, mm."""

    sheet: str
    clearance: Mm


def caught(stack: Stack, path: BaseGeometry) -> tuple[Held, ...]:
    """Return the layers under ``path``, lowest first, with the length of the line over each."""
    return tuple(_held(layer, part) for layer, part in _under(stack, path))


def _under(stack: Stack, path: BaseGeometry) -> Iterator[tuple[Layer, BaseGeometry]]:
    regions = _with_folds(stack, path)
    shapely.prepare(path)
    hit = np.flatnonzero(shapely.intersects(path, regions))
    parts = shapely.intersection(path, regions[hit])
    for number, part, length in zip(hit.tolist(), parts, shapely.length(parts), strict=True):
        if length > MERGE:
            yield stack.layers[number], part


def _with_folds(stack: Stack, path: BaseGeometry) -> NDArray[np.object_]:
    """Return the regions of the layers; those with a folded edge at the path are a hair wider, for a needle that comes
    down on a fold catches it.
    """
    regions = np.array([layer.region for layer in stack.layers], dtype=object)
    folded = [i for i, p in enumerate(stack.layers) if p.folds and any(path.dwithin(f, COVER) for f in p.folds)]
    regions[folded] = shapely.buffer(regions[folded], COVER, join_style="mitre")
    return regions


def _held(layer: Layer, part: BaseGeometry) -> Held:
    return Held(layer.sheet, layer.face, float(part.length), part, layer.placing)


def free(stack: Stack, path: BaseGeometry) -> tuple[Free, ...]:
    """Return the layers that ``path`` does not catch with their clearances, the nearest first."""
    distances = shapely.distance(path, _with_folds(stack, path))
    rows = [Free(p.sheet, float(d)) for p, d in zip(stack.layers, distances, strict=True) if d > 0.0]
    return tuple(sorted(rows, key=lambda row: (row.clearance, row.sheet)))


def stitch(
    stack: Stack,
    path: BaseGeometry,
    name: str = "",
    *,
    role: Role | None = None,
    piece: str | None = None,
    binds: Mm = 0.0,
    step: int | None = None,
) -> Stack:
    """Return the stack with a line sewn through everything under it; see ``Join`` for the words."""
    join = Join(name, role, piece, path, caught(stack, path), binds, step)
    return replace(stack, joins=(*stack.joins, join))


def thickness_at(stack: Stack, points: Points) -> NDArray[np.float64]:
    """Return the thickness under each needle position, shape (n,), mm: the sum over the layers there."""
    total = np.zeros(len(points))
    for layer in _near(stack, points):
        shapely.prepare(layer.region)
        total += layer.thickness * shapely.intersects_xy(layer.region, points[:, 0], points[:, 1])
    return total


def _near(stack: Stack, points: Points) -> list[Layer]:
    """Return the layers whose boxes meet the box of the points."""
    if not len(points) or not stack.layers:
        return []
    low, high = points.min(axis=0), points.max(axis=0)
    boxes = shapely.bounds([layer.region for layer in stack.layers])
    near = (boxes[:, :2] <= high).all(axis=1) & (boxes[:, 2:] >= low).all(axis=1)
    return [layer for layer, hit in zip(stack.layers, near, strict=True) if hit]
