"""Does it come out, carried out on the sheet stack?"""

from __future__ import annotations

from dataclasses import replace

from hoopwright.cloth.course import pieced_steps
from hoopwright.cloth.item_proofs import prove_item
from hoopwright.cloth.proofs import prove_panel
from hoopwright.core.findings import Finding
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Lay
from hoopwright.piecing.shapes import PiecedPanel


def comes_out(plan: Plan) -> tuple[Finding, ...]:
    """HW5xx: what goes wrong when every operation of every hooping, and the assembly after it, is carried out on the cloth."""
    panels = {panel.key: panel for panel in plan.panels}
    pieced = tuple(
        finding
        for hooping in plan.hoopings
        if hooping.panel in panels
        for finding in prove_panel(panels[hooping.panel], only_pieced(hooping, panels[hooping.panel]), plan.project)
    )
    return (*pieced, *prove_item(plan))


def only_pieced(hooping: Hooping, panel: PiecedPanel) -> Hooping:
    """Return a hooping up to where something is laid that is no patch; the handwork before that is done at its end."""
    count = pieced_steps(hooping, panel)
    if count == len(hooping.steps):
        return hooping
    labels = {p.label for p in panel.patches}
    hands = hooping.steps[count].hands
    other = next(i for i, h in enumerate(hands) if isinstance(h, Lay) and h.piece not in labels)
    return replace(hooping, steps=hooping.steps[:count], after=hands[:other])
