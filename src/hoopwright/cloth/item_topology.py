"""Proofs that the sewn work is the surface its recipe promises, and one that hands can turn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import shapely
from shapely.geometry import LineString

from hoopwright.cloth.course import Course, Turning, in_one
from hoopwright.cloth.placing import AS_LAID, Placing
from hoopwright.cloth.shapes import Held, Join, Layer, Stack
from hoopwright.cloth.topology import Topology, before_and_after
from hoopwright.cloth.turning import Opening
from hoopwright.core.errors import GeometryError
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MERGE
from hoopwright.items.recipe import HandSeam, Promise
from hoopwright.operations.vocabulary import Close, Role

SEWN = frozenset({Role.SEAM, Role.CLOSING, Role.EDGE})
"""Lines that make the surface, satin over cut edges among them; lines that only hold something down do not."""

FRINGES: Final = 4.0
"""Cloth beyond a seam is an allowance when it is narrower than so many seam allowances: square corners beyond round seams are wide."""

SEWN_BY_HAND: Final = "sewn by hand"
"""Name of a join made after the hoopings."""


def keeps_its_promise(course: Course) -> tuple[Finding, ...]:
    """HW571, HW572: the work is another surface than promised, before or after its openings are closed; HW573, HW574: it
    cannot be turned. Without promised rims nothing is said of turning: a flat work is not turned, and of layers that meet by
    threes parts and Euler number alone are compared.
    """
    promise = course.plan.making.promise
    if promise is None or not promise.shell or not course.last:
        return ()
    try:
        before, after = _before_and_after(course, promise)
    except (GeometryError, ValueError) as error:
        return (course.finding("HW571", f"What is sewn is no surface: {error}", "Sew the seams as the recipe says."),)
    turned = impossible_to_turn(before, course.hooping.key) if promise.rims else ()
    if turned:
        return turned
    told = _differs(
        course, "HW571", before, (promise.parts, promise.rims, promise.euler), "before its openings are closed"
    )
    shut = (promise.parts, promise.closed_rims, promise.closed_euler)
    return (*told, *(() if told else _differs(course, "HW572", after, shut, "when its openings are closed")))


def impossible_to_turn(found: Topology, hooping: str | None = None) -> tuple[Finding, ...]:
    """Return HW573 when nothing is left open to turn a work through, HW574 when closed rings forbid it."""
    where = Where(hooping=hooping)
    if found.loops < found.components:
        message = "The seams leave nothing open: shell and lining are sewn right round, and the work cannot be turned"
        return (
            Finding("HW573", Severity.BLOCKS, message, "Leave an opening in the closing seam or in the lining.", where),
        )
    if found.genus > 0:
        message = (
            f"The seams join shell and lining along {found.genus + 1} separate closed lines, so that no opening helps: to turn it, a "
            "closed ring would have to be pulled through itself"
        )
        cure = "Join them along one of these lines by machine, turn the work, and sew the others by hand."
        return (Finding("HW574", Severity.BLOCKS, message, cure, where),)
    return ()


def _before_and_after(course: Course, promise: Promise) -> tuple[Topology, Topology]:
    """Return what the shell is before the first turning, with all openings, and when those that get closed are."""
    turnings = course.turnings
    stack = with_hand_seams(in_one(course, turnings[0].stack if turnings else course.out), course)
    openings = _openings(course, promise)
    shut = [any(_is_near(c.line, o.path) for c in course.closes) for o in openings]
    return before_and_after(stack, openings, shut, roles=SEWN, sheets=promise.shell, fringe=FRINGES * course.allowance)


def with_hand_seams(stack: Stack, course: Course) -> Stack:
    """Return the work of all hoopings together, with what is sewn by hand afterwards; ``stack`` is that of the last one."""
    seams = course.plan.making.hand_seams
    if not seams:
        return stack
    ends = [in_one(earlier, earlier.out) for earlier in course.before]
    layers = (*(p for end in ends for p in end.layers), *stack.layers)
    joins = (*(j for end in ends for j in end.joins), *stack.joins)
    return replace(stack, layers=layers, joins=(*joins, *(_by_hand(layers, seam) for seam in seams)))


def _by_hand(layers: Sequence[Layer], seam: HandSeam) -> Join:
    """Return the join of a seam by hand; what lay elsewhere in its hoop is shifted to the line."""
    (x, y), (ox, oy) = seam.line.coords[0][:2], seam.other_line.coords[0][:2]
    shift = Placing(1.0, 0.0, 0.0, 1.0, x - ox, y - oy)
    held = (*_along(layers, seam.pieces, seam.line, AS_LAID), *_along(layers, seam.others, seam.other_line, shift))
    return Join(SEWN_BY_HAND, Role.SEAM, None, seam.line, held)


def _along(layers: Sequence[Layer], sheets: tuple[str, ...], line: LineString, shift: Placing) -> tuple[Held, ...]:
    rows = [(p, shapely.intersection(line, p.region)) for p in layers if p.sheet in sheets and not p.foundation]
    return tuple(
        Held(p.sheet, p.face, part.length, shift.shape(part), shift.after(p.placing))
        for p, part in rows
        if part.length > MERGE
    )


def _openings(course: Course, promise: Promise) -> list[Opening]:
    """Return what is turned through, what is closed in the same way in further works of one hooping, and what stays open."""
    turned = [_opening(course, t, promise.shell) for t in course.turnings]
    lines = [c.line for c in course.closes if not any(_is_near(c.line, o.path) for o in turned)]
    alike = [replace(first, path=line) for first in turned[:1] for line in lines]
    rests = [Opening(*rest) for rest in promise.rests]
    return [_shut_between(o, promise.shut, course.closes) for o in (*turned, *alike, *rests)]


def _shut_between(opening: Opening, pieces: tuple[str, ...], closes: Sequence[Close]) -> Opening:
    """Return an opening between the pieces that closing it joins, where the recipe names them."""
    if not pieces or not any(_is_near(c.line, opening.path) for c in closes):
        return opening
    below, above = pieces
    return replace(opening, below=below, above=above)


def _is_near(line: LineString, other: LineString) -> bool:
    return bool(line.hausdorff_distance(other) <= 1.0)


def _opening(course: Course, turning: Turning, shell: tuple[str, ...]) -> Opening:
    """Return the opening between the two pieces of the shell it lies between; what lies between those does not count."""
    turn, layers = turning.turn, in_one(course, turning.stack).layers
    there = [p.sheet for p in layers if p.sheet in shell and p.region.intersects(turn.line)]
    numbers = [i for i, p in enumerate(layers) if p.sheet == turn.above and p.region.intersects(turn.line)]
    under = [p.sheet for p in layers[: min(numbers)] if p.sheet in there] if numbers else []
    below = turn.below if turn.below in shell else (under[-1] if under else turn.below)
    return Opening(turn.line, below, turn.above)


def _differs(
    course: Course, code: str, found: Topology, promised: tuple[int, int | None, int], when: str
) -> tuple[Finding, ...]:
    parts, rims, euler = promised
    seen = (found.components, found.loops if rims is not None else None, found.euler)
    if seen == promised:
        return ()
    names, values, wanted = (
        (
            "parts, rims and Euler number",
            f"{found.components}, {found.loops}, {found.euler}",
            f"{parts}, {rims}, {euler}",
        )
        if rims is not None
        else ("parts and Euler number", f"{found.components}, {found.euler}", f"{parts}, {euler}")
    )
    message = f"The sewn work {when} is not what the recipe promises: {names} are {values} and should be {wanted}"
    return (course.finding(code, message, "Look for a seam that is missing, or that joins too much."),)
