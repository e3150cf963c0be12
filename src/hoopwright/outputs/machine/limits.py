"""What must be said before a hooping is written: what cannot be recorded, what gets lost in which kind."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MACHINE_STEP, SAME_PLACE
from hoopwright.core.types import Mm, Point
from hoopwright.core.words import listed
from hoopwright.needle.shapes import Hooping
from hoopwright.outputs.machine.kinds import KINDS, LONGEST_STITCH, KindFacts
from hoopwright.project.schema import Project
from hoopwright.stitchfiles.record import FARTHEST


def waiting_place(project: Project, field: tuple[Mm, Mm]) -> Point | None:
    """Return the needle position at which the hoop waits for hands, inside the field less its margin; None: it stays.

    "front" brings the hoop as far towards the maker as the field allows: the needle then stands at the far edge.
    """
    asked = project.machine.halt_at
    if asked == "stay":
        return None
    half = tuple(max(0.0, side / 2 - project.hoop.margin) for side in field)
    x, y = (0.0, half[1]) if asked == "front" else asked
    return min(max(x, -half[0]), half[0]), min(max(y, -half[1]), half[1])


def limits(hooping: Hooping, project: Project, field: tuple[Mm, Mm], kinds: Sequence[KindFacts]) -> tuple[Finding, ...]:
    """Return what there is to say about writing this hooping in these kinds; blocking when it must not be written."""
    found = [*_empty(hooping), *_odd_places(hooping)]
    if found:
        return tuple(found)
    return (
        *_crowded(hooping, kinds),
        *_long(hooping),
        *_too_large(hooping, kinds),
        *_waiting(hooping, project, field, kinds),
    )


def _empty(hooping: Hooping) -> list[Finding]:
    where = Where(hooping=hooping.key)
    if not hooping.steps:
        message, cure = "The hooping has no stitches at all", "Give it at least one block to sew"
        return [Finding("HW801", Severity.BLOCKS, message, cure, where)]
    return [
        Finding(
            "HW802",
            Severity.BLOCKS,
            f"The block '{step.stitch.title}' has no stitches, so the machine would not halt for it",
            "Leave the block out, or give it something to sew",
            Where(operation=step.index, hooping=hooping.key),
        )
        for step in hooping.steps
        if not step.count
    ]


def _odd_places(hooping: Hooping) -> list[Finding]:
    return [
        Finding(
            "HW803",
            Severity.BLOCKS,
            f"A stitch of the block '{step.stitch.title}' lies at a place that is not a number or far outside any hoop",
            "Check the lines of this block; this is a fault of the plan, please report it",
            Where(operation=step.index, hooping=hooping.key),
        )
        for step in hooping.steps
        if any(run.count and not np.all(np.abs(run.points) < FARTHEST) for run in step.runs)
    ]


def _crowded(hooping: Hooping, kinds: Sequence[KindFacts]) -> list[Finding]:
    return [
        Finding(
            "HW804",
            Severity.BLOCKS,
            f"The hooping has {len(hooping.steps)} blocks, a {facts.kind} file holds at most {facts.blocks}",
            f"Sew it in two hoopings, or leave the kind {facts.kind} out of machine.kinds",
            Where(path="machine.kinds", hooping=hooping.key),
        )
        for facts in kinds
        if len(hooping.steps) > facts.blocks
    ]


def _long(hooping: Hooping) -> list[Finding]:
    found = []
    for step in hooping.steps:
        lengths = [np.hypot(*np.diff(run.points, axis=0).T).max(initial=0.0) for run in step.runs if run.count > 1]
        longest = max(lengths, default=0.0)
        if longest > LONGEST_STITCH + SAME_PLACE:
            message = f"A stitch of {longest:.1f} mm was divided, because files hold at most {LONGEST_STITCH:g} mm"
            where = Where(operation=step.index, hooping=hooping.key)
            cure = "Nothing need be done; choose shorter stitches if the extra needle holes disturb"
            found.append(Finding("HW805", Severity.NOTES, message, cure, where))
    return found


def _too_large(hooping: Hooping, kinds: Sequence[KindFacts]) -> list[Finding]:
    """Find kinds that must name the hoop in the file and know none large enough."""
    points = np.concatenate([run.points for step in hooping.steps for run in step.runs if run.count])
    width, height = np.ptp(points, axis=0)
    return [
        Finding(
            "HW808",
            Severity.WARNS,
            f"The stitches measure {width:.0f} x {height:.0f} mm; the largest hoop a {facts.kind} file can name is "
            f"{facts.largest:g} x {facts.largest:g} mm, so a machine may refuse it",
            f"Use another kind your machine reads, or keep the design under {facts.largest:g} mm",
            Where(path="machine.kinds", hooping=hooping.key),
        )
        for facts in kinds
        if facts.largest is not None and max(width, height) >= facts.largest - MACHINE_STEP
    ]


def _waiting(hooping: Hooping, project: Project, field: tuple[Mm, Mm], kinds: Sequence[KindFacts]) -> list[Finding]:
    place = waiting_place(project, field)
    if place is None or not any(step.halt for step in hooping.steps[1:]):
        return []
    found = []
    without = [facts.kind for facts in kinds if not facts.waits]
    if without:
        others = listed([k for k, f in KINDS.items() if f.waits], "or")
        message = f"The {listed(without)} file{'s' if len(without) > 1 else ''} leave{'s' if len(without) == 1 else ''} the hoop where it is at halts: {'these kinds' if len(without) > 1 else 'this kind'} cannot move it away"
        cure = f"Move the hoop with the machine's own keys, or use {others} if the machine reads it"
        found.append(
            Finding("HW806", Severity.NOTES, message, cure, Where(path="machine.halt_at", hooping=hooping.key))
        )
    asked = project.machine.halt_at
    if not isinstance(asked, str) and max(abs(a - b) for a, b in zip(asked, place, strict=True)) > SAME_PLACE:
        message = f"The waiting place x {asked[0]:g}, y {asked[1]:g} mm lies outside the field less its margin"
        cure = f"The hoop waits at x {place[0]:g}, y {place[1]:g} mm instead; change machine.halt_at"
        found.append(
            Finding("HW807", Severity.WARNS, message, cure, Where(path="machine.halt_at", hooping=hooping.key))
        )
    return found
