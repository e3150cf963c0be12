"""Are columns drawn neither narrower than they should look nor much wider?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import EdgeStyle, LetteringStyle
from hoopwright.project.lengths import Units, show_measure

MOST: Final[Mm] = 0.6
"""Columns come out narrower than they are sewn: 0.2 to 0.4 mm are added (docs/sources.md), on stretchy cloth up to this."""


def pull_is_allowed_for(plan: Plan) -> tuple[Finding, ...]:
    """HW617: what is added to the width of a column against the pull of its stitches is less than 0 or more than MOST."""
    return tuple(f for hooping in plan.hoopings for f in _of_hooping(hooping, plan.project.units))


def _of_hooping(hooping: Hooping, units: Units) -> Iterator[Finding]:
    for step in hooping.steps:
        style = step.stitch.style
        if not isinstance(style, EdgeStyle | LetteringStyle) or -SAME_PLACE <= style.pull <= MOST + SAME_PLACE:
            continue
        how = "taken off" if style.pull < 0.0 else "added to"
        message = (
            f"{show_measure(abs(style.pull), units)} are {how} the width of the columns in “{step.stitch.title}”, because stitches "
            "pull a column together"
        )
        cure = f"Add between 0 and {show_measure(MOST, units)}; on firm cloth 0.2 mm do, on soft cloth 0.4 mm."
        yield Finding("HW617", Severity.WARNS, message, cure, Where(operation=step.index, hooping=hooping.key))
