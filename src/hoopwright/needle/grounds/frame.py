"""The frame a pattern is drawn in, and its lines cut to the region.

Words: the *frame* of a region is turned by the pattern's angle, its origin in the middle of the region as seen along
its axes, so that a symmetric region gets a symmetric pattern; *rows* are lines that run right through the region; a
*crumb* is a piece of a line so short or so close to the edge that it would only look like a slip of the hand.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon

from hoopwright.core.tolerances import ARC_CHORD, MERGE
from hoopwright.core.types import Degrees, Mm

CRUMB: Final = 0.35
"""A piece that begins and ends at the edge and is shorter than this part of the spacing is a crumb (by eye)."""

HUGGING: Final = 0.3
"""So is one that stays nearer to the edge than this part of the spacing (by eye)."""

TRIED: Final = (0.5, 0.25, 0.75, 0.125, 0.375, 0.625, 0.875)
"""Places, as parts of its length, where it is tried how near a piece stays."""

Rows = NDArray[np.float64]
"""Lines of equal numbers of points in the frame, shape (lines, points, 2), mm."""


@dataclass(frozen=True, slots=True)
class Frame:
    """A turned frame: its origin in the plane, the cosine and sine of its angle, half its region's length and height."""

    x: Mm
    y: Mm
    cos: float
    sin: float
    half_length: Mm
    half_height: Mm

    def lines(self, rows: Rows) -> NDArray[np.object_]:
        """Return rows drawn in the frame as lines of the plane."""
        return np.asarray(shapely.linestrings(self.points(rows)), dtype=np.object_).reshape(-1)

    def points(self, places: Rows) -> Rows:
        """Return places of the frame as places of the plane."""
        turn = np.array([[self.cos, self.sin], [-self.sin, self.cos]])
        return np.asarray(places @ turn + (self.x, self.y), dtype=np.float64)


def frame_of(part: Polygon, angle: Degrees) -> Frame:
    """Return the frame of a region, its long axis at ``angle``."""
    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    edge = np.asarray(part.exterior.coords)[:, :2] @ np.array([[cos, -sin], [sin, cos]])
    low, high = edge.min(axis=0), edge.max(axis=0)
    u, v = (low + high) / 2.0
    half = (high - low) / 2.0
    return Frame(u * cos - v * sin, u * sin + v * cos, cos, sin, float(half[0]), float(half[1]))


def middles(half: Mm, spacing: Mm, past: Mm = 0.0) -> NDArray[np.float64]:
    """Return places ``spacing`` apart, symmetric about 0, up to ``past`` beyond ``half``.

    Of the two ways to lie symmetric the one is taken that leaves about half a spacing at the edge.
    """
    whole = 2.0 * half / spacing
    count = math.floor(whole) + (1 if whole - math.floor(whole) >= 0.5 else 0)
    extra = 2 * math.ceil(past / spacing)
    places = np.arange(max(1, count) + extra, dtype=np.float64)
    return np.asarray((places - (len(places) - 1) / 2.0) * spacing, dtype=np.float64)


def steps_for(length: Mm, radius: Mm) -> int:
    """Return how many chords draw a curve of this length and least radius, none leaving it by more than ARC_CHORD."""
    chord = 2.0 * math.sqrt(max(ARC_CHORD, 2.0 * radius * ARC_CHORD))
    return max(4, math.ceil(length / chord))


def clipped(lines: NDArray[np.object_], part: Polygon, spacing: Mm) -> tuple[LineString, ...]:
    """Return the pieces of ``lines`` inside ``part``, crumbs left out, in the order of the lines."""
    return tuple(piece for piece, _ in clipped_rows(lines, part, spacing))


def clipped_rows(lines: NDArray[np.object_], part: Polygon, spacing: Mm) -> tuple[tuple[LineString, int], ...]:
    """Return the pieces of ``lines`` inside ``part`` with the number of the line each comes from, crumbs left out."""
    shapely.prepare(part)
    met = np.flatnonzero(shapely.intersects(part, lines))
    inside = lines[met]
    cut = ~shapely.contains_properly(part, inside)
    inside[cut] = shapely.intersection(inside[cut], part)
    pieces, which = shapely.get_parts(inside, return_index=True)
    lineal = (shapely.get_type_id(pieces) == shapely.GeometryType.LINESTRING) & (shapely.length(pieces) > MERGE)
    pieces, which = pieces[lineal], which[lineal]
    kept = _kept(pieces, _crumbs(pieces, part, spacing))
    return tuple(zip(pieces[kept].tolist(), met[which[kept]].tolist(), strict=True))


def _crumbs(pieces: NDArray[np.object_], part: Polygon, spacing: Mm) -> NDArray[np.bool_]:
    """Return which pieces are crumbs."""
    edge = part.boundary
    shapely.prepare(edge)
    loose = shapely.dwithin(shapely.get_point(pieces, 0), edge, MERGE)
    loose &= shapely.dwithin(shapely.get_point(pieces, -1), edge, MERGE)
    crumb: NDArray[np.bool_] = loose & (shapely.length(pieces) < CRUMB * spacing)
    near = np.flatnonzero(loose & ~crumb)
    for share in TRIED:
        places = shapely.line_interpolate_point(pieces[near], share, normalized=True)
        near = near[shapely.dwithin(places, edge, HUGGING * spacing)]
    crumb[near] = True
    return crumb


def _kept(pieces: NDArray[np.object_], crumb: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Return which pieces stay: those that are no crumbs, and crumbs on which one of those ends or which it crosses."""
    kept = ~crumb
    if crumb.any():
        found, _ = shapely.STRtree(pieces[kept]).query(pieces[crumb], predicate="dwithin", distance=MERGE)
        kept[np.flatnonzero(crumb)[np.unique(found)]] = True
    return kept


def ends_of(pieces: Sequence[LineString]) -> NDArray[np.float64]:
    """Return the first and last points of pieces, shape (n, 2, 2)."""
    row = np.asarray(pieces, dtype=np.object_)
    first = shapely.get_coordinates(shapely.get_point(row, 0))
    last = shapely.get_coordinates(shapely.get_point(row, -1))
    return np.stack([first, last], axis=1)
