"""How evenly lines lie in a region, and two plain ways to compare them with.

All measures are in spacings or plain numbers. *Clearance* is the least distance between places of one line more than SAME_STRAND
spacings apart along it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from scipy.spatial import cKDTree
from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Points

SAME_STRAND: Final = 1.5
FINE: Final = 1 / 12
"""Step, in spacings, in which lines are measured."""


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
    """Measure on a grid of an eighth of the spacing; the lines are taken as places a twelfth apart."""
    along = np.concatenate([shapely.get_coordinates(line.segmentize(spacing * FINE)) for line in lines])
    far = np.asarray(cKDTree(along).query(places_in(region, spacing / 8))[0]) / spacing
    return Evenness(float(far.mean()), float(far.max()), float(far.std() / far.mean()), float((far > 0.5).mean()))


def clearance(line: LineString, spacing: float, same_strand: float = SAME_STRAND) -> float:
    """Return the least distance of the line to itself in spacings, 2 where it is farther than that."""
    count = max(8, math.ceil(line.length / (spacing * FINE)))
    at = np.arange(count) / count * line.length
    places = shapely.get_coordinates(shapely.line_interpolate_point(line, at))
    pairs = cKDTree(places).query_pairs(2 * spacing, output_type="ndarray")
    apart = np.abs(at[pairs[:, 0]] - at[pairs[:, 1]])
    if line.is_closed:
        apart = np.minimum(apart, line.length - apart)
    pairs = pairs[apart > same_strand * spacing]
    gaps = np.hypot(*(places[pairs[:, 0]] - places[pairs[:, 1]]).T) / spacing
    return float(gaps.min(initial=2.0))


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
