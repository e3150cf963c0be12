"""Cut edges: where they lie, and whether anything covers them.

A folded edge is no cut edge, nor is one that stitches have closed over.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.shapes import Layer, Region, Stack
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


def raw_edges(stack: Stack) -> tuple[RawEdge, ...]:
    """Return the cut edges of every layer that has some, lowest layer first; the foundation's are left out."""
    bound = [j.path.buffer(j.binds) for j in stack.joins if j.binds > 0.0]
    wide = [shapely.buffer(p.region, COVER, join_style="mitre") for p in stack.layers]
    found = []
    for number, layer in enumerate(stack.layers):
        line = NOTHING if layer.foundation else _cut_edge(layer, bound)
        if line.length > MERGE:
            above = _left_open(line, wide[number + 1 :])
            found.append(RawEdge(layer.sheet, number, line, above, _left_open(line, wide[:number])))
    return tuple(found)


def _cut_edge(layer: Layer, bound: Sequence[BaseGeometry]) -> BaseGeometry:
    folds = [f.buffer(FLAT) for f in layer.folds]
    closed = [*folds, *(b for b in bound if b.intersects(layer.region))]
    edge = layer.region.boundary
    return shapely.difference(edge, shapely.union_all(closed)) if closed else edge


def _left_open(line: BaseGeometry, covers: Sequence[Region]) -> BaseGeometry:
    """Return what of a line none of the regions covers."""
    near = [c for c, hit in zip(covers, shapely.intersects(line, list(covers)), strict=True) if hit] if covers else []
    return shapely.difference(line, shapely.union_all(near)) if near else line
