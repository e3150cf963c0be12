"""Lines that repeat an outline inwards, and how a ring is taken into a line.

Words: an *echo* is a closed line at an even distance inside an outline and round its holes; a *gap* the stretch left out of a
line and of a ring where two short *bridges* lead from the one to the other and back.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Any, Final

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.spatial import cKDTree
from shapely.geometry import LineString, MultiLineString, MultiPolygon, Point, Polygon
from shapely.ops import substring

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Points
from hoopwright.needle.working_lines import largest

THIN: Final = 0.22
"""Echoes leave out what is narrower than twice this many spacings, where two sides would lie too near each other."""
OTHER_THINS: Final = (0.3, 0.16, 0.26)
"""What is tried instead where a line comes too near to itself."""
LEAST_ROOM: Final = 0.4
"""Spacings that echoes and spirals keep from themselves if they can."""
LEAST_RING: Final = 3.0
"""A ring shorter than this many spacings is left out."""
TRIES: Final = 24
"""Places tried for a gap."""
ASKEW: Final = 0.25
"""Gaps whose shape differs by less than this part of a gap are taken by their place."""
ROOMY: Final = 0.6
"""A gap is good enough where its bridges keep this many spacings from everything else."""
SAME_STRAND: Final = 1.3
"""Stretches of line nearer than this many spacings along it are not asked how near they lie."""
SHARP: Final = math.radians(30)
"""A corner that bends by more is rounded."""


@dataclass(frozen=True, slots=True)
class _Gap:
    """A place where a ring may be taken into a line: its middle along the ring, and where its ends come to lie along the line."""

    at: Mm
    first: Mm
    second: Mm


def echoes_of(part: Polygon, spacing: Mm, thin: float = THIN) -> list[Polygon]:
    """Return the regions inside ``part`` at depths of 1/2, 3/2, 5/2 ... spacings, outermost first; their rings are the echoes.

    ``part`` is connected at the spacing. Its necks, too narrow for that, have their echo at a quarter of a spacing.
    """
    found = [_outermost(part, spacing, thin)]
    for k in range(1, math.ceil(_size(part) / spacing)):
        inner = inside(part, k + 0.5, spacing, thin)
        if inner.is_empty:
            break
        found += [p for p in polygons_of(inner) if p.length >= LEAST_RING * spacing]
    return [simple for p in found for simple in polygons_of(p.simplify(spacing / 200))]


def polygons_of(shape: shapely.Geometry) -> list[Polygon]:
    """Return the polygons of ``shape`` that are not empty."""
    return [p for p in shapely.get_parts(shape) if isinstance(p, Polygon) and not p.is_empty]


def inside(part: Polygon, depth: float, spacing: Mm, thin: float = THIN) -> Polygon | MultiPolygon:
    """Return what lies at least ``depth`` spacings inside ``part``, without what is narrower there than twice ``thin``.

    Wide places that would hardly touch are tied together, so that the tie too is twice ``thin`` spacings wide.
    """
    core = part.buffer(-(depth + thin) * spacing)
    pieces = polygons_of(core)
    near = 2.2 * thin * spacing
    ties = [shapely.shortest_line(a, b) for a, b in combinations(pieces, 2) if a.distance(b) < near]
    tied = shapely.buffer(shapely.union_all([core, *ties]), thin * spacing)
    assert isinstance(tied, Polygon | MultiPolygon)
    return tied


def _outermost(part: Polygon, spacing: Mm, thin: float) -> Polygon:
    wide = inside(part, 0.5, spacing, thin)
    if isinstance(wide, Polygon) and not wide.is_empty:
        return wide
    whole = part.buffer(-spacing / 4)
    necks = whole.difference(wide.buffer(0.1 * spacing)).buffer(-0.18 * spacing).buffer(spacing)
    return largest(shapely.union(wide, necks.intersection(whole)))


def _size(part: Polygon) -> Mm:
    left, low, right, high = part.bounds
    return max(right - left, high - low)


def below_the_middle(ring: LineString) -> Point:
    """Return the place of the ring nearest to the middle of its lower bound."""
    left, low, right, _ = ring.bounds
    return ring.interpolate(ring.project(Point((left + right) / 2, low)))


def rings_of(regions: list[Polygon], spacing: Mm) -> list[LineString]:
    """Return the outlines of ``regions`` and of their holes, as far as they are long enough; the first in any case."""
    rings = [LineString(r.coords) for region in regions for r in (region.exterior, *region.interiors)]
    return [r for r in rings if r is rings[0] or r.length >= LEAST_RING * spacing]


def with_rings(
    line: LineString, rings: list[LineString], place: Point, part: Polygon, spacing: Mm
) -> tuple[LineString, list[LineString]]:
    """Take ``rings`` into ``line``, the nearest first; return it, and those rings that could not be taken in.

    The first gap is as near to ``place`` as can be, each later one as near to the one before. All stays inside ``part``.
    """
    left, lost = list(rings), list[LineString]()
    shapely.prepare(part)
    while left:
        far = shapely.distance(line, np.array(left, dtype=object))
        ring = left.pop(int(np.argmin(far)))
        taken = _with_ring(line, ring, place, MultiLineString([*left, *lost]), part, spacing)
        if taken is None:
            lost.append(ring)
        else:
            line, place = taken
    return line, lost


def _with_ring(
    line: LineString, ring: LineString, near: Point, others: MultiLineString, part: Polygon, spacing: Mm
) -> tuple[LineString, Point] | None:
    """Return ``line`` with ``ring`` taken in at the first place with room enough, else at the roomiest; None if nowhere."""
    width = min(spacing, ring.length / 4)
    best, most = None, 0.0
    for gap in _gaps(line, ring, near, width, part):
        longer, bridges = _joined(line, ring, gap, width)
        room = min(_room(longer, bridges, spacing), bridges.distance(others)) / spacing
        if room > most and longer.is_simple:
            best, most = (longer, ring.interpolate(gap.at)), room
        if most >= ROOMY:
            break
    return best


def _gaps(line: LineString, ring: LineString, near: Point, width: Mm, part: Polygon) -> Iterator[_Gap]:
    """Yield the places where the ring may be taken in, the best shaped first, and of these the nearest to ``near``.

    A gap is well shaped when it is as wide on the line as on the ring, and its bridges are short and alike.
    """
    at = np.arange(0.0, ring.length, width / 4)
    ends = [shapely.line_interpolate_point(ring, (at + way * width / 2) % ring.length) for way in (-1, 1)]
    marks = _marks(line, ends, shapely.line_interpolate_point(ring, at), width)
    bridges = [
        shapely.linestrings(np.stack([shapely.get_coordinates(end), _places(line, mark)], axis=1))
        for end, mark in zip(ends, marks, strict=True)
    ]
    lengths = [shapely.length(bridge) for bridge in bridges]
    askew = np.abs(np.abs(marks[0] - marks[1]) / width - 1)
    askew += (np.abs(lengths[0] - lengths[1]) + lengths[0] + lengths[1]) / width
    far = shapely.distance(shapely.line_interpolate_point(ring, at), near)
    order = np.lexsort((far, np.floor((askew - askew.min()) / ASKEW)))
    fit = (np.minimum(*marks) > SAME_PLACE) & (np.maximum(*marks) < line.length - SAME_PLACE)
    fit &= shapely.covers(part, bridges[0]) & shapely.covers(part, bridges[1])
    for k in order[fit[order]][:TRIES]:
        yield _Gap(float(at[k]), float(marks[0][k]), float(marks[1][k]))


def _marks(line: LineString, ends: list[Any], middles: Any, width: Mm) -> list[NDArray[np.float64]]:
    """Return where on the line the two bridges end: at the nearest places, or where these lie too near or far, about their middle."""
    nearest = [np.asarray(shapely.line_locate_point(line, end), dtype=np.float64) for end in ends]
    middle = np.asarray(shapely.line_locate_point(line, middles), dtype=np.float64)
    way = np.where(nearest[1] < nearest[0], -1.0, 1.0)
    wide = np.abs(nearest[0] - nearest[1]) / width
    fair = (wide > 0.6) & (wide < 2.0)
    return [np.where(fair, mark, middle + side * way * width / 2) for mark, side in zip(nearest, (-1, 1), strict=True)]


def _places(line: LineString, marks: NDArray[np.float64]) -> Points:
    return shapely.get_coordinates(shapely.line_interpolate_point(line, np.clip(marks, 0.0, line.length)))


def _room(line: LineString, bridges: MultiLineString, spacing: Mm) -> Mm:
    """Return how near the bridges, lying on ``line``, come to what is farther than SAME_STRAND along the line."""
    room = 2 * spacing
    for bridge in bridges.geoms:
        middle, reach = line.project(bridge.centroid), bridge.length / 2 + SAME_STRAND * spacing
        before = substring(line, 0.0, max(0.0, middle - reach))
        after = substring(line, min(line.length, middle + reach), line.length)
        room = min(room, bridge.distance(before), bridge.distance(after))
    return room


def _joined(line: LineString, ring: LineString, gap: _Gap, width: Mm) -> tuple[LineString, MultiLineString]:
    """Return the line with the ring taken in at ``gap``, and the two bridges."""
    round_it = turned_ring(ring, (gap.at + width / 2) % ring.length, ring.length - width)
    first, second = gap.second, gap.first
    if first > second:
        first, second, round_it = second, first, round_it[::-1]
    head = shapely.get_coordinates(substring(line, 0.0, first))
    tail = shapely.get_coordinates(substring(line, second, line.length))
    bridges = MultiLineString([[head[-1], round_it[0]], [round_it[-1], tail[0]]])
    return LineString(np.concatenate([head, round_it, tail])), bridges


def keeps_room(line: LineString, room: Mm, spacing: Mm) -> bool:
    """Return whether no two places of the line lie nearer than ``room`` without being near along it."""
    count = max(2, math.ceil(line.length / (spacing / 8)))
    at = np.linspace(0.0, line.length, count, endpoint=not line.is_closed)
    places = shapely.get_coordinates(shapely.line_interpolate_point(line, at))
    pairs = cKDTree(places).query_pairs(room, output_type="ndarray")
    apart = np.abs(at[pairs[:, 0]] - at[pairs[:, 1]])
    apart = np.minimum(apart, line.length - apart) if line.is_closed else apart
    return not bool((apart > SAME_STRAND * spacing).any())


def turned_ring(ring: LineString, start: Mm, length: Mm) -> Points:
    """Return the places of ``ring`` from ``start`` along it for ``length``, past its own start if need be."""
    end = start + length
    first = shapely.get_coordinates(substring(ring, start, min(end, ring.length)))
    if end <= ring.length:
        return first
    return np.concatenate([first, shapely.get_coordinates(substring(ring, 0.0, end - ring.length))[1:]])


def rounded(line: LineString, radius: Mm) -> LineString:
    """Return ``line`` with its sharp corners rounded, each cut at most ``radius`` from the corner."""
    places = _distinct(shapely.get_coordinates(line))
    closed = line.is_closed
    ring = np.concatenate([places[-2:-1], places, places[1:2]]) if closed else places
    steps = np.diff(ring, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    turns = np.arctan2(steps[:, 1], steps[:, 0])
    bends = np.abs((np.diff(turns) + math.pi) % (2 * math.pi) - math.pi)
    rows: list[Points] = [] if closed else [places[:1]]
    for k, bend in enumerate(bends[: len(bends) - 1 if closed else None], start=1):
        rows.append(_corner(ring[k - 1 : k + 2], lengths[k - 1 : k + 1], radius) if bend > SHARP else ring[k : k + 1])
    rows.append(rows[0][:1] if closed else places[-1:])
    return LineString(np.concatenate(rows))


def _corner(three: Points, lengths: NDArray[np.float64], radius: Mm) -> Points:
    """Return the middle of three places as a curve: a parabola that touches both sides."""
    before, at, after = three
    start = at + (before - at) * min(0.45, radius / lengths[0])
    end = at + (after - at) * min(0.45, radius / lengths[1])
    t = np.linspace(0.0, 1.0, 7)[:, None]
    return np.asarray((1 - t) ** 2 * start + 2 * t * (1 - t) * at + t**2 * end, dtype=np.float64)


def _distinct(places: Points) -> Points:
    steps = np.diff(places, axis=0)
    kept: Points = places[np.concatenate([[True], np.hypot(steps[:, 0], steps[:, 1]) > SAME_PLACE])]
    return kept
