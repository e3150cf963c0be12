"""Is a decorative stitch seen on the cloths it is sewn on?"""

from __future__ import annotations

from collections.abc import Iterator

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.words import listed
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.needle.thread_seen import WEAKLY, hardly_seen_on
from hoopwright.operations.vocabulary import Role
from hoopwright.piecing.shapes import PiecedPanel


def threads_are_seen(plan: Plan) -> tuple[Finding, ...]:
    """HW607: the thread of a seam stitch is nearly of the colour of a cloth beside its seam.

    What that means is said in hoopwright.needle.thread_seen. One finding for all seams of a hooping that have the same thread and
    the same cloths.
    """
    panels = {panel.key: panel for panel in plan.panels}
    return tuple(f for h in plan.hoopings if h.panel in panels for f in _of_hooping(plan, panels[h.panel], h))


def _of_hooping(plan: Plan, panel: PiecedPanel, hooping: Hooping) -> Iterator[Finding]:
    groups: dict[tuple[str, tuple[tuple[str, float], ...]], list[tuple[int, int]]] = {}
    for step in hooping.steps:
        thread, seam = step.stitch.thread, step.stitch.seam
        if step.stitch.role is Role.ORNAMENT and seam is not None:
            cloths = tuple(hardly_seen_on(plan.project, panel, thread, seam).items())
            if cloths:
                groups.setdefault((thread, cloths), []).append((seam, step.index))
    for (thread, cloths), seams in groups.items():
        yield _finding(plan, hooping, thread, cloths, tuple(sorted(seams)))


def _finding(
    plan: Plan, hooping: Hooping, thread: str, cloths: tuple[tuple[str, float], ...], seams: tuple[tuple[int, int], ...]
) -> Finding:
    numbers = [number for number, _ in seams]
    shown = listed(f"{plan.project.cloths[c].name} ({by:.1f})" for c, by in cloths)
    own = str(numbers[0]) in plan.project.panel.seams
    return Finding(
        "HW607",
        Severity.NOTES,
        f"The seam stitch on seam{'s' if len(numbers) > 1 else ''} {listed(numbers)} hardly shows on {shown}: so far is "
        f"the colour of its thread, {plan.project.threads[thread].name}, from the cloth's, where 1 can just be seen and "
        f"{WEAKLY:g} is plain",
        "Give it a lighter or darker thread, unless it is meant to be felt rather than seen",
        Where(
            path=f"panel.seams.{numbers[0]}" if own else "panel.seam_stitch",
            operation=seams[0][1],
            hooping=hooping.key,
        ),
    )
