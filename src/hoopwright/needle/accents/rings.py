"""Ribs that rise from a ring in the middle of a motif, with knotted dots inside it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np
from shapely.geometry import LineString

from hoopwright.core.types import Mm, Point
from hoopwright.needle.accents.edges import CENTRE, part_of, polar
from hoopwright.needle.accents.shapes import Rib

APART: Final[Mm] = 2.8
"""Distance of the middles of neighbouring knots, mm (by eye)."""

BESIDE: Final[Mm] = 1.2
"""Knots stay this far off the ring, mm."""


def ring_line(radius: Mm) -> LineString:
    """Return a circle round the middle that begins straight above it."""
    return LineString([polar(CENTRE, radius, a) for a in np.linspace(0.0, 2.0 * math.pi, 97).tolist()])


def round_a_ring(ribs: Sequence[Rib], radius: Mm, step: float, width: Mm, dots: tuple[Point, ...]) -> Rib:
    """Return the tree of ribs that rise from a ring, ``step`` radians apart, the first straight upwards.

    The thread comes in along the first rib as far as the middle and sews the dots; on its way back it sews the ring and
    from it all other ribs, then the first.
    """
    first, *others = ribs
    ring = ring_line(radius)
    rising = tuple((ring.length * k * step / (2.0 * math.pi), rib) for k, rib in enumerate(others, start=1))
    outer = part_of(first.line, first.line.length, 0.0)
    way = LineString([*outer.coords, CENTRE])
    forks = tuple((outer.length - at, fork) for at, fork in first.children)
    late = ((outer.length, Rib(ring, width, width, rising)),)
    return Rib(way, first.tip, first.root, forks, late, dots)


def knots(room: Mm) -> tuple[Point, ...]:
    """Return the places of the knots inside a ring with ``room`` mm from the middle to its inner edge: one, or seven."""
    if room < APART + BESIDE:
        return (CENTRE,)
    return (*(polar(CENTRE, APART, k * math.pi / 3.0) for k in range(6)), CENTRE)
