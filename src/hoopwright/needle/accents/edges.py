"""Rims with eased corners, and curved lines to grow ribs along."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np
import shapely
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import substring

from hoopwright.core.tolerances import FLAT, MERGE
from hoopwright.core.types import Mm
from hoopwright.core.types import Point as Place
from hoopwright.needle.working_lines import largest

RIM_OF_SIZE: Final = 0.042
THINNEST_RIM: Final[Mm] = 1.8
WIDEST_RIM: Final[Mm] = 2.6
"""A rim is this part of the motif's size wide, within these bounds (by eye; columns of 1 to 7 mm are common practice)."""

EASED: Final = 0.62
"""Radius of the sharpest bend of a rim's middle line, as a part of its width: its inner side is not crowded (by eye)."""

CENTRE: Final[Place] = (0.0, 0.0)
"""The middle of what is drawn all round."""

STEPS: Final = 24
"""A curve is drawn through so many places."""


def rim_width(size: Mm) -> Mm:
    """Return the width of the rim of a motif of this size, mm."""
    return min(WIDEST_RIM, max(THINNEST_RIM, RIM_OF_SIZE * size))


def rim_of(places: Sequence[Place], width: Mm, eased: float = EASED) -> Polygon:
    """Return the middle line of a rim whose outer side follows a closed row of places, corners eased, as the polygon inside."""
    outline = largest(Polygon(places).buffer(0.0))
    radius = eased * width
    inner = outline.buffer(-(width / 2.0 + radius)).buffer(2.0 * radius).buffer(-radius)
    return largest(largest(inner).simplify(FLAT))


def curve(start: Place, by: Place, end: Place) -> LineString:
    """Return a curve from start to end, drawn towards ``by`` (a quadratic one)."""
    t = np.linspace(0.0, 1.0, STEPS)[:, None]
    a, b, c = (np.asarray(p) for p in (start, by, end))
    return LineString((1 - t) ** 2 * a + 2 * t * (1 - t) * b + t**2 * c)


def to_rim(line: LineString, rim: Polygon) -> LineString:
    """Return a line that begins inside the rim, cut off where it first meets it, or drawn on straight until it does."""
    (ax, ay), (bx, by) = line.coords[-2], line.coords[-1]
    reach = rim.length / math.dist((ax, ay), (bx, by))
    longer = LineString([*line.coords, (bx + (bx - ax) * reach, by + (by - ay) * reach)])
    hits = shapely.get_coordinates(longer.intersection(rim.exterior))
    places = [longer.project(Point(p)) for p in hits]
    return part_of(longer, 0.0, min(p for p in places if p > MERGE))


def part_of(line: LineString, start: Mm, end: Mm) -> LineString:
    """Return the part of a line between two of its places, mm from its beginning; backwards when the end lies first."""
    part = substring(line, start, end)
    assert isinstance(part, LineString), f"no part of a line from {start} to {end}"
    return part


def polar(centre: Place, radius: Mm, angle: float) -> Place:
    """Return the place at ``radius`` mm from the centre; the angle in radians, counter-clockwise from straight up."""
    return centre[0] - radius * math.sin(angle), centre[1] + radius * math.cos(angle)
