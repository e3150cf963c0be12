"""Is every stitch one that the machine sews well?"""

from __future__ import annotations

from typing import Final

import numpy as np

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MACHINE_STEP
from hoopwright.items.plan import Plan
from hoopwright.needle.lines import LOCK_STITCHES
from hoopwright.needle.shapes import Run, Step
from hoopwright.operations.vocabulary import Role

SHORT_CURES: Final = {
    Role.ORNAMENT: "A wider seam stitch or a longer repeat gives longer stitches.",
    Role.LAYOUT: "Larger patches give longer stitches. These lie under the patches, so they do not show.",
}
"""What to do about a short stitch, by what its block is for."""


def stitch_lengths(plan: Plan) -> tuple[Finding, ...]:
    """HW602 a stitch longer, HW603 a stitch shorter than the machine's settings allow; locks are left out."""
    machine = plan.project.machine
    findings: list[Finding] = []
    for hooping in plan.hoopings:
        for step in hooping.steps:
            lengths = np.concatenate([_lengths(r) for r in step.runs]) if step.runs else np.empty(0)
            if not len(lengths):
                continue
            if lengths.max() > machine.longest_stitch + MACHINE_STEP:
                findings.append(_too_long(step, hooping.key, float(lengths.max()), machine.longest_stitch))
            if lengths.min() < min(machine.shortest_stitch, _allowed(step)) - MACHINE_STEP:
                findings.append(_too_short(step, hooping.key, float(lengths.min()), machine.shortest_stitch))
    return tuple(findings)


def _allowed(step: Step) -> float:
    """Return the shortest stitch allowed: numerals may use stitches down to 1 mm."""
    return 1.0 if step.stitch.numerals else float("inf")


def _lengths(run: Run) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Return the stitch lengths of a run between its locks."""
    inner = run.points[LOCK_STITCHES - 1 : len(run.points) - LOCK_STITCHES + 1]
    steps = np.diff(inner, axis=0)
    return np.hypot(steps[:, 0], steps[:, 1])


def _too_long(step: Step, hooping: str, length: float, limit: float) -> Finding:
    return Finding(
        "HW602",
        Severity.BLOCKS,
        f"A stitch of {length:.1f} mm is longer than the longest stitch of {limit:.1f} mm",
        "Raise machine.longest_stitch if your machine sews it well; otherwise report this as a fault of the tool.",
        Where(operation=step.index, hooping=hooping),
    )


def _too_short(step: Step, hooping: str, length: float, limit: float) -> Finding:
    return Finding(
        "HW603",
        Severity.WARNS,
        f"A stitch of {length:.2f} mm is shorter than the shortest useful stitch of {limit:.1f} mm",
        SHORT_CURES.get(
            step.stitch.role, "A larger patch gives longer stitches; or set machine.shortest_stitch lower."
        ),
        Where(operation=step.index, hooping=hooping),
    )
