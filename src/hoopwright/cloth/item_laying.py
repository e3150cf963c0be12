"""Proofs of how pieces lie while seams are sewn: inside the hoop, clear of other seams, held when they hang below."""

from __future__ import annotations

import math
from typing import Final

import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.course import Course
from hoopwright.cloth.replay import ROUND_FIELD
from hoopwright.cloth.shapes import Join, Layer, Stack, united
from hoopwright.core.findings import Finding, Severity
from hoopwright.core.tolerances import FLAT, MERGE
from hoopwright.core.types import Mm
from hoopwright.needle.shapes import Step
from hoopwright.operations.vocabulary import Lay, Role, Side

HOLD_BELOW: Final[Mm] = 10.0
"""A piece under the hoop needs a line at least this long to hold it, mm (from memory)."""

FROM_END: Final[Mm] = 4.0
"""A strap may be caught this much further from its end than an allowance, mm (from memory)."""

AT_FOLD: Final[Mm] = 1.5
"""A needle this near to a fold may catch it, mm: how exactly hands lay, from memory."""

CROSSING: Final[Mm] = 8.0
"""A seam that stays at a fold for longer does not only cross it, mm."""

FOLD_CLEAR: Final[Mm] = 4.5
"""A finished edge stays at least this far from a seam beside it that it does not belong to, mm (half a foot's width, from memory)."""


def fits_the_hoop(course: Course) -> tuple[Finding, ...]:
    """HW566: a piece is larger than what fits between the hoop's sides; warns of soft cloth, which can be rolled up."""
    width, height = (side / 2.0 + ROUND_FIELD + MERGE for side in course.plan.field)
    room, found = shapely.box(-width, -height, width, height), []
    stacks = dict(zip((s.index for s in course.hooping.steps), course.stacks, strict=True))
    for step, hand in course.lays():
        lying = united(p.region for p in stacks[step.index].of(hand.piece))
        if not room.covers(lying):
            message = f"{course.name(hand.piece)} does not fit between the sides of the hoop as it is laid"
            over = shapely.difference(lying, room)
            if _soft(course, hand):
                cure = "Roll its far end up and tape it clear of the needle, or choose a larger hoop."
                found.append(course.finding("HW566", message, cure, at=over, step=step, severity=Severity.WARNS))
            else:
                found.append(
                    course.finding("HW566", message, "Cut it shorter, or choose a larger hoop.", at=over, step=step)
                )
    return tuple(found)


def _soft(course: Course, hand: Lay) -> bool:
    cloth = course.plan.project.cloths.get(hand.cloth)
    return cloth is None or cloth.kind != "stiffener"


def caught_at_its_ends_only(course: Course) -> tuple[Finding, ...]:
    """HW567: a strap or ribbon lies across a seam, which catches its length and not only its ends."""
    found = []
    for step, stack in course.sewn():
        if step.stitch.role in (Role.CLOSING, Role.BASTE, Role.SEAM):
            held = {h.sheet for h in stack.joins[-1].held}
            loose = {p.sheet for p in stack.layers if course.is_finished(p.sheet) and course.kind(p) != "zip"}
            found += [f for sheet in sorted(held & loose) for f in _along_its_length(course, step, stack, sheet)]
    return tuple(found)


def _along_its_length(course: Course, step: Step, stack: Stack, sheet: str) -> tuple[Finding, ...]:
    own = united(p.placing.undone().shape(p.region) for p in stack.of(sheet))
    ends = shapely.buffer(_short_sides(own), course.allowance + FROM_END, cap_style="flat")
    rows = [h for h in stack.joins[-1].held if h.sheet == sheet]
    stray = [h.line for h in rows if shapely.difference(h.own_line, ends).length > FLAT]
    if not stray:
        return ()
    message = f"“{step.stitch.title}” catches {course.name(sheet)} in its length, not only at its ends"
    cure = "Fold it back over itself and tape it down clear of the seam, or make it shorter."
    return (course.finding("HW567", message, cure, at=shapely.union_all(stray), step=step),)


def _short_sides(region: BaseGeometry) -> BaseGeometry:
    around = shapely.get_coordinates(region.minimum_rotated_rectangle).tolist()
    sides = sorted((LineString(around[i : i + 2]) for i in range(4)), key=lambda s: s.length)
    return shapely.union_all(sides[:2])


def folds_stay_free(course: Course) -> tuple[Finding, ...]:
    """HW568: a closing seam runs along a fold. HW569: a finished edge lies too near beside a seam it does not belong to."""
    found: dict[str, Finding] = {}
    for step, stack in course.sewn():
        if step.stitch.role is Role.CLOSING:
            for layer in stack.layers:
                if (
                    layer.folds
                    and not layer.foundation
                    and layer.sheet not in found
                    and not course.is_finished(layer.sheet)
                ):
                    told = _fold_caught(course, step, stack, layer) or _fold_beside(course, step, stack, layer)
                    if told is not None:
                        found[layer.sheet] = told
    return tuple(found.values())


def _fold_caught(course: Course, step: Step, stack: Stack, layer: Layer) -> Finding | None:
    join = stack.joins[-1]
    held = shapely.union_all([h.line for h in join.held if h.sheet == layer.sheet])
    for fold in layer.folds:
        near = fold.buffer(AT_FOLD, cap_style="flat")
        along = shapely.intersection(held, near)
        if along.length > CROSSING and along.length > 0.2 * fold.length and not _is_its_seam(stack, layer, fold):
            message = f"The fold of {course.name(layer.sheet)} lies in “{step.stitch.title}”, so that its open edge is sewn shut"
            cure = "Lay it with its fold clear of this seam and its raw edges past it."
            return course.finding("HW568", message, cure, at=along, step=step)
    return None


def _is_its_seam(stack: Stack, layer: Layer, fold: LineString) -> bool:
    """Whether a sheet was flipped over this fold because a seam lies in it."""
    near = fold.buffer(AT_FOLD)
    return any(
        join.role in (Role.SEAM, Role.TACK)
        and shapely.intersection(_line_of(join, layer.sheet), near).length > fold.length / 2.0
        for join in stack.joins[:-1]
    )


def _line_of(join: Join, sheet: str) -> BaseGeometry:
    return shapely.union_all([h.line for h in join.held if h.sheet == sheet])


def _fold_beside(course: Course, step: Step, stack: Stack, layer: Layer) -> Finding | None:
    """Return the fault of a fold beside a seam of the item; what pieces a panel lies below and does not matter."""
    if not any(h.sheet == layer.sheet for h in stack.joins[-1].held):
        return None
    for fold in layer.folds:
        near = fold.buffer(FOLD_CLEAR - MERGE, cap_style="flat")
        for join in (j for j in stack.joins if j.step is None or j.step > course.first):
            if (
                join.role not in (Role.SEAM, Role.CLOSING)
                or join.path.disjoint(near)
                or _is_its_seam(stack, layer, fold)
            ):
                continue
            along = shapely.difference(shapely.intersection(join.path, near), shapely.union_all(_ends(fold)))
            if along.length > fold.length / 2.0:
                away = along.distance(fold)
                message = f"The finished edge of {course.name(layer.sheet)} lies only {course.length(away)} from “{join.name}”"
                cure = f"Keep it at least {course.length(math.ceil(FOLD_CLEAR))} away, so that what is sewn there can fold over it."
                return course.finding("HW569", message, cure, at=along, step=step)
    return None


def _ends(fold: LineString) -> list[BaseGeometry]:
    return [shapely.Point(c).buffer(AT_FOLD) for c in (fold.coords[0], fold.coords[-1])]


def held_below(course: Course) -> tuple[Finding, ...]:
    """HW570: a piece under the hoop is not held by the next block, so that it falls or shifts."""
    stacks = dict(zip((s.index for s in course.hooping.steps), course.stacks, strict=True))
    found = []
    for step, hand in course.lays():
        if hand.side is Side.UNDER and stacks[step.index].joins[-1].length_of(hand.piece) < HOLD_BELOW:
            message = f"{course.name(hand.piece)} lies under the hoop, and “{step.stitch.title}” does not hold it"
            cure = "Lay it at the halt before a block that catches it."
            found.append(course.finding("HW570", message, cure, at=hand.pose, step=step))
    return tuple(found)
