"""Is a decorative stitch seen on the cloths it is sewn on?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from hoopwright.core.colour import difference, lab_of
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.words import listed
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Role
from hoopwright.piecing.colours import PLAIN_DIFFERENCE
from hoopwright.piecing.shapes import PiecedPanel
from hoopwright.plane.subdivision import OUTSIDE

HARDLY: Final = 8.0
"""CIEDE2000 below which a thread hardly shows on a cloth, even if it does on the other one (by eye: corn gold on ochre
cotton, 7.0 apart, is lost)."""

WEAKLY: Final = 12.0
"""CIEDE2000 below which a thread shows too weakly when it does so on both cloths of its seam (by eye)."""


def threads_are_seen(plan: Plan) -> tuple[Finding, ...]:
    """HW607: the thread of a seam stitch is nearly of the colour of a cloth beside its seam.

    It differs by less than HARDLY from one of two neighbouring cloths, or by less than WEAKLY from both. One finding for
    all seams of a hooping that have the same thread and the same cloths.
    """
    panels = {panel.key: panel for panel in plan.panels}
    return tuple(f for h in plan.hoopings if h.panel in panels for f in _of_hooping(plan, panels[h.panel], h))


def _of_hooping(plan: Plan, panel: PiecedPanel, hooping: Hooping) -> Iterator[Finding]:
    groups: dict[tuple[str, tuple[str, ...]], list[tuple[int, int]]] = {}
    for step in hooping.steps:
        thread, seam = step.stitch.thread, step.stitch.seam
        if step.stitch.role is Role.ORNAMENT and seam is not None:
            cloths = _hardly_seen_on(plan, panel, thread, seam)
            if cloths:
                groups.setdefault((thread, cloths), []).append((seam, step.index))
    for (thread, cloths), seams in groups.items():
        yield _finding(plan, hooping, thread, cloths, tuple(sorted(seams)))


def _hardly_seen_on(plan: Plan, panel: PiecedPanel, thread: str, seam: int) -> tuple[str, ...]:
    """Return the keys of the cloths beside a seam on which its thread is hardly seen."""
    alike: set[str] = set()
    for beside in _beside(panel, seam):
        apart = {cloth: _apart(plan, thread, cloth) for cloth in beside}
        if min(apart.values()) < HARDLY or max(apart.values()) < WEAKLY:
            alike.update(cloth for cloth, by in apart.items() if by < WEAKLY)
    return tuple(sorted(alike))


def _apart(plan: Plan, thread: str, cloth: str) -> float:
    return difference(lab_of(plan.project.threads[thread].colour), lab_of(plan.project.cloths[cloth].colour))


def _finding(
    plan: Plan, hooping: Hooping, thread: str, cloths: tuple[str, ...], seams: tuple[tuple[int, int], ...]
) -> Finding:
    numbers = [number for number, _ in seams]
    shown = listed(f"{plan.project.cloths[c].name} ({_apart(plan, thread, c):.1f})" for c in cloths)
    own = str(numbers[0]) in plan.project.panel.seams
    return Finding(
        "HW607",
        Severity.NOTES,
        f"The seam stitch on seam{'s' if len(numbers) > 1 else ''} {listed(numbers)} hardly shows on {shown}: so far is "
        f"the colour of its thread, {plan.project.threads[thread].name}, from the cloth's, where 1 can just be seen and "
        f"{PLAIN_DIFFERENCE:g} is plain",
        "Give it a lighter or darker thread, unless it is meant to be felt rather than seen",
        Where(
            path=f"panel.seams.{numbers[0]}" if own else "panel.seam_stitch",
            operation=seams[0][1],
            hooping=hooping.key,
        ),
    )


def _beside(panel: PiecedPanel, seam: int) -> Iterator[tuple[str, ...]]:
    """Return for each piece of a seam the keys of the cloths on its two sides."""
    cloths, plane = dict(panel.cloths), panel.map.plane
    lines = [s for s in panel.map.seams if s.number == seam]
    for edge in (plane.edges[e] for line in lines for e in plane.chains[line.chain].edges):
        yield tuple(cloths[panel.map.letters[f]] for f in (edge.left, edge.right) if f != OUTSIDE)
