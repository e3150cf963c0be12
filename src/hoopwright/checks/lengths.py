"""Is every stitch one that the machine sews well, and the cloth holds?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hoopwright.checks.sites import where
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MACHINE_STEP, SAME_PLACE
from hoopwright.core.types import Mm
from hoopwright.items.plan import Plan
from hoopwright.needle.lines import LOCK_STITCHES
from hoopwright.needle.needlework import Needlework, needlework
from hoopwright.needle.shapes import Step
from hoopwright.operations.vocabulary import Role

SHORT_CURES: Final = {
    Role.ORNAMENT: "A wider seam stitch or a longer repeat gives longer stitches.",
    Role.LAYOUT: "Larger patches give longer stitches. These lie under the patches, so they do not show.",
    Role.LETTERING: "Larger letters give longer stitches; or set machine.shortest_stitch lower.",
}
"""What to do about a short stitch, by what its block is for."""

AS_IT_CAME: Final = frozenset({Role.PLACED})
"""Blocks whose stitches are not ours: a single short one is their maker's business, a long one holds badly but can be sewn."""

TINY: Final[Mm] = 0.8
"""The longest lock (locks of 0.3 to 0.8 mm are common practice, no source)."""

MOST_TINY: Final = 8
"""So many stitches no longer than TINY may follow each other: two locks of four (common practice, no source)."""


def stitch_lengths(plan: Plan) -> tuple[Finding, ...]:
    """HW602, HW612 a stitch longer, HW603 a stitch shorter than the machine's settings allow; locks are left out."""
    machine = plan.project.machine
    findings: list[Finding] = []
    for hooping in plan.hoopings:
        work = needlework(hooping)
        inner = _without_locks(work)
        for number, step in enumerate(hooping.steps):
            stitches = np.flatnonzero(inner & (work.step[work.first] == number))
            if not len(stitches):
                continue
            lengths = work.lengths[stitches]
            if lengths.max() > machine.longest_stitch + MACHINE_STEP:
                findings.append(_too_long(work, step, int(stitches[lengths.argmax()]), machine.longest_stitch))
            if lengths.min() < min(machine.shortest_stitch, _allowed(step)) - MACHINE_STEP:
                findings.append(_too_short(work, step, int(stitches[lengths.argmin()]), machine.shortest_stitch))
    return tuple(findings)


LETTERS: Final = 0.6
"""Shortest stitch of letters, mm: their lines meet and turn in so small steps (common practice, no source)."""


def _allowed(step: Step) -> float:
    """Return the shortest stitch allowed: numerals may use stitches down to 1 mm, letters shorter ones where their lines meet,
    files of the maker's own any.
    """
    if step.stitch.role in AS_IT_CAME:
        return 0.0
    if step.stitch.role is Role.LETTERING:
        return LETTERS
    return 1.0 if step.stitch.numerals else float("inf")


def _without_locks(work: Needlework) -> NDArray[np.bool_]:
    """Return which stitches lie between the locks of their run, shape (m,)."""
    counts = np.bincount(work.run)
    begins = np.cumsum(counts) - counts
    run = work.run[work.first]
    number = work.first - begins[run]
    ends = LOCK_STITCHES - 1
    return np.asarray((number >= ends) & (number < counts[run] - 1 - ends))


def _too_long(work: Needlework, step: Step, stitch: int, limit: Mm) -> Finding:
    length, at = work.lengths[stitch], _where(work, step, stitch)
    if step.stitch.role in AS_IT_CAME:
        message = (
            f"A stitch of {length:.1f} mm lies loose on the cloth and will catch on things: {limit:.1f} mm are the longest "
            "that hold"
        )
        cure = "Nothing, when the work is not handled much; or have the design made with its long stitches divided."
        return Finding("HW612", Severity.WARNS, message, cure, at)
    return Finding(
        "HW602",
        Severity.BLOCKS,
        f"A stitch of {length:.1f} mm is longer than the longest stitch of {limit:.1f} mm",
        "Raise machine.longest_stitch if your machine sews it well; otherwise report this as a fault of the tool.",
        at,
    )


def _too_short(work: Needlework, step: Step, stitch: int, limit: Mm) -> Finding:
    return Finding(
        "HW603",
        Severity.WARNS,
        f"A stitch of {work.lengths[stitch]:.2f} mm is shorter than the shortest useful stitch of {limit:.1f} mm",
        SHORT_CURES.get(
            step.stitch.role, "A larger patch gives longer stitches; or set machine.shortest_stitch lower."
        ),
        _where(work, step, stitch),
    )


def _where(work: Needlework, step: Step, stitch: int) -> Where:
    """Return where a stitch begins."""
    return Where(operation=step.index, point=work.place(int(work.first[stitch])), hooping=work.hooping.key)


def no_rows_of_tiny_stitches(plan: Plan) -> tuple[Finding, ...]:
    """HW611: more than MOST_TINY stitches in a row no longer than TINY; one finding a hooping, the longest row."""
    return tuple(f for h in plan.hoopings for f in _tiny(needlework(h)))


def _tiny(work: Needlework) -> Iterator[Finding]:
    small = np.flatnonzero(work.lengths <= TINY + SAME_PLACE)
    if not len(small):
        return
    apart = np.flatnonzero(np.diff(work.first[small]) != 1) + 1
    longest = max(np.split(small, apart), key=len)
    if len(longest) <= MOST_TINY:
        return
    positions = work.first[longest]
    site, _ = where(work, positions, work.place(int(positions[len(positions) // 2])))
    message = (
        f"{len(longest)} stitches in a row are no longer than {TINY:g} mm: the needle beats on one spot, and the thread frays "
        "or nests"
    )
    cure = (
        "Make what is sewn there larger, so that its stitches grow; one lock of three or four tiny stitches is enough."
    )
    yield Finding("HW611", Severity.WARNS, message, cure, site)
