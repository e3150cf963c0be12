"""Settings of a recipe that are too large for the rest of the work, or too small to be sewn, and what would do."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm
from hoopwright.items.parts.rounding import rounded_down, rounded_up
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


@dataclass(frozen=True, slots=True)
class Least:
    """The ``least`` mm a part must measure if it is there at all: a ``setting`` of 0 leaves it out."""

    code: str
    setting: str
    value: Mm
    least: Mm
    message: str


def too_little(limits: Iterable[Least], project: Project) -> tuple[Finding, ...]:
    """Return a blocking finding for every part that is there and too small, with the smallest length that would do."""
    return tuple(
        refused(one.code, one.message, _at_least(one.least, project), one.setting)
        for one in limits
        if 0.0 < one.value < one.least - MERGE
    )


def _at_least(least: Mm, project: Project) -> str:
    return f"Make it at least {show_length(rounded_up(least, project.units), project.units)}, or 0 for none"
