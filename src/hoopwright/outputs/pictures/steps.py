"""The picture of one halt: what lies, what hands do now, what is sewn then."""

from __future__ import annotations

import math
from collections.abc import Iterable

import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Point
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import Face, Flip, HandWork, Lay, Role
from hoopwright.outputs.drawing.geometry import areas, hatches, lines
from hoopwright.outputs.drawing.shapes import Drawing, Line, Shape
from hoopwright.outputs.drawing.svg import to_svg
from hoopwright.outputs.pictures.frame import extent_of, stage
from hoopwright.outputs.pictures.inks import (
    CUT,
    FAINT,
    INK,
    WHITE,
    cloth_paint,
    edge_of,
    lightness,
    mix,
    thread_paint,
    wrong_side,
)
from hoopwright.outputs.pictures.lying import Lying, Removed, halts, lying, removed
from hoopwright.outputs.pictures.symbols import flip_arrow, number_disc, scissors

POINT_BY_POINT = frozenset({Role.LAYOUT, Role.ORNAMENT})
"""Blocks drawn from their needle positions; the others from their paths."""


def step_svg(plan: Plan, hooping: Hooping, index: int) -> str:
    """Return the picture of one halt as SVG, true to size."""
    return to_svg(step_drawing(plan, hooping, index))


def step_drawing(plan: Plan, hooping: Hooping, index: int) -> Drawing:
    """Return the picture of step ``index`` (from 1); one more than the last is the work when all is sewn.

    Raises IndexError for a step the hooping does not have.
    """
    if not 1 <= index <= len(hooping.steps) + 1:
        raise IndexError(
            f"hooping {hooping.key} has steps 1 to {len(hooping.steps)}, and one more for its end: {index}"
        )
    hands = dict(halts(hooping))[index]
    step = hooping.steps[index - 1] if index <= len(hooping.steps) else None
    cuts = tuple(r for r in removed(hooping, index) if r.index == index)
    extent = extent_of(plan, hooping)
    shapes = (
        *stage(plan, extent),
        *_work(plan, hooping, index),
        *(s for r in cuts for s in _cut_away(r)),
        *_raw_edges(hands),
        *(_now(plan, step) if step else ()),
        *(s for h in hands if isinstance(h, Flip) for s in _flip(h)),
        *(s for r in cuts for s in _snips(r)),
        *_numbers(hooping, index, hands),
    )
    return Drawing(extent, shapes, _title(hooping, index, step), _description(hands, step), WHITE)


def _title(hooping: Hooping, index: int, step: Step | None) -> str:
    return f"{hooping.title}, step {index}: {step.stitch.title}" if step else f"{hooping.title}, when all is sewn"


def _description(hands: tuple[HandWork, ...], step: Step | None) -> str:
    sentences = [h.sentence for h in hands] + ([step.stitch.sentence] if step else [])
    return " ".join(sentences)


def _work(plan: Plan, hooping: Hooping, index: int) -> tuple[Shape, ...]:
    """Return cloths and earlier stitches in the order in which they came to lie."""
    pieces = lying(hooping, index)
    shapes: list[Shape] = []
    for step in (*hooping.steps[: index - 1], None):
        now = step.index if step else index
        for piece in pieces:
            if piece.since == now:
                shapes += _cloth(plan, piece)
        if step:
            shapes += _sewn(plan, step)
    return tuple(shapes)


def _cloth(plan: Plan, piece: Lying) -> tuple[Shape, ...]:
    colour = cloth_paint(plan, piece.cloth)
    if piece.face is Face.UP:
        return areas(piece.outline, colour, edge_of(colour), 0.3)
    pale = wrong_side(colour)
    return (
        *areas(piece.outline, pale),
        *hatches(
            piece.outline,
            mix(colour, INK, 0.25) if lightness(colour) > 0.6 else mix(colour, WHITE, 0.25),
            0.2,
            2.2,
            45.0,
        ),
        *areas(piece.outline, None, edge_of(colour), 0.45),
    )


def _sewn(plan: Plan, step: Step) -> Iterable[Shape]:
    """Return a block sewn before, thin."""
    if step.stitch.role is Role.ORNAMENT:
        return lines(_paths(step), thread_paint(plan, step.stitch.thread), 0.4)
    if step.stitch.role is Role.LAYOUT:
        return lines(_paths(step), FAINT, 0.3)
    return lines(_paths(step), FAINT, 0.3, (1.4, 0.8))


def _paths(step: Step) -> list[LineString]:
    """Return what a block sews: its needle positions, or the smooth paths of a plain line."""
    if step.stitch.role in POINT_BY_POINT or not step.stitch.paths:
        return [LineString(r.points) for r in step.runs if r.count > 1]
    return [p for path in step.stitch.paths for p in shapely.get_parts(shapely.simplify(path, 0.02)).tolist()]


def _now(plan: Plan, step: Step) -> tuple[Shape, ...]:
    """Return the block that is sewn now, strong: the thread's colour in a dark casing."""
    colour = thread_paint(plan, step.stitch.thread)
    paths = _paths(step)
    if step.stitch.role is Role.ORNAMENT:
        casing = INK if lightness(colour) > 0.5 else WHITE
        return (*lines(paths, casing, 1.1), *lines(paths, colour, 0.6))
    if step.stitch.role is Role.LAYOUT:
        return lines(paths, colour if lightness(colour) < 0.6 else INK, 0.5)
    casing = INK if lightness(colour) > 0.45 else colour
    return (*lines(paths, WHITE, 1.9), *lines(paths, casing, 1.3), *_dashes(paths, colour, casing))


def _dashes(paths: list[LineString], colour: str, casing: str) -> tuple[Line, ...]:
    return lines(paths, WHITE if colour == casing else colour, 0.7, (2.6, 1.2))


def _raw_edges(hands: tuple[HandWork, ...]) -> tuple[Shape, ...]:
    """Return the raw edges of the pieces laid now: a thick line with short ticks into the cloth."""
    shapes: list[Shape] = []
    for hand in hands:
        if isinstance(hand, Lay) and hand.raw_edge is not None:
            shapes += [Line(hand.raw_edge, WHITE, 1.6), Line(hand.raw_edge, INK, 0.9)]
    return tuple(shapes)


def _cut_away(cut: Removed) -> tuple[Shape, ...]:
    return (
        *areas(cut.region, WHITE, None, opacity=0.55),
        *hatches(cut.region, CUT, 0.3, 1.6, -45.0),
        *hatches(cut.region, CUT, 0.3, 1.6, 45.0),
        *areas(cut.region, None, CUT, 0.5),
    )


def _snips(cut: Removed) -> tuple[Shape, ...]:
    """Return scissors on the longest stretch of the cutting line."""
    parts = [p for p in shapely.get_parts(cut.line).tolist() if isinstance(p, LineString) and p.length > 0.0]
    if not parts:
        return ()
    way = max(parts, key=lambda p: p.length)
    a, b = way.interpolate(0.3, normalized=True), way.interpolate(0.32, normalized=True)
    return scissors((a.x, a.y), math.degrees(math.atan2(b.y - a.y, b.x - a.x)), 9.0)


def _flip(flip: Flip) -> tuple[Shape, ...]:
    """Return the arrow across the seam, from where the piece lay to where it lies."""
    (ax, ay), (bx, by) = flip.line
    middle, length = ((ax + bx) / 2, (ay + by) / 2), math.dist(*flip.line)
    nx, ny = -(by - ay) / length, (bx - ax) / length
    centre = flip.pose.centroid
    if (centre.x - middle[0]) * nx + (centre.y - middle[1]) * ny < 0:
        nx, ny = -nx, -ny
    reach = min(max(0.35 * length, 7.0), 13.0)
    start = (middle[0] - nx * 0.8 * reach, middle[1] - ny * 0.8 * reach)
    return flip_arrow(start, (middle[0] + nx * reach, middle[1] + ny * reach))


def _numbers(hooping: Hooping, index: int, hands: tuple[HandWork, ...]) -> tuple[Shape, ...]:
    """Return the number of each piece in the middle of what shows of it; those laid now are strong."""
    fresh = {h.piece for h in hands if isinstance(h, Lay)}
    shapes: list[Shape] = []
    over: BaseGeometry = shapely.Polygon()
    for piece in reversed(lying(hooping, index)):
        shows = shapely.difference(piece.outline, over)
        over = shapely.union_all([over, piece.outline])
        if shows.area > 60.0:
            shapes += number_disc(piece.piece, _spot(shows), strong=piece.piece in fresh)
    return tuple(shapes)


def _spot(region: BaseGeometry) -> Point:
    """Return the place in ``region`` that is farthest from its edges, to half a millimetre."""
    largest = max(shapely.get_parts(region).tolist(), key=lambda p: p.area)
    place = shapely.maximum_inscribed_circle(largest, tolerance=0.5)
    x, y = shapely.get_coordinates(place)[0].tolist()
    return float(x), float(y)
