"""Can the sewn numbers be read, and do they stay hidden?"""

from __future__ import annotations

from typing import Final

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.items.plan import Plan
from hoopwright.needle.numerals import numeral_lines
from hoopwright.operations.vocabulary import Role
from hoopwright.piecing.colours import lightness_of

PALE: Final = 82.0
"""CIE L* from which a cloth counts as pale."""
THIN: Final = 0.28
"""Thickness in mm below which a pale cloth shows what lies under it (from memory: silk is 0.2 to 0.3)."""
CONTRAST: Final = 35.0
"""Difference of CIE L* from which a line shows through."""


def numbers_can_be_read(plan: Plan) -> tuple[Finding, ...]:
    """HW605: a patch too small for a readable number; its number is left out of the layout."""
    height = plan.project.stitching.numeral_height
    return tuple(
        Finding(
            "HW605",
            Severity.NOTES,
            f"Patch {n.text} is too small for a sewn number, so none is sewn",
            "Find its place by the picture of its step.",
            Where(operation=step.index, hooping=hooping.key),
        )
        for hooping in plan.hoopings
        for step in hooping.steps
        for n in step.stitch.numerals
        if not numeral_lines(n, height)
    )


def numbers_do_not_show_through(plan: Plan) -> tuple[Finding, ...]:
    """HW606: dark layout lines under pale thin cloth."""
    threads = {s.stitch.thread for h in plan.hoopings for s in h.steps if s.stitch.role is Role.LAYOUT}
    return tuple(
        Finding(
            "HW606",
            Severity.WARNS,
            f"The layout in {plan.project.threads[thread].name} may show through {cloth.name}, which is pale and thin",
            "Sew the layout in a thread near the cloth's colour, or lay the patch double.",
            Where(path=f"cloths.{key}"),
        )
        for thread in sorted(threads)
        for key, cloth in plan.project.cloths.items()
        if _used(plan, key)
        and cloth.thickness < THIN
        and (light := lightness_of(cloth.colour)) > PALE
        and light - lightness_of(plan.project.threads[thread].colour) > CONTRAST
    )


def _used(plan: Plan, key: str) -> bool:
    return any(cloth == key for panel in plan.panels for _, cloth in panel.cloths)
