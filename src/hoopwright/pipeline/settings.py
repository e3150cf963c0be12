"""Which settings of a project that is under way a screen may ask for."""

from __future__ import annotations

from typing import Any

from hoopwright.items.registry import recipe_named
from hoopwright.outputs.screen.settings_form import TURN, UPRIGHT, habit_groups, make_form
from hoopwright.project.schema import Project


def settings_form(project: Project) -> dict[str, Any]:
    """Return the rows of a project's settings; see hoopwright.outputs.screen.settings_form.

    "make" are those of its item, "habits" the groups of machine, hoop, laying and working lines; "turn" is that of its panel in the hoop,
    None for an item that is sewn upright.
    """
    recipe, _ = recipe_named(project.item)
    return {
        "make": [] if recipe is None else make_form(recipe),
        "habits": habit_groups(),
        "turn": None if project.item in UPRIGHT else TURN,
        "item": project.item,
    }
