"""Moving knots to where they must lie. See healing for the words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Dot

from hoopwright.core.tolerances import MERGE, SAME_PLACE, STRAIGHTENED_DEGREES
from hoopwright.core.types import Point
from hoopwright.plane.knots import Knots
from hoopwright.plane.pieces import foot_on

ROUNDS: Final = 60
"""Rounds of moving knots onto their lines; each comes nearer, a handful is usual."""


def settle(region: Polygon, knots: Knots) -> None:
    """Move knots onto what they lie on, along their own lines where that leaves a choice, until nothing moves."""
    drawn = list(knots.places)
    curves = [LineString(knots.shapes[i].points) for i in knots.curves()]
    movers = [k for k in range(knots.corners, len(drawn)) if knots.on_lines[k] or k in knots.on_rim | knots.on_curves]
    single = _single_lines(knots)
    for _ in range(ROUNDS):
        moved = 0.0
        for k in movers:
            place = _belongs(region, knots, k, drawn[k], single.get(k), curves)
            moved = max(moved, math.dist(place, knots.places[k]))
            knots.places[k] = place
        if moved < SAME_PLACE * MERGE:
            break


def _single_lines(knots: Knots) -> dict[int, int]:
    """Return for each knot where just one line or curve ends the knot at its other end."""
    rows = [*knots.ends(), *(knots.strokes[i] for i in knots.curves())]
    meeting: dict[int, list[int]] = {}
    for a, b in rows:
        meeting.setdefault(a, []).append(b)
        meeting.setdefault(b, []).append(a)
    return {k: others[0] for k, others in meeting.items() if len(others) == 1}


def _belongs(
    region: Polygon, knots: Knots, k: int, drawn: Point, back: int | None, curves: Sequence[LineString]
) -> Point:
    """Return where a knot must lie: on its lines, on the rim, and along its own line where that leaves a choice."""
    lines = [(knots.places[knots.lines[n][0]], knots.places[knots.lines[n][-1]]) for n in sorted(knots.on_lines[k])]
    own = (knots.places[back], drawn) if back is not None else None
    if k in knots.on_rim or (k in knots.on_curves and not lines):
        shape = region.exterior if k in knots.on_rim else min(curves, key=lambda c: c.distance(Dot(drawn)))
        guide = lines[0] if lines else own
        return _on_shape(shape, drawn, guide)
    if len(lines) > 1:
        pairs = [(p, q) for i, p in enumerate(lines) for q in lines[i + 1 :]]
        return next((x for p, q in pairs if (x := _cross(p, q)) is not None), _foot(lines[0], drawn))
    crossing = _cross(lines[0], own) if own is not None else None
    return crossing if crossing is not None else _foot(lines[0], drawn)


def _cross(p: tuple[Point, Point], q: tuple[Point, Point]) -> Point | None:
    """Return where two lines cross, None when they are nearly parallel."""
    ux, uy = p[1][0] - p[0][0], p[1][1] - p[0][1]
    vx, vy = q[1][0] - q[0][0], q[1][1] - q[0][1]
    cross = ux * vy - uy * vx
    if abs(cross) < math.sin(math.radians(STRAIGHTENED_DEGREES)) * math.hypot(ux, uy) * math.hypot(vx, vy):
        return None
    t = ((q[0][0] - p[0][0]) * vy - (q[0][1] - p[0][1]) * vx) / cross
    return (p[0][0] + t * ux, p[0][1] + t * uy)


def _foot(line: tuple[Point, Point], point: Point) -> Point:
    return foot_on(point, *line)


def _on_shape(shape: LineString, drawn: Point, guide: tuple[Point, Point] | None) -> Point:
    """Return the place of the shape next to ``drawn``, along the guide when it crosses the shape nearby."""
    foot = shape.interpolate(shape.project(Dot(drawn)))
    best = (float(foot.x), float(foot.y))
    if guide is None or math.dist(*guide) <= MERGE:
        return best
    reach = 4.0 * max(math.dist(best, drawn), MERGE)
    length = math.dist(*guide)
    unit = ((guide[1][0] - guide[0][0]) / length, (guide[1][1] - guide[0][1]) / length)
    along = (drawn[0] - guide[0][0]) * unit[0] + (drawn[1] - guide[0][1]) * unit[1]
    ends = [(guide[0][0] + unit[0] * (along + s), guide[0][1] + unit[1] * (along + s)) for s in (-reach, reach)]
    met = shapely.get_parts(LineString(ends).intersection(shape))
    crossed = [(float(p.x), float(p.y)) for p in met if isinstance(p, Dot)]
    return min(crossed, key=lambda p: math.dist(p, drawn), default=best)
