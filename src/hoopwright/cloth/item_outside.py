"""Proofs of how the finished work looks: right sides outside and inside, no cut edge open, everything where it belongs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.columns import columns, visible
from hoopwright.cloth.course import Course
from hoopwright.cloth.edges import bound_by, raw_edges
from hoopwright.cloth.shapes import Layer, Region, Stack, united
from hoopwright.cloth.trial import worth_mention
from hoopwright.core.findings import Finding
from hoopwright.core.types import Mm, Mm2
from hoopwright.items.recipe import Look
from hoopwright.operations.vocabulary import Role, Side

RIM: Final[Mm] = 1.5
"""This near to the seam nothing is looked at, mm: allowances roll over the edge there."""

LEAST_SHOWN: Final[Mm2] = 100.0
"""A piece of which less shows is hidden, mm2; of small pieces a quarter is enough (from memory)."""

LEAST_FACE: Final[Mm2] = 3.0
"""Wrong sides of less area do not show, mm2: half a stitch wide, a few stitches long."""

LEAST_EDGE: Final[Mm] = 2.0
"""Cut edges shorter than this are corners, mm (from memory)."""


NEAR_EDGE: Final[Mm] = 10.0
"""Cut edges this near to a satin edge are those it should close over, mm."""


@dataclass(frozen=True, slots=True, eq=False)
class View:
    """The work, or a wall of it lifted apart, seen from one side; ``inside`` when that side lies inside the work."""

    stack: Stack
    side: Side
    area: BaseGeometry
    inside: bool = False

    @property
    def words(self) -> str:
        """From where it is seen."""
        return "inside" if self.inside else "on the upper side" if self.side is Side.TOP else "on the underside"


def looks_right(course: Course) -> tuple[Finding, ...]:
    """HW555 to HW560: what shows that should not, and what should show and does not."""
    look = course.look
    found = [f for view in _views(course, look) for f in (*_faces(course, view), *_edges(course, view))]
    return (*_once(found), *(_lost(course, look) if look is not None else ()))


def _once(found: list[Finding]) -> Iterator[Finding]:
    """Yield the findings, what is told about the same place and sheet only the first time."""
    seen: set[tuple[object, ...]] = set()
    for f in found:
        key = (f.message.rsplit(" shows ", 1)[0].rsplit(" lies ", 1)[0], f.where.point, f.code in ("HW556", "HW560"))
        if key not in seen:
            seen.add(key)
            yield f


def _views(course: Course, look: Look | None) -> Iterator[View]:
    area = looked_at(course, look)
    if area.is_empty:
        return
    for side in Side:
        yield View(course.end, side, area)
    for wall in look.walls if look is not None else ():
        numbers = [i for i, p in enumerate(course.end.layers) if p.sheet in wall]
        if numbers:
            part = replace(course.end, layers=course.end.layers[min(numbers) : max(numbers) + 1])
            for side in Side:
                yield View(part, side, area, inside=True)


def looked_at(course: Course, look: Look | None) -> Region:
    """Return the area inside the seams less its rim; empty for work that is not turned and of which nothing is promised."""
    if look is not None:
        area: BaseGeometry = look.area
    elif course.turnings and not course.undone:
        area = _inside_of_seams(course)
    else:
        area = shapely.Polygon()
    return united([area.buffer(-RIM)])


def _inside_of_seams(course: Course) -> BaseGeometry:
    lines = [p for step, _ in course.sewn() if step.stitch.role is Role.CLOSING for p in step.stitch.paths]
    net = shapely.union_all([*lines, *(t.turn.line for t in course.turnings)]).buffer(RIM)
    return shapely.union_all([shapely.Polygon(r) for p in shapely.get_parts(net) for r in p.interiors]).buffer(RIM)


def _faces(course: Course, view: View) -> Iterator[Finding]:
    for shown in visible(view.stack, view.side, columns(view.stack)):
        layer = view.stack.layers[shown.layer]
        satin = [bound_by(j, layer) for j in view.stack.joins if j.binds > 0.0]
        bare = shapely.difference(shown.region, shapely.union_all(satin)) if satin else shown.region
        region = worth_mention(shapely.intersection(bare, view.area))
        if region.area < LEAST_FACE:
            continue
        if layer.foundation or course.kind(layer) == "stiffener":
            yield _hidden_shows(course, view, layer, region)
        elif not shown.right and not (view.inside and course.kind(layer) == "zip"):
            yield _wrong_side(course, view, layer, region)


def _hidden_shows(course: Course, view: View, layer: Layer, region: Region) -> Finding:
    name = "the foundation" if layer.foundation else course.name(layer.sheet)
    message = f"{name} shows {view.words} of the finished work, over {region.area:.0f} mm², where cloth should cover it"
    return course.finding("HW557", message, "Lay the cloth that covers it so that its parts overlap there.", at=region)


def _wrong_side(course: Course, view: View, layer: Layer, region: Region) -> Finding:
    message = f"{course.name(layer.sheet)} shows its wrong side {view.words} of the finished work"
    laid = next((lay for _, lay in course.lays() if lay.piece == layer.sheet), None)
    way = "" if laid is None else f" (it is laid right side {laid.face} now)"
    cure = f"Lay it the other way up{way}."
    return course.finding("HW559" if view.inside else "HW555", message, cure, at=region)


def _edges(course: Course, view: View) -> Iterator[Finding]:
    for edge in raw_edges(view.stack, view.area):
        layer = view.stack.layers[edge.layer]
        line = edge.open_above if view.side is Side.TOP else edge.open_below
        neat = course.is_finished(edge.sheet) or course.kind(layer) in ("ribbon", "zip", "stiffener")
        if neat or line.length < LEAST_EDGE:
            continue
        message = f"A cut edge of {course.name(edge.sheet)} lies open {view.words} of the finished work, over {course.length(line.length)}"
        cure = "Let a seam, a fold or another piece cover it: see how it is laid and where it is cut."
        yield course.finding("HW560" if view.inside else "HW556", message, cure, at=line)


def edges_are_bound(course: Course) -> tuple[Finding, ...]:
    """HW561: a satin edge is sewn beside the cut edge it should close over."""
    steps = [step for step, _ in course.sewn() if step.stitch.role is Role.EDGE]
    if not steps:
        return ()
    stack = course.stacks[steps[-1].index - 1]
    open_edges = [
        shapely.intersection(line, shapely.union_all(list(steps[-1].stitch.paths)).buffer(NEAR_EDGE))
        for e in raw_edges(stack)
        for line in (e.open_above, e.open_below)
    ]
    line = shapely.union_all(open_edges)
    if line.length < LEAST_EDGE:
        return ()
    message = f"The satin edge passes beside the cut edge, which stays open over {course.length(line.length)}"
    cure = "Trim the cloth where the line shows, and sew the satin over the cut edge."
    return (course.finding("HW561", message, cure, at=line, step=steps[-1]),)


def _lost(course: Course, look: Look) -> Iterator[Finding]:
    """HW558: a piece does not show on the side where it should."""
    area = looked_at(course, look)
    for side, names in ((Side.TOP, look.top), (Side.UNDER, look.underside)):
        shown = visible(course.end, side, columns(course.end)) if names else ()
        for sheet in names:
            region = united(s.region for s in shown if s.sheet == sheet)
            piece = course.piece(sheet)
            least = LEAST_SHOWN if piece is None else min(LEAST_SHOWN, piece.cut.area / 4.0)
            if shapely.intersection(region, area).area < least:
                where = "on the upper side" if side is Side.TOP else "on the underside"
                message = f"{course.name(sheet)} does not show {where} of the finished work, where it should"
                cure = "Lay it in its turn between the pieces it comes out from, with its free part inwards."
                yield course.finding("HW558", message, cure, at=look.area)
