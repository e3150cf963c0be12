"""The cutting list: which patch from which cloth, and how large."""

from __future__ import annotations

from hoopwright.build import Build
from hoopwright.outputs.templates.cuts import grain_words, rough_size
from hoopwright.piecing.shapes import Cover, Patch, PiecedPanel
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
        "template": show_size(patch.exact.width, patch.exact.height, project.units),
        "rough": show_size(*rough_size(project, patch), project.units),
        "grain": grain_words(patch),
        "chance": _chance(patch.rough.cover),
    }


def _chance(cover: Cover) -> str:
    """Return in how many layings out of a hundred a rough cut covers; none that failed is no promise of always."""
    if cover.chance > 0:
        return f"{(1 - cover.chance) * 100:.1f} %"
    return f"over {(1 - 1 / max(cover.trials, 2)) * 100:.1f} %"
