"""From a panel of the project file to its patch map, whatever way the patchwork is given."""

from __future__ import annotations

from collections.abc import Mapping
from typing import assert_never

from shapely.geometry import Polygon

from hoopwright.core.findings import Finding
from hoopwright.core.types import Mm, Point
from hoopwright.piecing.drawn_lines import drawn_strokes, line_strokes
from hoopwright.piecing.layouts.generate import generate
from hoopwright.piecing.outline import outline_of
from hoopwright.piecing.patch_map_cuts import map_from_cuts
from hoopwright.piecing.patch_map_lines import map_from_lines
from hoopwright.piecing.seam_lines import turned_map
from hoopwright.piecing.shapes import PatchMap
from hoopwright.project.lengths import Units
from hoopwright.project.schema import CutsPatchwork, DrawingPatchwork, GeneratedPatchwork, LinesPatchwork, PanelModel

PATCHWORK = "panel.patchwork"


def patch_map(
    panel: PanelModel, drawings: Mapping[str, bytes], units: Units = "mm"
) -> tuple[PatchMap | None, tuple[Finding, ...]]:
    """Return the patch map of a panel as it lies in the hoop, and what was found on the way.

    ``drawings`` gives the bytes of each drawing by the file name of the project, ``units`` are those of the sentences. A panel without patchwork is one
    patch, A. The map is None when the outline or the patchwork cannot be used at all; it can also come together with
    blocking findings, so that it can be shown.
    """
    outline, findings, shift = outline_of(panel.outline, drawings)
    if outline is None:
        return None, findings
    patches, more = _patchwork(panel, outline, shift, drawings, units)
    turned = None if patches is None else turned_map(patches, panel.turn)
    return turned, (*findings, *more)


def _patchwork(
    panel: PanelModel, outline: Polygon, shift: Point, drawings: Mapping[str, bytes], units: Units
) -> tuple[PatchMap | None, tuple[Finding, ...]]:
    match panel.patchwork:
        case None:
            return map_from_cuts(outline, ())
        case CutsPatchwork(cuts=cuts):
            return map_from_cuts(outline, [(_moved(a, shift), _moved(b, shift)) for a, b in cuts])
        case GeneratedPatchwork():
            return generate(outline, panel.patchwork, PATCHWORK, units)
        case LinesPatchwork(lines=lines, gap=gap):
            return map_from_lines(outline, line_strokes(lines, shift), gap, f"{PATCHWORK}.lines", units)
        case DrawingPatchwork(gap=gap):
            strokes, findings = drawn_strokes(panel.patchwork, outline, panel.outline, shift, drawings)
            if strokes is None:
                return None, findings
            patches, more = map_from_lines(outline, strokes, gap, f"{PATCHWORK}.file", units)
            return patches, (*findings, *more)
        case _:
            assert_never(panel.patchwork)


def _moved(place: Point, shift: tuple[Mm, Mm]) -> Point:
    return (place[0] + shift[0], place[1] + shift[1])
