"""What must change with a panel's outline: cuts, and what patches and seams have."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from shapely.geometry import Polygon
from shapely.geometry.polygon import orient

from hoopwright.catalog.hoops import fields
from hoopwright.core.findings import Finding, blocking
from hoopwright.outputs.screen.draft import finding_row
from hoopwright.piecing.carrying import carried, heirs, seam_heirs
from hoopwright.piecing.frame import frame_of
from hoopwright.piecing.outline import outline_of
from hoopwright.piecing.patch_map import patch_map
from hoopwright.piecing.refitting import box_map, brought, refitted
from hoopwright.pipeline.drafting import written_place
from hoopwright.pipeline.planning import asked_recipe
from hoopwright.project.fields import field_of
from hoopwright.project.schema import CutsPatchwork, LinesPatchwork, PanelModel, Project

Files = Mapping[str, bytes]


def resized(before: Project, old_files: Files, after: Project, files: Files) -> dict[str, Any]:
    """Return what belongs to a change of sizes or outline from one project to the other.

    "values" are values of [panel] that must change too: the cuts, carried along, and what would else be given to other patches
    and seams. "refused" says why the changed project cannot be made when the project before could, and "field" then names the
    smallest hoop in which it could.
    """
    said = _refused(after)
    if said and not _refused(before):
        return {"values": {}, "refused": [finding_row(f) for f in said], "field": _roomier(after)}
    return {"values": _carried(before, old_files, after, files), "refused": [], "field": None}


def _refused(project: Project) -> tuple[Finding, ...]:
    return blocking(asked_recipe(project)[2])


def _roomier(project: Project) -> str | None:
    """Return the name of the smallest field in which nothing speaks against the settings of a project."""
    area = field_of(project.hoop)
    for field in sorted(fields(), key=lambda f: f.width * f.height):
        tried = project.model_copy(update={"hoop": project.hoop.model_copy(update={"field": field.name})})
        if field.width * field.height > area[0] * area[1] and not _refused(tried):
            return field.name
    return None


def _carried(before: Project, old_files: Files, after: Project, files: Files) -> dict[str, Any]:
    was, now = before.panel.patchwork, after.panel.patchwork
    if was != now or not isinstance(was, CutsPatchwork | LinesPatchwork):
        return {}
    old, new = _panel(before), _panel(after)
    if old is None or new is None:
        return {}
    ring, other = _ring(old, old_files), _ring(new, files)
    if ring is None or other is None or ring.equals_exact(other, 0.0):
        return {}
    strokes = was.cuts if isinstance(was, CutsPatchwork) else was.lines
    moved = tuple((written_place(a), written_place(b)) for a, b in refitted(strokes, ring, other))
    key = "cuts" if isinstance(was, CutsPatchwork) else "lines"
    work = was.model_copy(update={key: moved})
    values = {"patchwork": work.model_dump(mode="json", exclude_unset=True)}
    return {
        **values,
        **_given(before, (old, old_files), (new.model_copy(update={"patchwork": work}), files), (ring, other)),
    }


def _given(
    project: Project, old: tuple[PanelModel, Files], new: tuple[PanelModel, Files], rings: tuple[Polygon, Polygon]
) -> dict[str, Any]:
    """Return what patches and seams keep, for a drawing in which some have other letters or numbers; nothing for any other."""
    was, _ = patch_map(*old, project.units)
    now, _ = patch_map(*new, project.units)
    if was is None or now is None:
        return {}
    seen = brought(was, frame_of(*old), box_map(*rings), frame_of(*new))
    letters = heirs(seen, now)
    numbers = seam_heirs(seen, now)
    if all(a == b for a, b in letters.items()) and all(rows in ((), (n,)) for n, rows in numbers.items()):
        return {}
    return carried(project.panel, project.panel.cloths, seen, now)


def _panel(project: Project) -> PanelModel | None:
    """Return the first panel of a project with its outline; None for an item without one, or one that cannot be drafted."""
    recipe, settings, _ = asked_recipe(project)
    if recipe is None or settings is None or _refused(project):
        return None
    wanted = recipe.wanted(settings, project)
    if not wanted:
        return None
    outline = wanted[0].outline
    return project.panel if outline is None else project.panel.model_copy(update={"outline": outline})


def _ring(panel: PanelModel, files: Files) -> Polygon | None:
    """Return an outline in its own numbers."""
    outline, _, (x, y) = outline_of(panel.outline, files)
    if outline is None:
        return None
    return orient(Polygon([(a - x, b - y) for a, b in outline.exterior.coords]))
