"""The build: a plan with its findings and estimate, ready to be written."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.core.findings import Finding, blocking
from hoopwright.estimate.shapes import Estimate
from hoopwright.items.plan import Plan


@dataclass(frozen=True, slots=True, eq=False)
class Build:
    """What ``build(project)`` returns: plan, all findings, estimate, and the time each stage took in seconds.

    Times are for the maker of the tool; no output contains them.
    """

    plan: Plan
    findings: tuple[Finding, ...]
    estimate: Estimate
    timings: tuple[tuple[str, float], ...]

    @property
    def blocked(self) -> bool:
        """Whether a finding forbids sewing."""
        return bool(blocking(self.findings))
