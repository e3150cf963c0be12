"""How a piece of a sheet came to lie where it lies: a move, perhaps with a mirror, from the sheet's own frame.

A sheet's *own frame* is the hoop's frame at the moment the sheet was laid. Flipping a piece mirrors it; so a place of
the hoop can always be led back to a place of the sheet.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Point, Points

Shape = TypeVar("Shape", bound=BaseGeometry)


@dataclass(frozen=True, slots=True)
class Placing:
    """x' = a x + b y + x0, y' = c x + d y + y0; the matrix is a turn or a turn with a mirror, lengths stay."""

    a: float
    b: float
    c: float
    d: float
    x0: float
    y0: float

    def after(self, first: Placing) -> Placing:
        """Return the placing that carries out ``first`` and then this one."""
        return Placing(
            self.a * first.a + self.b * first.c,
            self.a * first.b + self.b * first.d,
            self.c * first.a + self.d * first.c,
            self.c * first.b + self.d * first.d,
            self.a * first.x0 + self.b * first.y0 + self.x0,
            self.c * first.x0 + self.d * first.y0 + self.y0,
        )

    def undone(self) -> Placing:
        """Return the placing that leads back; the matrix of a turn or mirror is undone by its transpose."""
        a, b, c, d = self.a, self.c, self.b, self.d
        return Placing(a, b, c, d, -(a * self.x0 + b * self.y0), -(c * self.x0 + d * self.y0))

    def points(self, points: Points) -> Points:
        """Return points carried along, shape (n, 2), mm."""
        x, y = points[:, 0], points[:, 1]
        return np.column_stack([self.a * x + self.b * y + self.x0, self.c * x + self.d * y + self.y0])

    def shape(self, shape: Shape) -> Shape:
        """Return a shape carried along."""
        return shapely.transform(shape, self.points)

    def like(self, other: Placing) -> bool:
        """Whether both place a sheet of any hoop's size the same, within MERGE."""
        far = ((0.0, 0.0), (1000.0, 0.0), (0.0, 1000.0))
        mine, others = self.points(np.array(far)), other.points(np.array(far))
        return bool(np.abs(mine - others).max() <= MERGE)


AS_LAID = Placing(1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
"""A piece that lies as it was laid."""


def mirror(start: Point, end: Point) -> Placing:
    """Return the mirroring over the line through two places. Raises GeometryError when they are one."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = math.hypot(dx, dy)
    if length <= MERGE:
        raise GeometryError("a fold line has no length", "Give it two different ends")
    ux, uy = dx / length, dy / length
    c, s = ux * ux - uy * uy, 2.0 * ux * uy
    x, y = start
    return Placing(c, s, s, -c, x - c * x - s * y, y - s * x + c * y)
