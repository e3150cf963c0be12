"""The cutting list: which patch from which cloth, and how large."""

from __future__ import annotations

from hoopwright.build import Build
from hoopwright.outputs.templates.cuts import grain_words
from hoopwright.piecing.shapes import Cut, Patch, PiecedPanel
from hoopwright.project.lengths import show_size
from hoopwright.project.schema import Project


def cutting(build: Build) -> dict[str, object]:
    """Return which ways of cutting are asked for, and the rows of every panel's list."""
    project = build.plan.project
    panels = [{"key": panel.key, "rows": _rows(project, panel)} for panel in build.plan.panels]
    return {
        "templates": project.piecing.cut != "rough",
        "rough": project.piecing.cut != "templates",
        "panels": [p for p in panels if p["rows"]],
    }


def _rows(project: Project, panel: PiecedPanel) -> list[dict[str, object]]:
    return [_row(project, patch) for patch in panel.patches if patch.made_of is None]


def _row(project: Project, patch: Patch) -> dict[str, object]:
    cloth = project.cloths[patch.cloth]
    return {
        "patch": f"{patch.number} · {patch.letters[0]}",
        "cloth": cloth.name,
        "colour": cloth.colour,
        "template": _size(project, patch.exact),
        "rough": _size(project, patch.rough),
        "grain": grain_words(patch),
        "chance": f"{(1 - patch.rough.cover.chance) * 100:.1f} %",
    }


def _size(project: Project, cut: Cut) -> str:
    return show_size(cut.width, cut.height, project.units)
