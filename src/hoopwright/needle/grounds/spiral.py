"""Spiral: one line from the middle outwards, its turns following the outline.

Words: a *turn* begins on one *guide*, a ring inside the outline, and *winds* over to the next, a spacing farther in.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import numpy as np
import shapely
from scipy.spatial import cKDTree
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.polygon import orient

from hoopwright.core.types import Mm, Points
from hoopwright.needle.grounds.cells import connected_parts
from hoopwright.needle.grounds.echo import ROUND, echo_lines
from hoopwright.needle.grounds.echoes import (
    LEAST_ROOM,
    below_the_middle,
    echoes_of,
    inside,
    keeps_room,
    polygons_of,
    rings_of,
    rounded,
    turned_ring,
    with_rings,
)
from hoopwright.needle.grounds.shapes import Ground, GroundWish
from hoopwright.needle.working_lines import largest

NARROW: Final = 0.7
"""Spacings between a whole ring and the beginning or end of the turn beside it: a turn gains a spacing, so it lies wider elsewhere."""
FIRST_GAIN: Final = 0.8
"""Spacings that the turn beside the outermost ring gains."""
HOLE_ROOM: Final = 1.0
"""Turns end this many spacings before a hole."""
END_ROOM: Final = 0.7
"""The innermost turn ends where it would come nearer than this many spacings to the line before."""
NARROW_END: Final = 0.5
"""A guide whose inside is nowhere deeper than this many spacings is left out: the turn before it winds into the middle."""
STEP: Final = 1 / 6
"""Step between places of a turn, in spacings."""


def spiral(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Return a spiral that follows the outline of ``part``, drawn from the middle outwards.

    Its turns go as far in as there is one middle; where the outline falls apart inside, or holes lie, echoes fill the rest and are
    joined to the spiral; where too few turns fit, or it would come too near to itself, the echo is drawn. One line for each part that is connected at the spacing (see cells.connected_parts).
    """
    return tuple(line for piece in connected_parts(part, wish.spacing) for line in _lines(piece, wish.spacing))


def _lines(piece: Polygon, spacing: Mm) -> tuple[LineString, ...]:
    guides = _guides(piece, spacing)
    goes_on = bool(piece.interiors) or not inside(Polygon(piece.exterior), _depth(len(guides)), spacing).is_empty
    if len(guides) < (4 if goes_on else 2):
        return echo_lines(piece, spacing)
    line, lost = _with_rest(piece, guides, spacing) if goes_on else (LineString(_to_the_middle(guides, spacing)), [])
    if lost or not line.is_simple or not keeps_room(line, LEAST_ROOM * spacing, spacing):
        return echo_lines(piece, spacing)
    return (rounded(line.reverse(), ROUND * spacing),)


def _depth(k: int) -> float:
    """Return the depth of guide k below the outline, in spacings."""
    return 0.5 if k == 0 else 0.5 + NARROW + (k - 1) - (0.0 if k == 1 else 1.0 - FIRST_GAIN)


def _guides(piece: Polygon, spacing: Mm) -> list[LineString]:
    """Return the guides, as long as each is one ring and clear of the holes."""
    outline, holes = Polygon(piece.exterior), [Polygon(h) for h in piece.interiors]
    found: list[LineString] = []
    while isinstance(inner := inside(outline, _depth(len(found)), spacing), Polygon) and not inner.is_empty:
        ring = _ring(polygons_of(inner.simplify(spacing / 200))[0])
        if any(not inner.contains(h) or h.distance(ring) < HOLE_ROOM * spacing for h in holes):
            break
        found.append(ring)
    return found


def _to_the_middle(guides: list[LineString], spacing: Mm) -> Points:
    """Return the line from outside inwards that ends in the middle, where it has no more room."""
    if len(guides) > 2 and _depth_of(guides[-1]) < NARROW_END * spacing:
        guides = guides[:-1]
    rows, place = _wound(guides, spacing)
    core = Polygon(guides[-1]).buffer(-0.8 * _depth_of(guides[-1]))
    turn = _winding(_ring_from(guides[-1], place, 0.0), core, spacing)
    earlier = np.concatenate([*rows, turn[: len(turn) // 3]])
    gaps = np.asarray(cKDTree(earlier).query(turn)[0])
    close = np.flatnonzero((gaps < END_ROOM * spacing) & (np.arange(len(turn)) > 0.4 * len(turn)))
    return np.concatenate([*rows, turn[: close[0]] if len(close) else turn])


def _depth_of(guide: LineString) -> Mm:
    return float(shapely.maximum_inscribed_circle(Polygon(guide)).length)


def _with_rest(piece: Polygon, guides: list[LineString], spacing: Mm) -> tuple[LineString, list[LineString]]:
    """Return the line from outside inwards that ends with a whole ring, to which echoes inside it are joined, and rings left over."""
    last = len(guides) - 2
    rows, place = _wound(guides[: last + 1], spacing)
    holes = shapely.union_all([Polygon(h) for h in piece.interiors])
    rest = Polygon(piece.exterior).buffer(-(_depth(last) + NARROW - 0.5) * spacing).difference(holes)
    first, *rings = rings_of(echoes_of(largest(rest), spacing), spacing)
    ring = _ring(Polygon(first))
    place = _nearest(ring, place)
    return with_rings(
        LineString(np.concatenate([*rows, _ring_from(ring, place, spacing)])), rings, place, piece, spacing
    )


def _wound(guides: list[LineString], spacing: Mm) -> tuple[list[Points], Point]:
    """Return the outermost ring, whole, so that the edge is even, and the turns from guide to guide; and where they end."""
    place = below_the_middle(guides[0])
    rows = [_ring_from(guides[0], place, spacing)]
    place = _nearest(guides[1], place)
    for guide, inner in pairwise(guides[1:]):
        rows.append(_winding(_ring_from(guide, place, 0.0), inner, spacing))
        place = Point(rows[-1][-1])
    return rows, place


def _ring(region: Polygon) -> LineString:
    return LineString(orient(region).exterior.coords)


def _nearest(ring: LineString, place: Point) -> Point:
    return ring.interpolate(ring.project(place))


def _ring_from(ring: LineString, start: Point, gap: Mm) -> Points:
    return turned_ring(ring, ring.project(start), ring.length - min(gap, ring.length / 4))


def _winding(turn: Points, inner: shapely.Geometry, spacing: Mm) -> Points:
    """Return the turn drawn towards ``inner``: not at all at its start, wholly at its end."""
    fine = shapely.get_coordinates(LineString(turn).segmentize(spacing * STEP))
    steps = np.diff(fine, axis=0)
    travelled = np.concatenate([[0.0], np.cumsum(np.hypot(steps[:, 0], steps[:, 1]))])
    lines = shapely.shortest_line(shapely.points(fine), inner)
    aim = shapely.get_coordinates(lines).reshape(-1, 2, 2)[:, 1]
    drawn: Points = fine + (aim - fine) * (travelled / travelled[-1])[:, None]
    return drawn


GROUNDS = (
    Ground(
        "spiral",
        "Spiral",
        "One line winds from the middle outwards, following the outline.",
        5.0,
        2.0,
        0.0,
        spiral,
        network=False,
    ),
)
