"""How wide an opening must be for the work to pass when it is turned.

The opening must let through half the girth of what passes, rolled: a round bundle of diameter d flattens an opening of
width w to a ring of girth 2w, so w is at least pi d / 2.
"""

from __future__ import annotations

import math
from typing import Final

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.types import Mm
from hoopwright.items.parts.rounding import rounded_down, rounded_up
from hoopwright.project.lengths import show_length
from hoopwright.project.schema import Project

FINGERS: Final[Mm] = 10.0
"""Added to the half girth for the hand that pulls, mm, from memory."""

ROLL_RADIUS: Final = 5.0
"""A stiffener rolls round a core of this many times its own thickness without a crease, from memory."""

FROM_CORNER: Final[Mm] = 10.0
"""Seam left between an opening and the next corner, so that the corner keeps its shape, mm (common practice, no source)."""

STEP: Final[Mm] = 5.0
"""Openings are rounded up to whole steps, mm."""


def half_girth_of_box(width: Mm, thickness: Mm) -> Mm:
    """Return half the girth of a box or board, mm: width plus thickness."""
    return width + thickness


def half_girth_rolled(width: Mm, thickness: Mm, core: Mm) -> Mm:
    """Return half the girth of a sheet of this width and thickness rolled round a core of radius ``core``, mm.

    The roll's ring has the sheet's own cross section: pi (R^2 - core^2) = width * thickness.
    """
    return math.pi * math.sqrt(core**2 + width * thickness / math.pi)


def least_opening(width: Mm, thickness: Mm, stiffener: Mm, rolls: bool = True) -> Mm:
    """Return the narrowest opening through which work ``width`` wide and ``thickness`` thick in all can be turned, mm.

    ``stiffener`` is the thickness of its stiffest layer (0: none). What ``rolls`` not must pass flat.
    """
    girth = half_girth_rolled(width, thickness, ROLL_RADIUS * stiffener)
    return (min(girth, half_girth_of_box(width, thickness)) if rolls else half_girth_of_box(width, thickness)) + FINGERS


def proposed_opening(least: Mm) -> Mm:
    """Return the least opening rounded up to a whole step."""
    return math.ceil(least / STEP) * STEP


def opening_findings(
    project: Project,
    given: Mm | None,
    least: Mm,
    room: Mm,
    what: str,
    path: str,
    rolls: bool = True,
    instead: str | None = None,
) -> tuple[Finding, ...]:
    """Return why the work cannot be turned: HW413 opening too narrow for ``what``, HW414 longer than the straight ``room``.

    ``rolls`` says whether the work can be rolled up, ``instead`` what else the maker could do for want of room.
    """
    wide = proposed_opening(least) if given is None else given
    show = [
        show_length(v, project.units)
        for v in (wide, rounded_up(proposed_opening(least), project.units), max(room, 0.0))
    ]
    if wide < least:
        message = f"An opening of {show[0]} is too narrow for {what} to be turned through it"
        return (Finding("HW413", Severity.BLOCKS, message, f"Make it at least {show[1]}", Where(path=path)),)
    if wide > room:
        message = f"An opening of {show[0]} is longer than the straight stretch it may take, {show[2]}"
        cure = "Make the body wider, or choose a thinner stiffener" if rolls else "Choose a stiffener that rolls"
        cure = f"{cure}, or {instead}" if instead else cure
        if given is not None and least <= room:
            most = show_length(rounded_down(room, project.units), project.units)
            cure = f"Make it at most {most}, or leave it out. Else: {cure[0].lower()}{cure[1:]}"
        return (Finding("HW414", Severity.BLOCKS, message, cure, Where(path=path)),)
    return ()


def width_unused(given: Mm | None, edge: bool, why: str) -> tuple[Finding, ...]:
    """Return HW416 (notes) when a width is given for an opening that does not lie in the ``edge``; ``why`` says the reason."""
    if given is None or edge:
        return ()
    message = f"opening_width is not used: {why}, where the slit is as wide as the work"
    return (
        Finding(
            "HW416", Severity.NOTES, message, "Take the line out, or move the opening", Where(path="make.opening_width")
        ),
    )
