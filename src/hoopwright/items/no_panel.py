"""Settings of [panel] that an item without a pieced panel passes over."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Final

from hoopwright.core.findings import Finding, Severity, Where, blocking
from hoopwright.items.recipe import Recipe
from hoopwright.project.schema import PanelModel, Project

SEWN_ON: Final = {
    "ground": "quilts",
    "grounds": "quilts",
    "lettering": "sews letters on",
    "placed": "sews stitch files on",
    "accents": "sews accents on",
    "edge_stitch": "sews a row along the edge of",
}
"""What is sewn on a pieced panel, by the setting that asks for it."""


def speaking(recipe: Recipe) -> Recipe:
    """Return the recipe, which also tells (HW490) what [panel] asks for and its items do not have."""

    def refuse(settings: Any, project: Project) -> tuple[Finding, ...]:
        said = recipe.refuse(settings, project)
        return said if blocking(said) else (*said, *without_effect(recipe, settings, project))

    return replace(recipe, refuse=refuse)


def without_effect(recipe: Recipe, settings: Any, project: Project) -> tuple[Finding, ...]:
    """Return a note for each setting of what is sewn on a panel, if the item with these sound settings has no panel."""
    usual = PanelModel()
    asked = [name for name in SEWN_ON if getattr(project.panel, name) != getattr(usual, name)]
    if not asked or recipe.wanted(settings, project):
        return ()
    return tuple(_note(recipe, name) for name in asked)


def _note(recipe: Recipe, name: str) -> Finding:
    message = f"[panel.{name}] {SEWN_ON[name]} a pieced panel, and the {recipe.name} has none: it has no effect"
    return Finding(
        "HW490", Severity.NOTES, message, "Take it out, or choose an item with a panel", Where(path=f"panel.{name}")
    )
