"""How a block of stitches looks in a picture: sewn now, and sewn before."""

from __future__ import annotations

import math
from typing import TypeGuard

import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from hoopwright.core.tolerances import FLAT
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import IN_SIGHT, EdgeStyle, HandWork, OrnamentStyle, Role, Turn
from hoopwright.outputs.drawing.geometry import areas, lines
from hoopwright.outputs.drawing.shapes import Paint, Shape
from hoopwright.outputs.pictures.inks import FAINT, INK, WHITE, lightness, thread_paint
from hoopwright.outputs.pictures.lace import lace
from hoopwright.outputs.pictures.signs import ornament_now, sewn_before, sewn_now
from hoopwright.outputs.pictures.symbols import seam_tag

POINT_BY_POINT = frozenset({Role.LAYOUT, Role.ORNAMENT, Role.PLACED, Role.ACCENT})
"""Blocks drawn from their needle positions; the others from their paths."""
IN_THREAD = IN_SIGHT | {Role.ACCENT}
"""Blocks drawn in their thread's colour, also when they were sewn before."""
DRAWN_FINE = IN_THREAD - {Role.TOPSTITCH}
"""Blocks whose lines are drawn as thread while they are sewn, for there are many of them."""
SHOWN_THREAD = 5
"""Of the needle positions of a column of satin one in so many is drawn; odd, so that the thread crosses over and back."""
TAG = 3.6
"""Room that a seam's tag takes, from its middle, mm."""


def before(plan: Plan, step: Step) -> tuple[Shape, ...]:
    """Return a block sewn before."""
    if isinstance(step.stitch.style, EdgeStyle):
        return satin(step, step.stitch.style, thread_paint(plan, step.stitch.thread))
    if step.stitch.role is Role.ACCENT:
        return lace(paths(step), thread_paint(plan, step.stitch.thread))
    if step.stitch.role in IN_THREAD:
        return lines(paths(step), thread_paint(plan, step.stitch.thread), 0.4)
    if step.stitch.role is Role.LAYOUT:
        return lines(paths(step), FAINT, 0.3)
    return sewn_before(paths(step))


def now(plan: Plan, step: Step) -> tuple[Shape, ...]:
    """Return the block that is sewn now."""
    colour = thread_paint(plan, step.stitch.thread)
    if isinstance(step.stitch.style, EdgeStyle):
        rims = areas(column(step, step.stitch.style), None, WHITE, 1.2)
        return (*rims, *satin(step, step.stitch.style, colour))
    if step.stitch.role is Role.ACCENT:
        return lace(paths(step), colour)
    if step.stitch.role in DRAWN_FINE:
        return ornament_now(paths(step), colour)
    if step.stitch.role is Role.LAYOUT:
        return lines(paths(step), colour if lightness(colour) < 0.6 else INK, 0.5)
    return sewn_now(paths(step), colour)


def column(step: Step, style: EdgeStyle) -> BaseGeometry:
    """Return the area that a column of satin covers."""
    return shapely.union_all([p.buffer(style.width / 2.0, join_style="mitre") for p in step.stitch.paths])


def satin(step: Step, style: EdgeStyle, colour: Paint) -> tuple[Shape, ...]:
    """Return a column of satin: its area, with a thread drawn here and there for the many."""
    sheen = INK if lightness(colour) > 0.5 else WHITE
    threads = [LineString(run.points[::SHOWN_THREAD]) for run in step.runs if run.count > SHOWN_THREAD]
    return (*areas(column(step, style), colour), *lines(threads, sheen, 0.12))


def paths(step: Step) -> list[LineString]:
    """Return what a block sews: its needle positions, or the smooth paths of a plain line."""
    if step.stitch.role in POINT_BY_POINT or not step.stitch.paths:
        return [LineString(r.points) for r in step.runs if r.count > 1]
    return [p for path in step.stitch.paths for p in shapely.get_parts(shapely.simplify(path, 0.02)).tolist()]


def decorates(step: Step | None) -> TypeGuard[Step]:
    """Whether a block is a seam stitch."""
    return step is not None and step.stitch.role is Role.ORNAMENT


def tag(step: Step, grow: float) -> tuple[Shape, ...]:
    """Return the seam number of a block of seam stitches that is sewn now, ``grow`` times as large as usual."""
    return (
        seam_tag(str(step.stitch.seam), tag_place(step, grow), strong=True, grow=grow)
        if step.stitch.seam is not None
        else ()
    )


def tag_place(step: Step, grow: float) -> tuple[float, float]:
    """Return a place beside the middle of the block's path, clear of its stitches."""
    style, path = step.stitch.style, step.stitch.paths[0]
    (ax, ay), (bx, by) = path.coords[0], path.coords[-1]
    length = math.dist((ax, ay), (bx, by)) or 1.0
    aside = (0.5 * style.width if isinstance(style, OrnamentStyle) else 0.0) + grow * TAG
    middle = path.interpolate(0.5, normalized=True)
    return middle.x - (by - ay) / length * aside, middle.y + (bx - ax) / length * aside


def placement_lines(hooping: Hooping, index: int, pieces: set[str]) -> list[LineString]:
    """Return the placement lines sewn before step ``index`` for these pieces."""
    return [
        p
        for s in hooping.steps[: index - 1]
        if s.stitch.role is Role.PLACEMENT and s.stitch.piece in pieces
        for p in paths(s)
    ]


def gap_of(plan: Plan, hooping: Hooping, step: Step | None) -> LineString | None:
    """Return the stretch that a closing seam leaves open; None for other blocks and for a seam without a gap."""
    if step is None or step.stitch.role is not Role.CLOSING:
        return None
    seam = shapely.union_all(list(step.stitch.paths))
    last = plan.hoopings[-1] is hooping
    work: tuple[HandWork, ...] = (*hooping.after, *(plan.making.assembly if last else ()))
    for hand in work:
        if isinstance(hand, Turn) and _left_open(hand.line, seam):
            return hand.line
    return None


def _left_open(gap: LineString, seam: shapely.Geometry) -> bool:
    """Whether a line runs from one end of a seam to another along a stretch that is not sewn."""
    ends = [shapely.Point(gap.coords[0]), shapely.Point(gap.coords[-1])]
    middle = gap.interpolate(0.5, normalized=True)
    return all(e.distance(seam) <= 2 * FLAT for e in ends) and middle.distance(seam) > FLAT
