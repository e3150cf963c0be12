"""Findings: what the checks say about a project.

A finding never repairs anything. Its code is HW plus three digits, numbered per room and never used twice:
HW1xx project, HW2xx piecing, HW3xx needle, HW4xx items, HW5xx cloth, HW6xx checks, HW7xx estimate, HW8xx outputs.
docs/findings.md explains every code.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from hoopwright.core.types import Point


class Severity(StrEnum):
    """How much a finding matters."""

    BLOCKS = "blocks"
    """It cannot be sewn as it stands."""
    WARNS = "warns"
    """It can be sewn, with care or with a flaw."""
    NOTES = "notes"
    """Good to know."""


@dataclass(frozen=True, slots=True)
class Where:
    """The place a finding speaks of; every part may be missing.

    ``path`` is a place in the project file ("panel.patchwork.cuts[2]"), ``patch`` a patch letter, ``operation`` a
    step number of the run sheet counted from 1, ``point`` a place in the hoop in mm, ``line`` a line of the project file.
    """

    path: str | None = None
    patch: str | None = None
    operation: int | None = None
    point: Point | None = None
    hooping: str | None = None
    line: int | None = None

    def __str__(self) -> str:
        """Return the place in words, empty when nothing is known."""
        parts = []
        if self.path:
            parts.append(self.path)
        if self.line is not None:
            parts.append(f"line {self.line}")
        if self.hooping:
            parts.append(f"hooping {self.hooping}")
        if self.patch:
            parts.append(f"patch {self.patch}")
        if self.operation is not None:
            parts.append(f"step {self.operation}")
        if self.point is not None:
            parts.append(f"at x {self.point[0]:.1f}, y {self.point[1]:.1f} mm")
        return ", ".join(parts)


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was found: what, how grave, where, and what to do about it."""

    code: str
    severity: Severity
    message: str
    cure: str
    where: Where = Where()

    def __str__(self) -> str:
        """Return the finding on one line."""
        place = str(self.where)
        return f"{self.code} {self.severity}: {self.message.rstrip('.')}{f' ({place})' if place else ''}. {self.cure}"


def blocking(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings that forbid sewing."""
    return tuple(f for f in findings if f.severity is Severity.BLOCKS)


def worst(findings: Iterable[Finding]) -> Severity | None:
    """Return the gravest severity, or None when there is no finding."""
    seen = {f.severity for f in findings}
    return next((s for s in (Severity.BLOCKS, Severity.WARNS, Severity.NOTES) if s in seen), None)
