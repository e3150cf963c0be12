"""The net inside an accent: families of lines, sewn to and fro, from one to the next along the rim."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
import shapely
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import substring

from hoopwright.core.types import Degrees, Mm, Points
from hoopwright.core.types import Point as Place

LEAST: Mm = 2.0
"""Shorter pieces of net lie under the rim and are left out, mm."""


def net_spacing(size: Mm) -> Mm:
    """Return how far the lines of a net lie apart in a motif of this size, mm (by eye)."""
    return min(3.2, max(2.3, 0.05 * size))


def straight_net(inside: Polygon, spacing: Mm, angle: Degrees) -> tuple[LineString, ...]:
    """Return parallel lines at ``angle``, ``spacing`` apart, cut off at the border of ``inside``."""
    middle = inside.envelope.centroid
    reach = math.hypot(*(b - a for a, b in zip(inside.bounds[:2], inside.bounds[2:], strict=True)))
    u, v = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    count = int(reach / 2.0 / spacing) + 1
    rows = []
    for k in range(-count, count + 1):
        x, y = middle.x - v * (k + 0.5) * spacing, middle.y + u * (k + 0.5) * spacing
        rows.append(LineString([(x - u * reach, y - v * reach), (x + u * reach, y + v * reach)]))
    return cut_to(inside, rows)


def arcs_net(inside: Polygon, spacing: Mm, around: Place, first: Mm) -> tuple[LineString, ...]:
    """Return arcs round a place, the first ``first`` mm from it and the others ``spacing`` apart, cut off at the border."""
    reach = max(math.dist(around, p) for p in inside.exterior.coords)
    radii = np.arange(first, reach, spacing).tolist()
    return cut_to(inside, (Point(around).buffer(r, quad_segs=48).exterior for r in radii))


def cut_to(inside: Polygon, lines: Iterable[LineString]) -> tuple[LineString, ...]:
    """Return what of the lines lies inside, without pieces shorter than LEAST."""
    parts = []
    for line in lines:
        cut = line.intersection(inside)
        cut = shapely.line_merge(cut) if cut.geom_type == "MultiLineString" else cut
        parts += [p for p in shapely.get_parts(cut) if isinstance(p, LineString) and p.length >= LEAST]
    return tuple(parts)


def along_rim(rim: LineString, start: Mm, end: Mm) -> Points:
    """Return the way along the closed line ``rim`` between two of its places (mm from its beginning), the shorter way round."""
    whole = rim.length
    ahead = (end - start) % whole
    if ahead <= whole / 2.0:
        return _onward(rim, start, ahead)
    return _onward(rim, end, whole - ahead)[::-1]


def _onward(rim: LineString, start: Mm, by: Mm) -> Points:
    """Return the way ``by`` mm onward from a place, past the beginning where it must."""
    start, end = start % rim.length, start % rim.length + by
    first = shapely.get_coordinates(substring(rim, start, min(end, rim.length)))
    if end <= rim.length:
        return first
    return np.vstack([first, shapely.get_coordinates(substring(rim, 0.0, end - rim.length))[1:]])


def to_and_fro(rim: LineString, net: tuple[LineString, ...], start: Mm) -> tuple[Points, Mm]:
    """Return one line through all lines of a net, and where on the rim it ends.

    It begins at ``start`` on the rim and goes from the end of each line along the rim to the nearest end of a line not
    sewn yet.
    """
    ends = np.array([[rim.project(Point(line.coords[k])) for k in (0, -1)] for line in net]).reshape(-1, 2)
    left = np.ones(len(net), dtype=bool)
    rows, at = [], start
    while left.any():
        ahead = (ends - at) % rim.length
        away = np.where(left[:, None], np.minimum(ahead, rim.length - ahead), np.inf)
        number, end = divmod(int(np.argmin(away)), 2)
        coords = shapely.get_coordinates(net[number])
        rows += [along_rim(rim, at, float(ends[number, end])), coords if end == 0 else coords[::-1]]
        at = float(ends[number, 1 - end])
        left[number] = False
    return (np.vstack(rows) if rows else np.empty((0, 2))), at
