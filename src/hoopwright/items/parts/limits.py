"""Settings of a recipe that are too large for the rest of the work, and what would do."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm
from hoopwright.items.parts.rounding import rounded_down
from hoopwright.project.lengths import show_length
from hoopwright.project.schema import Project


@dataclass(frozen=True, slots=True)
class Limit:
    """The ``most`` mm a ``setting`` of ``value`` mm may have; ``message`` says what is wrong when it has more."""

    code: str
    setting: str
    value: Mm
    most: Mm
    message: str


def refused(code: str, message: str, cure: str, setting: str) -> Finding:
    """Return the finding that a setting below [make] forbids sewing."""
    return Finding(code, Severity.BLOCKS, message, cure, Where(path=f"make.{setting}"))


def too_much(limits: Iterable[Limit], project: Project) -> tuple[Finding, ...]:
    """Return a blocking finding for every limit that is passed, with the largest length that would do."""
    return tuple(
        refused(one.code, one.message, _at_most(one.most, project), one.setting)
        for one in limits
        if one.value > one.most + MERGE
    )


def _at_most(most: Mm, project: Project) -> str:
    return f"Make it at most {show_length(max(rounded_down(most, project.units), 0.0), project.units)}"
