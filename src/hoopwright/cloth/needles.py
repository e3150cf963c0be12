"""The needle positions of one block, with the layers under each and how near they lie to an edge they run along."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.shapes import Layer, Stack
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm, Points
from hoopwright.needle.shapes import Step

ALONG: Final = 0.35
"""A line runs along an edge where the way to the edge is square to it, within this (sine of 20 degrees)."""


@dataclass(frozen=True, slots=True, eq=False)
class Needles:
    """Needle positions ``at`` (n, 2), the direction of the seam there ``along`` (n, 2), and whether each of the m layers lies
    there, ``inside`` (n, m).
    """

    at: Points
    along: Points
    layers: tuple[Layer, ...]
    inside: NDArray[np.bool_]

    @property
    def spacing(self) -> Mm:
        """The usual distance of two positions, mm."""
        return float(np.median(np.hypot(*np.diff(self.at, axis=0).T))) if len(self.at) > 1 else 0.0

    def beside(self, layer: int, line: BaseGeometry, least: Mm, most: Mm) -> NDArray[np.bool_]:
        """Return which positions on a layer run along ``line`` at a distance over ``least`` and under ``most`` mm, shape (n,)."""
        chosen = self.inside[:, layer].copy()
        if line.is_empty or not chosen.any():
            return np.zeros(len(self.at), dtype=bool)
        shapely.prepare(line)
        chosen &= shapely.dwithin(shapely.points(self.at), line, most)
        where = np.flatnonzero(chosen)
        ways = shapely.get_coordinates(shapely.shortest_line(shapely.points(self.at[where]), line)).reshape(-1, 2, 2)
        way = ways[:, 1] - ways[:, 0]
        far = np.hypot(*way.T)
        square = np.abs((way * self.along[where]).sum(axis=1)) <= ALONG * np.maximum(far, MERGE)
        chosen[where] = (far >= least) & (far < most) & square
        return chosen


def needles_of(step: Step, stack: Stack) -> Needles:
    """Return the needle positions of a step, each place once, over the stack it was sewn through."""
    rows, ways = [], []
    for run in step.runs:
        move = np.gradient(run.points, axis=0) if run.count > 1 else np.zeros_like(run.points)
        length = np.hypot(*move.T)
        moving = length > MERGE
        rows.append(run.points[moving])
        ways.append(move[moving] / length[moving, None])
    at, along = np.concatenate(rows), np.concatenate(ways)
    _, once = np.unique(np.round(at / MERGE), axis=0, return_index=True)
    at, along = at[np.sort(once)], along[np.sort(once)]
    regions = [p.region for p in stack.layers]
    for region in regions:
        shapely.prepare(region)
    inside = np.column_stack([shapely.intersects_xy(r, at[:, 0], at[:, 1]) for r in regions])
    return Needles(at, along, stack.layers, inside)
