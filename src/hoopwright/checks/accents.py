"""Does every accent hold together when its base is gone?"""

from __future__ import annotations

from typing import Final

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.words import counted
from hoopwright.items.plan import Plan
from hoopwright.needle.accents.proof import Fault, Flaw, faults_of_rows
from hoopwright.needle.lines import LOCK_STITCHES
from hoopwright.needle.shapes import Run, Step
from hoopwright.operations.vocabulary import DrawnStyle, Role

SAID: Final[dict[Flaw, tuple[str, str]]] = {
    Flaw.PIECES: ("HW376", "falls into {count} pieces when its base is gone: no thread leads from one to the other"),
    Flaw.BRIDGE: (
        "HW376",
        "is held there{more} by a single thread when its base is gone: it tears off with that thread",
    ),
    Flaw.FREE_LINE: (
        "HW377",
        "has a line there{more} that ends in the air when its base is gone: no thread holds its end",
    ),
    Flaw.FREE_COLUMN: ("HW378", "has a column there{more} that is held at one of its ends only: the other comes loose"),
    Flaw.OPEN_RIM: ("HW379", "has no rim that closes round everything: what lies outside it frays and pulls out"),
}
"""Code and message of each flaw."""

CURE: Final = (
    "Make it larger, or with fewer lobes; if it is one of the motifs as it comes, report this as a fault of the tool"
)


def accents_hold_together(plan: Plan) -> tuple[Finding, ...]:
    """HW376 to HW379: an accent that would come apart. Proved from the needle positions, each run for itself."""
    return tuple(
        _finding(hooping.key, step, fault)
        for hooping in plan.hoopings
        for step in hooping.steps
        if step.stitch.role is Role.ACCENT
        for run in step.runs
        for fault in faults_of_rows((_row(step, run),))
    )


def _row(step: Step, run: Run) -> tuple[tuple[float, float], ...]:
    """Return the needle positions of a run between its locks."""
    style = step.stitch.style
    ends = 0 if isinstance(style, DrawnStyle) and style.locked else LOCK_STITCHES - 1
    return tuple((float(x), float(y)) for x, y in run.points[ends : len(run.points) - ends])


def _finding(hooping: str, step: Step, fault: Fault) -> Finding:
    code, words = SAID[fault.flaw]
    more = f" and at {counted(fault.count - 1, 'more place')}" if fault.count > 1 else ""
    message = f"“{step.stitch.title}” {words.format(count=fault.count, more=more)}"
    at = round(fault.at[0], 1), round(fault.at[1], 1)
    return Finding(code, Severity.BLOCKS, message, CURE, Where(operation=step.index, point=at, hooping=hooping))
