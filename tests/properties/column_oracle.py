"""An independent model of the stack: a grid of columns, each a list of layers from the lowest to the highest.

The grid has four places in every unit square, in the middles between its centre and its sides. Mirroring over a whole x or
y, or over a diagonal x +- y = whole, leads places to places, and no place lies on such a line. Shapes are cut by lines of these four kinds, so
a place tells about its whole quarter square (the triangle between the centre and one side).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

SIZE = 24
"""Half width of the grid, in units."""

QUARTER = 0.25
"""Area of a quarter square."""

Half = tuple[str, int, int]
"""A half plane: the kind of its line ("x", "y", "+", "-"), its whole offset, and the sign of its side."""

Spot = tuple[float, float]


def places() -> list[Spot]:
    offsets = ((0.25, 0.5), (0.75, 0.5), (0.5, 0.25), (0.5, 0.75))
    return [(i + a, j + b) for i in range(-SIZE, SIZE) for j in range(-SIZE, SIZE) for a, b in offsets]


def height(spot: Spot, half: Half) -> float:
    kind, offset, sign = half
    x, y = spot
    value = {"x": x, "y": y, "+": x + y, "-": x - y}[kind]
    return sign * (value - offset)


def mirrored(spot: Spot, half: Half) -> Spot:
    kind, k, _ = half
    x, y = spot
    return {"x": (2 * k - x, y), "y": (x, 2 * k - y), "+": (k - y, k - x), "-": (y + k, x - k)}[kind]


@dataclass
class Columns:
    """For each place the layers there as (sheet, face up?), lowest first; under which sheet lies is told by order alone."""

    at: dict[Spot, list[tuple[str, bool]]] = field(default_factory=lambda: {spot: [] for spot in places()})

    def lay(self, sheet: str, up: bool, halves: Iterable[Half], under: bool = False) -> None:
        halves = list(halves)
        for spot, column in self.at.items():
            if all(height(spot, half) > 0 for half in halves):
                column.insert(0 if under else len(column), (sheet, up))

    def fold(self, half: Half, sheets: set[str], under: bool = False) -> None:
        """Fold what lies in the half plane over its line."""
        moving: dict[Spot, list[tuple[str, bool]]] = {}
        for spot, column in self.at.items():
            if height(spot, half) > 0:
                moving[spot] = [layer for layer in column if layer[0] in sheets]
                column[:] = [layer for layer in column if layer[0] not in sheets]
        for spot, layers in moving.items():
            if layers:
                turned = [(sheet, not up) for sheet, up in reversed(layers)]
                target = self.at[mirrored(spot, half)]
                target[:] = [*turned, *target] if under else [*target, *turned]

    def trim(self, halves: Iterable[Half], sheets: set[str], keep: bool = False) -> None:
        halves = list(halves)
        for spot, column in self.at.items():
            if all(height(spot, half) > 0 for half in halves) != keep:
                column[:] = [layer for layer in column if layer[0] not in sheets]

    def caught(self, row: int, start: int, end: int) -> dict[tuple[str, bool], float]:
        """Return the lengths of layers under the level line y = row + 1/2 from x = start to x = end."""
        lengths: dict[tuple[str, bool], float] = {}
        for i in range(start, end):
            for a in (0.25, 0.75):
                for layer in self.at[(i + a, row + 0.5)]:
                    lengths[layer] = lengths.get(layer, 0.0) + 0.5
        return lengths

    def array(self, measure: Callable[[list[tuple[str, bool]]], float]) -> NDArray[np.float64]:
        return np.array([measure(column) for column in self.at.values()])
