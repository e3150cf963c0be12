"""What is planned while a hand moves a line, and changes that a drawing may need."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any, Final

from hoopwright.core.errors import GeometryError
from hoopwright.core.findings import blocking
from hoopwright.items.plan import Plan
from hoopwright.needle.ornaments import plan_ornaments
from hoopwright.needle.sewing import ornament_steps
from hoopwright.needle.shapes import Hooping
from hoopwright.outputs.screen import draft
from hoopwright.piecing.carrying import carried
from hoopwright.piecing.cures import cures
from hoopwright.piecing.frame import frame_of
from hoopwright.piecing.layouts.keeping import keeping
from hoopwright.piecing.order import Budget
from hoopwright.piecing.patch_map import patch_map
from hoopwright.piecing.shapes import PiecedPanel
from hoopwright.pipeline.planning import UNSEWN, Clock, asked_recipe, ordered, panel_model
from hoopwright.plane.drawing import read_drawing
from hoopwright.project.fields import field_of
from hoopwright.project.schema import (
    GeneratedPatchwork,
    LinesPatchwork,
    PanelModel,
    Patchwork,
    Project,
)

IN_HAND: Final = Budget(counting=150_000, search=150_000)
"""What is looked at for the order while a hand moves a line: enough for some 60 patches, and soon done for more."""


UNDRAWN: Final = replace(UNSEWN, bounded=True)
"""The order of a drawing that makes no pieces at all."""


def hand_view(project: Project, drawings: Mapping[str, bytes]) -> dict[str, Any]:
    """Return the panels while a hand moves a line in them: pieces, order and seam stitches, as a part of a draft view.

    "findings" are there only when the drawing cannot be sewn; what else is to say waits until the hand rests.
    """
    return draft.hand_view(_in_hand(project, drawings))


def cure_rows(project: Project, drawings: Mapping[str, bytes]) -> list[dict[str, Any]]:
    """Return small changes that make the first stuck panel of a project sewable, the nearest to the drawing first.

    Each has its panel's key, its sentence, its kind, the patches and lengths it names, and all lines after it, in the hoop.
    """
    for panel in _in_hand(project, drawings).panels:
        if len(panel.order.sections) != 1 and panel.order not in (UNSEWN, UNDRAWN):
            return [draft.cure_row(panel.key, c) for c in cures(panel.map, project.units)]
    return []


def _bare(model: PanelModel, key: str, drawings: Mapping[str, bytes]) -> Iterator[PiecedPanel]:
    """Yield a panel of which only the outline can be shown."""
    map_, _ = patch_map(model.model_copy(update={"patchwork": None}), drawings)
    if map_ is not None:
        yield PiecedPanel(key, map_.outline, map_, UNDRAWN, (), (), (), frame_of(model, drawings))


Lines = tuple[tuple[tuple[float, float], tuple[float, float]], ...]


def line_changes(
    project: Project, drawings: Mapping[str, bytes], lines: Lines | None = None, only: Sequence[str] | None = None
) -> dict[str, Any]:
    """Return the values of [panel] that turn its first panel into lines drawn by hand: ``lines`` in the hoop, or its own seams.

    Pieces keep the cloths they are seen in; with ``only``, those pieces alone. Cloths, seam stitches, grounds and order go with the pieces and seams they belong to; None takes a value out. Raises
    GeometryError when there is no drawing.
    """
    panel = _drawn_panel(project, drawings)
    drawn = lines if lines is not None else tuple((s.start, s.end) for s in panel.map.seams)
    placed = tuple(tuple(written_place(panel.frame.file_place(p)) for p in line) for line in drawn)
    return work_changes(project, drawings, LinesPatchwork.model_validate({"way": "lines", "lines": placed}), only)


def written_place(place: tuple[float, float]) -> tuple[float, float]:
    """Return a place as it is written in a project file: to hundredths of a mm."""
    return round(place[0], 2) + 0.0, round(place[1], 2) + 0.0


def work_changes(
    project: Project, drawings: Mapping[str, bytes], work: Patchwork, only: Sequence[str] | None = None
) -> dict[str, Any]:
    """Return the values of [panel] for another patchwork, in which pieces and seams keep what they have, as ``line_changes``."""
    panel = _drawn_panel(project, drawings)
    model = panel_model(project, panel.key).model_copy(update={"patchwork": work})
    new, _ = patch_map(model, drawings, project.units)
    cloths = {letter: cloth for letter, cloth in panel.cloths if only is None or letter in only}
    given = {} if new is None else carried(project.panel, cloths, panel.map, new)
    return {"patchwork": work.model_dump(mode="json", exclude_unset=True), **given}


def kept_changes(
    project: Project, drawings: Mapping[str, bytes], letters: Sequence[str], wish: GeneratedPatchwork
) -> tuple[dict[str, Any], int] | None:
    """Return the values of [panel] in which some pieces of its first panel stay and a rule draws the others anew.

    Also how many seeds were tried; None when none of them gave a drawing that can be sewn. Raises GeometryError when the others
    are not one region.
    """
    panel = _drawn_panel(project, drawings)
    found = keeping(panel.map, letters, wish)
    return None if found is None else (line_changes(project, drawings, found.lines, letters), found.tried)


def look_into_drawing(data: bytes, name: str) -> int:
    """Return how many lines an SVG drawing holds. Raises GeometryError for one that cannot be used."""
    found = len(read_drawing(data, name).paths)
    if not found:
        raise GeometryError(f"The drawing {name} holds no lines", "Turn its shapes into paths and save it again")
    return found


def _drawn_panel(project: Project, drawings: Mapping[str, bytes]) -> PiecedPanel:
    panels = _in_hand(project, drawings).panels
    if not panels:
        raise GeometryError("There is no drawing yet", "Mend what is said about the outline first")
    return panels[0]


def _in_hand(project: Project, drawings: Mapping[str, bytes]) -> Plan:
    """Plan as far as a hand sees it: no cloth to cut, no grounds, no work between the blocks."""
    field, clock = field_of(project.hoop), Clock()
    recipe, settings, findings = asked_recipe(project)
    if recipe is None or settings is None or blocking(findings):
        return Plan(project, field, (), (), findings)
    panels: list[PiecedPanel] = []
    hoopings: list[Hooping] = []
    for wanted in recipe.wanted(settings, project):
        model = (
            project.panel if wanted.outline is None else project.panel.model_copy(update={"outline": wanted.outline})
        )
        map_, found = patch_map(model, drawings, project.units)
        findings = (*findings, *found)
        if map_ is None:
            panels.extend(_bare(model, wanted.key, drawings))
            continue
        panel = replace(ordered(project, model, wanted.key, map_, clock, IN_HAND), frame=frame_of(model, drawings))
        panels.append(replace(panel, order=UNSEWN) if blocking(found) else panel)
        findings = (*findings, *(() if blocking(found) else panel.findings))
        if panels[-1].order.sewable:
            rows, _ = plan_ornaments(map_, model, map_.outline, project.units)
            hoopings.append(Hooping(panel.key, "", panel.key, 1, ornament_steps(rows, project)))
    return Plan(project, field, tuple(panels), tuple(hoopings), findings)
