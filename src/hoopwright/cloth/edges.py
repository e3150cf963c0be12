"""Cut edges: where they lie, and whether anything covers them.

A folded edge is no cut edge, nor is one that stitches have closed over.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.shapes import Join, Layer, Stack
from hoopwright.core.tolerances import COVER, FLAT, MERGE

NOTHING = LineString()


@dataclass(frozen=True, slots=True, eq=False)
class RawEdge:
    """The cut edges of one layer, parted by what covers them; lines in the hoop, mm, perhaps empty.

    ``line`` is all of them. ``open_above`` is what nothing covers seen from the top, ``open_below`` seen from below.
    """

    sheet: str
    layer: int
    line: BaseGeometry
    open_above: BaseGeometry
    open_below: BaseGeometry


def raw_edges(stack: Stack, within: BaseGeometry | None = None) -> tuple[RawEdge, ...]:
    """Return the cut edges of every layer that has some, lowest layer first; the foundation's are left out, and an accent has none.

    Only what lies ``within`` a region is looked at when one is given.
    """
    binding = [j for j in stack.joins if j.binds > 0.0]
    lines = {
        i: line
        for i, p in enumerate(stack.layers)
        if (line := _cut_edge(p, [bound_by(j, p) for j in binding], within)).length > MERGE
    }
    if not lines:
        return ()
    wide = shapely.buffer([p.region for p in stack.layers], COVER, join_style="mitre")
    over: dict[int, list[int]] = {i: [] for i in lines}
    for at, cover in shapely.STRtree(wide).query(list(lines.values()), predicate="intersects").T.tolist():
        over[list(lines)[at]].append(cover)
    return tuple(_raw_edge(stack, i, line, wide, over[i]) for i, line in lines.items())


def bound_by(join: Join, layer: Layer) -> BaseGeometry:
    """Return what an edge satin covers, where it lies now for a layer: it was folded with the layer it holds."""
    over: BaseGeometry = join.path.buffer(join.binds)
    rows = [h for h in join.held if h.sheet == layer.sheet]
    if not rows or any(h.placing.like(layer.placing) for h in rows):
        return over
    own = layer.placing.undone().shape(layer.region)
    nearest = max(rows, key=lambda h: float(shapely.intersection(own, h.own_line).length))
    return layer.placing.after(nearest.placing.undone()).shape(over)


def _raw_edge(
    stack: Stack, number: int, line: BaseGeometry, wide: NDArray[np.object_], covers: Sequence[int]
) -> RawEdge:
    above = _left_open(line, [wide[i] for i in covers if i > number])
    below = _left_open(line, [wide[i] for i in covers if i < number])
    return RawEdge(stack.layers[number].sheet, number, line, above, below)


def _cut_edge(layer: Layer, bound: Sequence[BaseGeometry], within: BaseGeometry | None) -> BaseGeometry:
    if layer.foundation or layer.lace:
        return NOTHING
    edge: BaseGeometry = layer.region.boundary
    if within is not None:
        edge = shapely.intersection(edge, within)
    closed = [*(f.buffer(FLAT) for f in layer.folds), *(b for b in bound if b.intersects(layer.region))]
    return shapely.difference(edge, shapely.union_all(closed)) if closed and not edge.is_empty else edge


def _left_open(line: BaseGeometry, covers: Sequence[BaseGeometry]) -> BaseGeometry:
    """Return what of a line none of the regions covers."""
    for cover in covers:
        if line.is_empty:
            return line
        line = shapely.difference(line, cover)
    return line
