"""How the cloth of each sheet lay when it was laid, and in which hooping a pieced sheet came about.

Words: the *cloth's frame* of a sheet is that of its right side as the maker looks at it, up as up: for a patch, a section or a panel that of
its own hooping, so that a print stands upright when the patch is open; for other pieces the hoop's, when they are laid right side up, and
turned over like the page of a book when they are laid right side down.
"""

from __future__ import annotations

from hoopwright.cloth.placing import AS_LAID, Placing, mirror
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Face, Lay
from hoopwright.outputs.pictures.laid_panels import laid_panel
from hoopwright.piecing.shapes import Patch


def cloth_frame(plan: Plan, hooping: Hooping, piece: str) -> Placing:
    """Return how the frame of the cloth of ``piece`` lay in the hoop when it was laid; as the hoop when it is not laid here."""
    lay = next((h for s in hooping.steps for h in s.hands if isinstance(h, Lay) and h.piece == piece), None)
    if lay is None:
        return AS_LAID
    panel = laid_panel(plan, hooping, piece)
    if panel is not None:
        return panel[1]
    if lay.face is Face.UP:
        return AS_LAID
    patch = _patch(plan, hooping, piece)
    if patch is not None and patch.seam is not None:
        return mirror(patch.seam.start, patch.seam.end)
    left, low, right, high = lay.pose.bounds
    middle = (left + right) / 2
    return mirror((middle, low), (middle, max(high, low + 1.0)))


def came_about(plan: Plan, hooping: Hooping, piece: str) -> str | None:
    """Return the hooping in which a laid section, or a laid panel, was sewn last; None for a piece that was not sewn before."""
    earlier = plan.hoopings[: plan.hoopings.index(hooping)]
    panel = laid_panel(plan, hooping, piece)
    if panel is not None:
        return next((h.key for h in reversed(earlier) if h.panel == panel[0].key), None)
    patch = _patch(plan, hooping, piece)
    if patch is None or patch.made_of is None:
        return None
    return next((h.key for h in earlier if h.panel == hooping.panel and h.section == patch.made_of), None)


def _patch(plan: Plan, hooping: Hooping, piece: str) -> Patch | None:
    """Return the patch, or the section, that is laid as ``piece`` in this hooping of its panel."""
    panel = next((p for p in plan.panels if p.key == hooping.panel), None)
    return None if panel is None else next((p for p in panel.patches if p.label == piece), None)
