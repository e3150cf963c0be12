"""How much cloth it takes: patches and pieces laid along the grain on the bolt; ribbons and zips by their length."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry import Polygon

from hoopwright.core.tolerances import FLAT
from hoopwright.core.types import Degrees, Mm
from hoopwright.estimate.shapes import ClothNeed
from hoopwright.estimate.shelves import on_shelves
from hoopwright.items.plan import Plan
from hoopwright.operations.vocabulary import Lay
from hoopwright.piecing.shapes import Patch
from hoopwright.project.lengths import INCH, rounded_up
from hoopwright.project.schema import ClothModel, Project


@dataclass(frozen=True, slots=True)
class CutSize:
    """One piece to cut: its name in words ("Patch B"), patch label or None, cloth, size across and along the warp, mm."""

    name: str
    patch: str | None
    cloth: str
    width: Mm
    length: Mm


def cloth_needs(plan: Plan) -> tuple[ClothNeed, ...]:
    """Return what is needed of every cloth that is used, in the project's order of cloths."""
    pieces, bought = (_of_cloths(s, plan.project) for s in (cut_sizes(plan), _bought(plan)))
    return tuple(
        replace(_need(key, cloth, bought[key]), pieces=len(pieces[key]))
        for key, cloth in plan.project.cloths.items()
        if pieces[key]
    )


def _of_cloths(sizes: tuple[CutSize, ...], project: Project) -> dict[str, list[CutSize]]:
    return {key: [_marked(s, project) for s in sizes if s.cloth == key] for key in project.cloths}


def cutting_sheets(plan: Plan) -> tuple[Lay, ...]:
    """Return the sheets laid whole in a hooping that draws cutting lines on them: they are no pieces of the cutting list."""
    known = {p.key for p in plan.making.pieces} | {p.key for p in plan.panels}
    known |= {p.label for panel in plan.panels for p in panel.patches}
    hands = [h for hooping in plan.hoopings for step in hooping.steps for h in step.hands]
    return tuple(h for h in hands if isinstance(h, Lay) and h.piece not in known and h.cloth in plan.project.cloths)


def _bought(plan: Plan) -> tuple[CutSize, ...]:
    """Return what is cut from the bolt: a sheet with cutting lines on it instead of the pieces that lie inside them."""
    sheets = cutting_sheets(plan)
    inside = {p.title for p in plan.making.pieces if any(h.cloth == p.cloth and p.cut.within(h.pose) for h in sheets)}
    whole = [CutSize(h.piece, None, h.cloth, *along_grain(h.pose, 90.0)) for h in sheets]
    return (*(s for s in cut_sizes(plan) if s.patch is not None or s.name not in inside), *whole)


def _marked(size: CutSize, project: Project) -> CutSize:
    """Return a piece as large as it is cut by a ruler: no side is shown smaller, so that no strip is too small for it."""
    width, length = (rounded_up(mm, project.units) for mm in (size.width, size.length))
    return replace(size, width=width, length=length)


def rough_size(project: Project, patch: Patch) -> tuple[Mm, Mm]:
    """Return length and width of a rough cut in mm, rounded UP to what a ruler shows: whole mm, or eighths of an inch."""
    mark = INCH / 8 if project.units == "in" else 1.0
    along, across = (math.ceil((mm - FLAT) / mark) * mark for mm in (patch.rough.width, patch.rough.height))
    return along, across


def _rough(project: Project, patch: Patch) -> Polygon:
    """Return the outline of a rough cut as the ruler's marks make it: never smaller than its rounded sides."""
    along, across = rough_size(project, patch)
    more = max(along - patch.rough.width, across - patch.rough.height, 0.0)
    return patch.rough.outline.buffer(more / 2.0, join_style="mitre")


def _need(key: str, cloth: ClothModel, sizes: list[CutSize]) -> ClothNeed:
    if cloth.kind == "ribbon":
        return ClothNeed(key, len(sizes), max(s.width for s in sizes), sum(s.length for s in sizes))
    if cloth.kind == "zip":
        return ClothNeed(key, len(sizes), max(s.width for s in sizes), max(s.length for s in sizes))
    layout = on_shelves([(s.width, s.length) for s in sizes], cloth.bolt)
    return ClothNeed(key, len(sizes), layout.width, layout.length)


def cut_sizes(plan: Plan) -> tuple[CutSize, ...]:
    """Return every piece to cut with its size: patches, then the pieces of the making, each as often as it is cut.

    Sections laid as one are not cut. Ribbons and zips are measured along their longer side, whatever their grain.
    """
    exact = plan.project.piecing.cut == "templates"
    found = []
    for patch in (p for panel in plan.panels for p in panel.patches if p.made_of is None):
        outline = patch.exact.outline if exact else _rough(plan.project, patch)
        found.append(CutSize(f"Patch {patch.label}", patch.label, patch.cloth, *along_grain(outline, patch.grain)))
    for piece in plan.making.pieces:
        narrow = plan.project.cloths[piece.cloth].kind in ("ribbon", "zip")
        size = by_length(piece.cut) if narrow else along_grain(piece.cut, piece.grain)
        found += [CutSize(piece.title, None, piece.cloth, *size)] * piece.count
    return tuple(found)


def along_grain(outline: Polygon, grain: Degrees) -> tuple[Mm, Mm]:
    """Return the size of a piece across and along the warp, when the warp runs at ``grain`` degrees in its own frame."""
    left, low, right, high = affinity.rotate(outline, 90.0 - grain, origin=(0.0, 0.0)).bounds
    return right - left, high - low


def by_length(outline: Polygon) -> tuple[Mm, Mm]:
    """Return width and length of the narrowest rectangle round a piece, the shorter side first."""
    corners = shapely.get_coordinates(outline.minimum_rotated_rectangle)
    short, long = sorted(np.hypot(*np.diff(corners[:3], axis=0).T).tolist())
    return short, long
