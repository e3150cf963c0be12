"""What a laid section or a laid pieced panel shows when it lies right side up: the cloths it was pieced from."""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from hoopwright.piecing.shapes import Patch, PiecedPanel
from hoopwright.plane.half_plane import left_of


def pieced_cloths(panel: PiecedPanel, label: str, outline: BaseGeometry) -> tuple[tuple[str, BaseGeometry], ...]:
    """Return (cloth key, region) of the pieces of the section laid as ``label``, inside ``outline``, lowest first.

    Nothing for the label of a single patch.
    """
    laid = next((p for p in panel.patches if p.label == label and p.made_of is not None), None)
    if laid is None or laid.made_of is None:
        return ()
    return _cloths(panel, laid.made_of, outline)


def panel_cloths(panel: PiecedPanel) -> tuple[tuple[str, BaseGeometry], ...]:
    """Return (cloth key, region) of all pieces of a finished panel, lowest first, in the panel's own frame."""
    if not panel.order.sections:
        return tuple((p.cloth, p.area) for p in panel.patches if p.made_of is None)
    return _cloths(panel, panel.order.sections[-1].number, None)


def _cloths(panel: PiecedPanel, section: int, outline: BaseGeometry | None) -> tuple[tuple[str, BaseGeometry], ...]:
    found: list[tuple[str, BaseGeometry]] = []
    for patch in panel.of_section(section):
        region = _opened(patch) if outline is None else shapely.intersection(_opened(patch), outline)
        within = pieced_cloths(panel, patch.label, region)
        found += within or [(patch.cloth, region)]
    return tuple(found)


def _opened(patch: Patch) -> BaseGeometry:
    """Return what shows of a patch before later ones cover it: its template up to the fold of its seam."""
    if patch.seam is None:
        return patch.template
    return shapely.intersection(patch.template, left_of(patch.seam.start, patch.seam.end))
