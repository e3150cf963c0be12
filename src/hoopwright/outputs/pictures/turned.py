"""The item when all is done: turned right side out and closed, seen from both sides.

It is drawn from the stack of cloth that the handwork of the assembly leaves, laid flat as it lay in the hoop and cut off at
the seams, where the allowances roll inwards.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.columns import Shown, visible
from hoopwright.cloth.course import Course, courses_of
from hoopwright.cloth.item_outside import RIM, looked_at
from hoopwright.cloth.placing import mirror
from hoopwright.cloth.shapes import Stack
from hoopwright.core.types import Mm, Mm2
from hoopwright.items.plan import Plan
from hoopwright.operations.vocabulary import IN_SIGHT, Face, Side, Turn
from hoopwright.outputs.drawing.geometry import areas, lines
from hoopwright.outputs.drawing.shapes import Area, Drawing, Line, Shape
from hoopwright.outputs.pictures.inks import INK, WHITE, cloth_paint, thread_paint
from hoopwright.outputs.pictures.laid_panels import laid_panel
from hoopwright.outputs.pictures.scene import Lying
from hoopwright.outputs.pictures.signs import cloth_up
from hoopwright.outputs.pictures.steps import cloth_shapes

AROUND: Final[Mm] = 6.0
"""Paper shown round the work, mm."""

WRONG: Final[Mm2] = 3.0
"""A side that shows more of a wrong side or of the foundation is not drawn as finished, mm2."""


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """What shows of the finished work from one side: each sheet with its region, cut off at the seams.

    ``stack`` is the cloth without what hangs out of a seam: that is ``hanging``, by cloth and region beyond the seam.
    """

    stack: Stack
    side: Side
    parts: tuple[tuple[Shown, BaseGeometry], ...]
    hanging: tuple[tuple[str, BaseGeometry], ...]


def turned_drawings(plan: Plan) -> tuple[tuple[str, Drawing], ...]:
    """Return (name, drawing) of the turned item from the front and from the back; nothing without a turning.

    Nothing either where the handwork cannot be carried out to its end, where a wrong side shows, or where no patchwork does.
    """
    course = next((c for c in reversed(courses_of(plan)) if c.last), None)
    if course is None or course.undone or not any(isinstance(h, Turn) for h in plan.making.assembly):
        return ()
    area = looked_at(course, course.look).buffer(RIM)
    seen = [_seen(course, side, area) for side in Side]
    if area.is_empty or any(not _finished(course, s) for s in seen):
        return ()
    if not all(_known(plan, course, s) for s in seen) or not any(_pieced(plan, s)[0] for s in seen):
        return ()
    front = max(seen, key=lambda s: _pieced(plan, s))
    back = next(s for s in seen if s is not front)
    drawn = (("front", front), ("back", back))
    return tuple((f"{course.hooping.key}-turned-{name}", _drawing(plan, course, s, name)) for name, s in drawn)


def _seen(course: Course, side: Side, area: BaseGeometry) -> Seen:
    out = _hanging(course, area)
    stack = replace(course.end, layers=tuple(p for p in course.end.layers if p.sheet not in out))
    rows = [(s, shapely.intersection(s.region, area)) for s in visible(stack, side)]
    hanging = tuple((course.end.of(sheet)[0].cloth, region) for sheet, region in out.items())
    return Seen(stack, side, tuple((s, region) for s, region in rows if region.area > 0.0), hanging)


def _hanging(course: Course, area: BaseGeometry) -> dict[str, BaseGeometry]:
    """Return where ribbons and straps lie that come out of one straight stretch of the seam: mirrored over it, outwards."""
    found: dict[str, BaseGeometry] = {}
    for sheet in course.end.sheets:
        layers = course.end.of(sheet)
        cloth = shapely.union_all([p.region for p in layers])
        ends = shapely.line_merge(shapely.intersection(area.boundary, cloth))
        if course.kind(layers[0]) == "ribbon" and isinstance(ends, LineString) and not ends.is_empty:
            (ax, ay), (bx, by) = ends.coords[0], ends.coords[-1]
            found[sheet] = mirror((ax, ay), (bx, by)).shape(shapely.intersection(cloth, area))
    return found


def _finished(course: Course, seen: Seen) -> bool:
    layers = seen.stack.layers
    wrong = sum(
        region.area
        for s, region in seen.parts
        if layers[s.layer].foundation or not (s.right or course.is_finished(s.sheet))
    )
    return bool(seen.parts) and wrong <= WRONG


def _known(plan: Plan, course: Course, seen: Seen) -> bool:
    """Whether it is known of every pieced panel that shows how its patches lie."""
    panels = {p.key for p in plan.panels}
    shown = {s.sheet for s, _ in seen.parts if s.sheet in panels and s.right}
    return all(laid_panel(plan, course.hooping, sheet) is not None for sheet in shown)


def _pieced(plan: Plan, seen: Seen) -> tuple[float, bool]:
    """Return how much patchwork shows, so that the side with more of it is the front."""
    names = {p.key for p in plan.panels} | {p.label for panel in plan.panels for p in panel.patches}
    return sum(region.area for s, region in seen.parts if s.sheet in names), seen.side is Side.TOP


def _drawing(plan: Plan, course: Course, seen: Seen, name: str) -> Drawing:
    shapes = [shape for s, region in seen.parts for shape in _sheet(plan, course, seen, s, region)]
    shapes += _stitches(plan, course, seen)
    shapes += [s for cloth, region in seen.hanging for s in cloth_up(region, cloth_paint(plan, cloth))]
    whole = shapely.union_all([region for _, region in seen.parts])
    shapes += areas(whole, None, INK, 0.5)
    left, low, right, high = shapely.union_all([whole, *(region for _, region in seen.hanging)]).bounds
    # The underside is seen after turning the work over like a page, so left and right change places.
    under = seen.side is Side.UNDER
    drawn = tuple(_mirrored(s) for s in shapes) if under else tuple(shapes)
    left, right = (-right, -left) if under else (left, right)
    extent = (left - AROUND, low - AROUND, right + AROUND, high + AROUND)
    title = f"{course.hooping.title}, turned, seen from the {name}"
    return Drawing(extent, drawn, title, "The work turned right side out, pressed and closed, laid flat.", WHITE)


def _sheet(plan: Plan, course: Course, seen: Seen, shown: Shown, region: BaseGeometry) -> tuple[Shape, ...]:
    layer = seen.stack.layers[shown.layer]
    face = Face.UP if shown.right else Face.DOWN
    lying = Lying(layer.sheet, layer.cloth, region, face, 0, region, False, (), layer.placing)
    return cloth_shapes(plan, course.hooping, lying)


def _stitches(plan: Plan, course: Course, seen: Seen) -> tuple[Shape, ...]:
    """Return the stitches in sight, where the sheets that they go through show."""
    layers, threads = seen.stack.layers, {s.index: s.stitch.thread for s in course.hooping.steps}
    found: list[Shape] = []
    for join in course.end.joins:
        if join.role not in IN_SIGHT or join.step not in threads:
            continue
        rows = [
            (held.line, region)
            for held in join.held
            for s, region in seen.parts
            if held.sheet == s.sheet and held.placing.like(layers[s.layer].placing)
        ]
        line, where = (shapely.union_all([row[k] for row in rows]) for k in (0, 1))
        found += lines(shapely.intersection(line, where), thread_paint(plan, threads[join.step]), 0.4)
    return tuple(found)


def _mirrored(shape: Shape) -> Shape:
    """Return a shape with left and right exchanged."""
    if isinstance(shape, Area):
        return replace(shape, rings=tuple(tuple((-x, y) for x, y in ring) for ring in shape.rings))
    if isinstance(shape, Line):
        return replace(shape, points=tuple((-x, y) for x, y in shape.points))
    return shape
