"""Proofs of the halts: none lost, none for nothing, and a zip that is open before it is closed in."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from hoopwright.cloth.course import Course
from hoopwright.core.findings import Finding, Severity
from hoopwright.operations.vocabulary import Open, Press, Role

WORKING: Final = frozenset({Role.PLACEMENT, Role.TACK, Role.SEAM, Role.BASTE, Role.CLOSING, Role.TOPSTITCH})
"""Roles of blocks that each stand for one stage of the work."""


def halts_are_right(course: Course) -> tuple[Finding, ...]:
    """HW547 (warns): a halt at which there is nothing to lay, fold, cut or open. HW548: two blocks that nothing parts."""
    return (*_idle(course), *_merged(course))


def _idle(course: Course) -> tuple[Finding, ...]:
    return tuple(
        course.finding(
            "HW547",
            f"The machine halts before “{step.stitch.title}”, but nothing is laid, folded, cut or opened there",
            "Do this handwork at the halt before or after, and sew on here.",
            step=step,
            severity=Severity.WARNS,
        )
        for step in course.hooping.steps[course.first :]
        if step.halt and all(isinstance(h, Press) for h in step.hands)
    )


def _merged(course: Course) -> tuple[Finding, ...]:
    return tuple(
        course.finding(
            "HW548",
            f"Nothing parts “{other.stitch.title}” from “{one.stitch.title}”: the same purpose, the same thread, and no "
            "halt between them, so their order may be lost",
            "Sew both as one block, or put the handwork that belongs between them there.",
            step=other,
        )
        for one, other in pairwise(course.hooping.steps[course.first :])
        if not other.halt
        and one.stitch.role in WORKING
        and (one.stitch.role, one.stitch.thread) == (other.stitch.role, other.stitch.thread)
    )


def zips_are_open(course: Course) -> tuple[Finding, ...]:
    """HW553: a zip is closed when the seam round it is sewn, so that the work cannot be turned through it."""
    opened: set[str] = set()
    found = []
    for step, stack in zip(course.hooping.steps, course.stacks, strict=True):
        opened |= {h.piece for h in step.hands if isinstance(h, Open)}
        if step.stitch.role is not Role.CLOSING:
            continue
        zips = {p.sheet for p in stack.layers if course.kind(p) == "zip"}
        for sheet in sorted(zips & {h.sheet for h in stack.joins[-1].held} - opened):
            message = f"{course.name(sheet)} is still closed when “{step.stitch.title}” is sewn: the work cannot be turned through it"
            cure = "Open it half way at the halt before this seam."
            found.append(course.finding("HW553", message, cure, at=stack.joins[-1].path, step=step))
    return tuple(found)
