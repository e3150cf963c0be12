"""What the estimate makes one want to say."""

from __future__ import annotations

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import FLAT
from hoopwright.estimate.cloth import cut_sizes
from hoopwright.estimate.shapes import Estimate
from hoopwright.items.plan import Plan
from hoopwright.project.lengths import show_apart

BOBBIN = 40.0
"""Metres of thread on a small wound bobbin, the careful end. From memory."""


def estimate_findings(plan: Plan, estimate: Estimate) -> tuple[Finding, ...]:
    """Return findings about pieces that do not fit on their cloth and hoopings that outlast a bobbin."""
    return (*_too_wide(plan), *_bobbins(plan, estimate))


def _too_wide(plan: Plan) -> list[Finding]:
    found = []
    for size in dict.fromkeys(cut_sizes(plan)):
        cloth = plan.project.cloths[size.cloth]
        if cloth.kind != "zip" and size.width > cloth.bolt + FLAT:
            wide, bolt = show_apart(size.width, cloth.bolt, plan.project.units)
            message = f"{size.name} is {wide} wide across the grain, {cloth.name} only {bolt}"
            cure = "Use a wider cloth, or divide the patch" if size.patch else "Use a wider cloth, or piece it first"
            found.append(Finding("HW701", Severity.WARNS, message, cure, Where(patch=size.patch)))
    return found


def _bobbins(plan: Plan, estimate: Estimate) -> list[Finding]:
    found = []
    for hooping in plan.hoopings:
        metres = sum(s.thread for s in estimate.steps if s.hooping == hooping.key)
        if metres > BOBBIN:
            message = (
                f"This hooping takes about {metres:.0f} m of bobbin thread, a small bobbin holds about {BOBBIN:.0f} m"
            )
            cure = "Wind a second bobbin before you start, and change it at a halt rather than in a seam"
            found.append(Finding("HW702", Severity.NOTES, message, cure, Where(hooping=hooping.key)))
    return found
