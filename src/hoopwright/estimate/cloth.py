"""How much cloth it takes: the pieces to cut, laid along the grain on the bolt."""

from __future__ import annotations

from shapely import affinity

from hoopwright.core.types import Mm
from hoopwright.estimate.shapes import ClothNeed
from hoopwright.estimate.shelves import on_shelves
from hoopwright.items.plan import Plan
from hoopwright.piecing.shapes import Cut, Patch


def cloth_needs(plan: Plan) -> tuple[ClothNeed, ...]:
    """Return what is needed of every cloth that is used, in the project's order of cloths."""
    needs = []
    for key, cloth in plan.project.cloths.items():
        sizes = [size for patch, size in piece_sizes(plan) if patch.cloth == key]
        if sizes:
            layout = on_shelves(sizes, cloth.bolt)
            needs.append(ClothNeed(key, len(sizes), layout.width, layout.length))
    return tuple(needs)


def piece_sizes(plan: Plan) -> tuple[tuple[Patch, tuple[Mm, Mm]], ...]:
    """Return every piece to cut with its size across and along the bolt, in mm. Sections laid as one are not cut."""
    exact = plan.project.piecing.cut == "templates"
    patches = [p for panel in plan.panels for p in panel.patches if p.made_of is None]
    return tuple((p, along_grain(p.exact if exact else p.rough, p.grain)) for p in patches)


def along_grain(cut: Cut, grain: float) -> tuple[Mm, Mm]:
    """Return the size of a cut across and along the warp, when the warp runs at ``grain`` degrees in its own frame."""
    turned = affinity.rotate(cut.outline, 90.0 - grain, origin=(0.0, 0.0))
    left, low, right, high = turned.bounds
    return right - left, high - low
