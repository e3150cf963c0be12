"""Healing of line work: lines drawn by hand nearly meet; here they are made to meet.

Words: a *knot* is a place where ends of strokes, nearer to each other than the gap, are joined; a *through line* is a
row of straight strokes that were meant as one line, from knot to knot; a knot *lies on* the through lines it was near
to, and on the rim when it was near to that.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import shapely
from shapely.geometry import LineString, MultiLineString, Polygon
from shapely.geometry import Point as Dot

from hoopwright.core.tolerances import CORNER_DEGREES, FLAT, MERGE
from hoopwright.core.types import Mm, Point
from hoopwright.plane.knots import Knots, tie
from hoopwright.plane.settling import settle
from hoopwright.plane.strokes import Stroke, turn


class Healing(StrEnum):
    """What was done to the drawing at a place."""

    JOINED = "ends that nearly met were joined"
    TO_LINE = "an end was brought onto the line it nearly met"
    TO_RIM = "an end was brought onto the outline"
    STRAIGHTENED = "pieces of one line were made straight"
    REPEATED = "a line drawn twice was taken once"
    ON_RIM = "a line along the outline was left out"
    OUTSIDE = "what lies outside the outline was left out"
    SHORT = "a line shorter than the gap was left out"


@dataclass(frozen=True, slots=True)
class Mended:
    """One healing: what, where, and by how much (mm; 0 when nothing was moved)."""

    what: Healing
    point: Point
    by: Mm


@dataclass(frozen=True, slots=True)
class Loose:
    """An end that meets nothing, and how far on the next line lies in its direction (None: nothing there)."""

    point: Point
    ahead: Mm | None


@dataclass(frozen=True, slots=True)
class Healed:
    """Lines that meet exactly (straight ones and curves), what was mended, and ends that still meet nothing."""

    lines: tuple[tuple[Point, Point], ...]
    curves: tuple[tuple[Point, ...], ...]
    mended: tuple[Mended, ...]
    loose: tuple[Loose, ...]


def heal(region: Polygon, strokes: Sequence[Stroke], gap: Mm) -> Healed:
    """Make strokes that nearly meet (up to ``gap``, mm) meet each other and the rim of the region exactly.

    The order of the strokes makes no difference. Nothing is moved farther than is needed; every change that can be
    seen is listed.
    """
    reach = max(gap, MERGE)
    kept, dropped = _inside(region, sorted(strokes, key=lambda s: sorted((s.points[0], s.points[-1]))), reach)
    knots = tie(region, _corners(region), kept, reach)
    settle(region, knots)
    lines = tuple((knots.places[a], knots.places[b]) for a, b in knots.ends())
    curves = tuple(_bent(knots, i) for i in knots.curves())
    every = shapely.STRtree([region.exterior, *(LineString(p) for p in (*lines, *curves))])
    loose = tuple(_loose(region, knots, every, k) for k in knots.loose())
    return Healed(lines, curves, tuple(dict.fromkeys((*dropped, *_mended(knots)))), loose)


def _corners(region: Polygon) -> tuple[Point, ...]:
    ring = region.exterior.coords[:-1]
    count = len(ring)
    return tuple(
        (float(ring[i][0]), float(ring[i][1]))
        for i in range(count)
        if turn(ring[i - 1], ring[i], ring[(i + 1) % count]) >= CORNER_DEGREES
    )


def _inside(region: Polygon, strokes: Sequence[Stroke], gap: Mm) -> tuple[list[Stroke], list[Mended]]:
    """Clip strokes to the region; drop those along its rim, outside it, or shorter than the gap."""
    kept: list[Stroke] = []
    dropped: list[Mended] = []
    near_rim = region.exterior.buffer(gap)
    shapely.prepare(near_rim)
    shapely.prepare(region)
    for stroke in strokes:
        line = LineString(stroke.points)
        at = stroke.points[0]
        if line.length <= gap:
            dropped.append(Mended(Healing.SHORT, at, 0.0))
        elif near_rim.covers(line):
            dropped.append(Mended(Healing.ON_RIM, at, 0.0))
        elif region.covers(line):
            kept.append(stroke)
        else:
            parts = _parts(line.intersection(region), gap)
            kept += parts
            lost = line.length - sum(LineString(p.points).length for p in parts)
            if lost > gap or not parts:
                dropped.append(Mended(Healing.OUTSIDE, at, 0.0))
    return kept, dropped


def _parts(shape: shapely.Geometry, gap: Mm) -> list[Stroke]:
    parts = shape.geoms if isinstance(shape, MultiLineString | shapely.GeometryCollection) else (shape,)
    lines = [p for p in parts if isinstance(p, LineString) and p.length > gap]
    return [Stroke(tuple((float(x), float(y)) for x, y in p.coords)) for p in lines]


def _bent(knots: Knots, stroke: int) -> tuple[Point, ...]:
    a, b = knots.strokes[stroke]
    return (knots.places[a], *knots.shapes[stroke].points[1:-1], knots.places[b])


def _mended(knots: Knots) -> list[Mended]:
    found: list[Mended] = []
    for knot, moved in enumerate(knots.moved()):
        if moved > FLAT:
            found.append(Mended(_what(knots, knot), knots.places[knot], moved))
    return [*found, *(Mended(Healing.REPEATED, knots.places[k], 0.0) for k in knots.repeated)]


def _what(knots: Knots, knot: int) -> Healing:
    if knot in knots.on_rim or knot < knots.corners:
        return Healing.TO_RIM
    if knots.inner(knot):
        return Healing.STRAIGHTENED
    return Healing.TO_LINE if knots.on_lines[knot] else Healing.JOINED


def _loose(region: Polygon, knots: Knots, every: shapely.STRtree, knot: int) -> Loose:
    """Look ahead from a loose end for the next of all lines."""
    here, back = knots.places[knot], knots.places[knots.other_end(knot)]
    length = max(math.dist(here, back), MERGE)
    left, low, right, high = region.bounds
    far = math.hypot(right - left, high - low)
    unit = ((here[0] - back[0]) / length, (here[1] - back[1]) / length)
    start = (here[0] + unit[0] * MERGE, here[1] + unit[1] * MERGE)
    ray = LineString([start, (here[0] + unit[0] * far, here[1] + unit[1] * far)])
    met = every.geometries.take(every.query(ray, predicate="intersects"))
    ahead = shapely.distance(shapely.intersection(ray, met), Dot(here))
    return Loose(here, min((float(d) for d in ahead), default=None))
