"""Does it come out, carried out on the sheet stack?"""

from __future__ import annotations

from hoopwright.cloth.proofs import prove_panel
from hoopwright.core.findings import Finding
from hoopwright.items.plan import Plan


def comes_out(plan: Plan) -> tuple[Finding, ...]:
    """HW5xx: what goes wrong when every operation of every pieced hooping is carried out on the cloth."""
    panels = {panel.key: panel for panel in plan.panels}
    return tuple(
        finding
        for hooping in plan.hoopings
        if hooping.panel in panels
        for finding in prove_panel(panels[hooping.panel], hooping, plan.project)
    )
