"""What lies over and under each place: one arrangement of all edges, and the layers in each of its cells.

The edges of all layers are noded once, on the grid GRID; within a cell the same layers lie everywhere. All other
questions (what shows, how many layers, how thick) are read off the table of cells and layers.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from hoopwright.cloth.shapes import Layer, Region, Stack, region_of
from hoopwright.core.tolerances import GRID
from hoopwright.core.types import Mm, Mm2
from hoopwright.operations.vocabulary import Face, Side


@dataclass(frozen=True, slots=True, eq=False)
class Columns:
    """``cells`` (n,) are polygons that meet only at edges; ``present`` (n, m) tells which of the m ``layers`` lie in each."""

    layers: tuple[Layer, ...]
    cells: NDArray[np.object_]
    present: NDArray[np.bool_]

    @property
    def counts(self) -> NDArray[np.int_]:
        """Number of layers in each cell, shape (n,)."""
        return np.asarray(self.present.sum(axis=1))

    @property
    def thickness(self) -> NDArray[np.float64]:
        """Thickness of each cell, shape (n,), mm: the sum over its layers."""
        return np.asarray(self.present @ np.array([layer.thickness for layer in self.layers]), dtype=np.float64)

    @property
    def area(self) -> Mm2:
        """The covered area."""
        return float(shapely.area(self.cells).sum())

    def outermost(self, side: Side) -> NDArray[np.intp]:
        """Return the number of the layer that shows in each cell, seen from the top or the underside, shape (n,)."""
        if side is Side.UNDER or not self.layers:
            return np.asarray(self.present.argmax(axis=1) if self.layers else np.empty(0, dtype=np.intp))
        return len(self.layers) - 1 - np.asarray(self.present[:, ::-1].argmax(axis=1))

    def layers_of(self, cell: int) -> tuple[Layer, ...]:
        """Return the layers of one cell, lowest first."""
        return tuple(self.layers[i] for i in np.flatnonzero(self.present[cell]))

    def thickest(self) -> Mm:
        """Return the greatest thickness, 0 for an empty stack."""
        return float(self.thickness.max(initial=0.0))


@dataclass(frozen=True, slots=True, eq=False)
class Shown:
    """A region in which one layer of a sheet shows. ``right`` tells whether it shows its right side to the viewer."""

    sheet: str
    layer: int
    region: Region
    right: bool


def columns(stack: Stack) -> Columns:
    """Return the arrangement of all layers."""
    regions = np.array([layer.region for layer in stack.layers], dtype=object)
    if not len(regions):
        return Columns((), np.empty(0, dtype=object), np.empty((0, 0), dtype=bool))
    edges = shapely.union_all(shapely.boundary(regions), grid_size=GRID)
    cells = shapely.get_parts(shapely.polygonize([edges]))
    places = shapely.point_on_surface(cells)
    shapely.prepare(regions)
    at, layer = shapely.STRtree(places).query(regions, predicate="intersects")[::-1]
    present = np.zeros((len(cells), len(regions)), dtype=bool)
    present[at, layer] = True
    covered = present.any(axis=1)
    return Columns(stack.layers, cells[covered], present[covered])


def visible(stack: Stack, side: Side = Side.TOP, table: Columns | None = None) -> tuple[Shown, ...]:
    """Return what shows from the top or the underside, lowest layer first: regions that part the covered area.

    ``table`` are the columns of the same stack when they are at hand.
    """
    table = columns(stack) if table is None else table
    shows = table.outermost(side)
    looks = Face.UP if side is Side.TOP else Face.DOWN
    found = []
    for number in np.unique(shows).tolist():
        layer = table.layers[number]
        region = region_of(shapely.coverage_union_all(table.cells[shows == number]))
        found.append(Shown(layer.sheet, number, region, layer.face is looks))
    return tuple(found)


def thickness_map(table: Columns) -> tuple[tuple[Mm, Region], ...]:
    """Return the regions of equal thickness (within GRID), thinnest first."""
    levels = np.round(table.thickness / GRID) * GRID
    return tuple(
        (float(level), region_of(shapely.coverage_union_all(table.cells[levels == level])))
        for level in np.unique(levels)
    )
