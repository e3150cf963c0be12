"""How evenly lines lie in a region, and two plain ways to compare them with.

All measures are in spacings or plain numbers. *Clearance* is the least distance between places of one line more than SAME_STRAND
spacings apart along it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import networkx as nx
import numpy as np
import shapely
from scipy.spatial import cKDTree
from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Points

SAME_STRAND: Final = 1.5
FINE: Final = 1 / 12
"""Step, in spacings, in which the clearance of lines is measured."""


@dataclass(frozen=True, slots=True)
class Evenness:
    """Distance from places of a region to the line: mean and maximum (spacings), variation, part farther than half a spacing."""

    mean: float
    maximum: float
    variation: float
    bare: float


def places_in(region: Polygon, pitch: float) -> Points:
    left, low, right, high = region.bounds
    x, y = np.meshgrid(np.arange(left + pitch / 2, right, pitch), np.arange(low + pitch / 2, high, pitch))
    shapely.prepare(region)
    inside = shapely.contains_xy(region, x.ravel(), y.ravel())
    return np.column_stack([x.ravel()[inside], y.ravel()[inside]])


def evenness(region: Polygon, lines: tuple[LineString, ...], spacing: float) -> Evenness:
    """Measure at one random place in each cell of a grid of an eighth of the spacing (a plain grid would beat with straight lines).

    Lines are taken as places a fortieth of a spacing apart, so no distance is wrong by more than an eightieth.
    """
    along = np.concatenate([shapely.get_coordinates(line.segmentize(spacing / 40)) for line in lines])
    pitch = spacing / 8
    spots = places_in(region, pitch)
    spots = spots + np.random.default_rng(1).uniform(-pitch / 2, pitch / 2, spots.shape)
    spots = spots[shapely.contains_xy(region, spots[:, 0], spots[:, 1])]
    far = np.asarray(cKDTree(along).query(spots)[0]) / spacing
    return Evenness(float(far.mean()), float(far.max()), float(far.std() / far.mean()), float((far > 0.5).mean()))


def clearance(line: LineString, spacing: float) -> float:
    """Return the least distance of the line to itself in spacings; at most SAME_STRAND, which a straight line has."""
    count = max(8, math.ceil(line.length / (spacing * FINE)))
    at = np.arange(count) / count * line.length
    places = shapely.get_coordinates(shapely.line_interpolate_point(line, at))
    pairs = cKDTree(places).query_pairs(SAME_STRAND * spacing, output_type="ndarray")
    apart = np.abs(at[pairs[:, 0]] - at[pairs[:, 1]])
    if line.is_closed:
        apart = np.minimum(apart, line.length - apart)
    pairs = pairs[apart > SAME_STRAND * spacing]
    gaps = np.hypot(*(places[pairs[:, 0]] - places[pairs[:, 1]]).T) / spacing
    return float(gaps.min(initial=SAME_STRAND))


def boustrophedon(region: Polygon, spacing: float) -> LineString:
    """Return rows ``spacing`` apart across the bounds of ``region``, joined at alternate ends (for a rectangle)."""
    left, low, right, high = region.bounds
    rows = max(1, round((high - low) / spacing))
    step = (high - low) / rows
    places = []
    for row in range(rows):
        y = low + (row + 0.5) * step
        ends = [(left + step / 2, y), (right - step / 2, y)]
        places += ends if row % 2 == 0 else ends[::-1]
    return LineString(places)


def hilbert(region: Polygon, order: int) -> LineString:
    """Return the Hilbert curve of ``order`` stretched over the bounds of ``region`` (4^order places, each in the middle of its cell)."""
    side = 2**order
    left, low, right, high = region.bounds
    cells = (_hilbert_cell(order, k) for k in range(side * side))
    return LineString(
        [(left + (x + 0.5) / side * (right - left), low + (y + 0.5) / side * (high - low)) for x, y in cells]
    )


def _hilbert_cell(order: int, index: int) -> tuple[int, int]:
    """Return the cell of a place on the curve, by the usual turning of quarters."""
    x = y = 0
    for level in range(order):
        quarter = index >> (2 * level) & 3
        right, up = quarter >> 1, (quarter ^ quarter >> 1) & 1
        if up == 0:
            if right:
                x, y = (1 << level) - 1 - x, (1 << level) - 1 - y
            x, y = y, x
        x, y = x + (right << level), y + (up << level)
    return x, y


def lattice_walk(columns: int, rows: int, seed: int) -> LineString:
    """Return the walk round a random spanning tree of square cells of side 2, drawn on the quarters of the cells (d = 1).

    The outline of the union of the quarters and of what the tree joins, half a spacing inside: independent of the program.
    """
    cells = nx.grid_2d_graph(columns, rows)
    rng = np.random.default_rng(seed)
    for edge in cells.edges:
        cells.edges[edge]["weight"] = float(rng.uniform())
    tree = nx.minimum_spanning_tree(cells)
    stems = [LineString([(2 * a + 1, 2 * b + 1), (2 * c + 1, 2 * d + 1)]) for (a, b), (c, d) in tree.edges]
    region = shapely.union_all([stem.buffer(0.5, cap_style="square", join_style="mitre") for stem in stems])
    assert isinstance(region, Polygon)
    assert not region.interiors
    return LineString(region.exterior.coords)
