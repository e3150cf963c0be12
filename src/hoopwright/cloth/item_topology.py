"""Proofs that the sewn work is the surface its recipe promises, and one that hands can turn."""

from __future__ import annotations

from hoopwright.cloth.course import Course, Turning
from hoopwright.cloth.topology import Topology, topology
from hoopwright.cloth.turning import Opening
from hoopwright.core.errors import GeometryError
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.items.recipe import Promise
from hoopwright.operations.vocabulary import Role

SEWN = frozenset({Role.SEAM, Role.CLOSING})
"""Lines that make the surface; lines that only hold something down do not."""


def keeps_its_promise(course: Course) -> tuple[Finding, ...]:
    """HW571, HW572: the work is another surface than promised, before or after its openings are closed; HW573, HW574: it
    cannot be turned.
    """
    promise = course.plan.making.promise
    if promise is None or not promise.shell or not course.last:
        return ()
    try:
        before, after = _before_and_after(course, promise)
    except (GeometryError, ValueError) as error:
        return (course.finding("HW571", f"What is sewn is no surface: {error}", "Sew the seams as the recipe says."),)
    turned = impossible_to_turn(before, course.hooping.key)
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
    stack = turnings[0].stack if turnings else course.out
    openings = [_opening(t, promise.shell) for t in turnings]
    shut = [any(c.line.hausdorff_distance(t.turn.line) <= 1.0 for c in course.closes) for t in turnings]
    before = topology(stack, openings, roles=SEWN, sheets=promise.shell)
    if all(shut) and openings:
        return before, topology(stack, openings, closed=True, roles=SEWN, sheets=promise.shell)
    return before, before if not any(shut) else topology(
        stack, [o for o, s in zip(openings, shut, strict=True) if s], closed=True, roles=SEWN, sheets=promise.shell
    )


def _opening(turning: Turning, shell: tuple[str, ...]) -> Opening:
    """Return the opening between the two pieces of the shell it lies between; what lies between those does not count."""
    turn, layers = turning.turn, turning.stack.layers
    there = [p.sheet for p in layers if p.sheet in shell and p.region.intersects(turn.line)]
    numbers = [i for i, p in enumerate(layers) if p.sheet == turn.above and p.region.intersects(turn.line)]
    under = [p.sheet for p in layers[: min(numbers)] if p.sheet in there] if numbers else []
    below = turn.below if turn.below in shell else (under[-1] if under else turn.below)
    return Opening(turn.line, below, turn.above)


def _differs(
    course: Course, code: str, found: Topology, promised: tuple[int, int, int], when: str
) -> tuple[Finding, ...]:
    if (found.components, found.loops, found.euler) == promised:
        return ()
    message = (
        f"The sewn work {when} is not what the recipe promises: parts, rims and Euler number are {found.components}, "
        f"{found.loops}, {found.euler} and should be {promised[0]}, {promised[1]}, {promised[2]}"
    )
    return (course.finding(code, message, "Look for a seam that is missing, or that joins too much."),)
