"""Names for the plain numbers that travel between rooms.

Frame: lengths are millimetres, x to the right, y up, the origin in the centre of the hoop's field, seen from
the needle's side. Angles are degrees, counter-clockwise from the x axis.
"""

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Mm: TypeAlias = float
"""A length in millimetres."""

Mm2: TypeAlias = float
"""An area in square millimetres."""

Degrees: TypeAlias = float
"""An angle in degrees, counter-clockwise."""

Minutes: TypeAlias = float
"""A time in minutes."""

Point: TypeAlias = tuple[float, float]
"""A place in the plane, (x, y) in mm."""

Points: TypeAlias = NDArray[np.float64]
"""A row of places, shape (n, 2), in mm; arrays kept in frozen values are read-only."""


def frozen_points(points: object) -> Points:
    """Return ``points`` as a read-only float array of shape (n, 2).

    Raises ValueError when the shape is another one.
    """
    array = np.array(points, dtype=np.float64).reshape(-1, 2)
    array.setflags(write=False)
    return array
