"""Corners of a line rounded, so that a column turns about its inner rail like a hand that keeps the needle moving."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Points
from hoopwright.needle.lines import CORNER_DEGREES

MOST_OF_LEG: Final = 0.48
"""A rounding takes at most this part of either leg of its corner."""

ARC_DEGREES: Final = 8.0
"""A rounding is drawn by chords that turn by at most this."""


def rounded(points: Points, radius: Mm) -> Points:
    """Return a line, shape (n, 2), with every bend sharper than CORNER_DEGREES drawn as an arc of ``radius`` mm or less.

    A closed line stays closed; its first corner is rounded too.
    """
    closed = math.dist(points[0], points[-1]) <= SAME_PLACE
    ring = points[:-1] if closed else points
    count = len(ring)
    drawn = [
        _arc(ring[i - 1], ring[i], ring[(i + 1) % count], radius) if closed or 0 < i < count - 1 else ring[i : i + 1]
        for i in range(count)
    ]
    whole = np.vstack(drawn)
    return np.asarray(np.vstack([whole, whole[:1]]) if closed else whole, dtype=np.float64)


def _arc(a: Points, at: Points, b: Points, radius: Mm) -> Points:
    """Return the arc that stands for the corner ``at`` between the legs from ``a`` and to ``b``."""
    back, on = a - at, b - at
    one, other = float(np.hypot(*back)), float(np.hypot(*on))
    back, on = back / one, on / other
    turn = math.pi - math.acos(max(-1.0, min(1.0, float(back @ on))))
    if turn < math.radians(CORNER_DEGREES) or turn > math.radians(179.0):
        return np.asarray(at[None, :], dtype=np.float64)
    taken = min(radius * math.tan(turn / 2.0), MOST_OF_LEG * one, MOST_OF_LEG * other)
    true = taken / math.tan(turn / 2.0)
    way = back + on
    centre = at + way / np.hypot(*way) * math.hypot(taken, true)
    start = at + back * taken - centre
    sign = 1.0 if float(start[0] * (at - centre)[1] - start[1] * (at - centre)[0]) > 0 else -1.0
    angles = sign * np.linspace(0.0, turn, max(2, math.ceil(math.degrees(turn) / ARC_DEGREES)) + 1)
    x, y = start
    return np.column_stack(
        [centre[0] + x * np.cos(angles) - y * np.sin(angles), centre[1] + x * np.sin(angles) + y * np.cos(angles)]
    )
