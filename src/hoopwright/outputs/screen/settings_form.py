"""Settings of a project that is under way, as screens ask for them: the item's own, and the maker's machine and habits.

Rows are those of ``recipe_form``. More kinds: "cloth" and "thread" name one of the project's, "text" is a word or two, "share" a
part of one. ``fine`` marks lengths so small that they are told in mm to everybody: sixteenths of an inch are too coarse.
"""

from __future__ import annotations

from functools import cache
from typing import Any, Final

from hoopwright.catalog.hoops import fields
from hoopwright.core.types import Mm
from hoopwright.items.panel import PANEL
from hoopwright.items.recipe import Recipe
from hoopwright.outputs.screen.recipe_form import Row, names_key, setting_row
from hoopwright.project.fields import LARGEST_FIELD, SMALLEST_FIELD
from hoopwright.project.schema import Project

HABITS: Final[tuple[tuple[str, tuple[str, ...]], ...]] = (
    (
        "machine",
        ("hoop.field", "hoop.margin", "machine.speed", "machine.longest_stitch", "machine.shortest_stitch"),
    ),
    ("hooped", ("foundation.name", "foundation.batting")),
    (
        "laying",
        (
            "piecing.allowance",
            "piecing.cut",
            "piecing.rough_spare",
            "piecing.shift",
            "piecing.turn",
            "piecing.chance",
            "piecing.trials",
            "piecing.seed",
            "piecing.placement_lines",
            "piecing.tack_flipped",
        ),
    ),
    (
        "lines",
        (
            "stitching.run",
            "stitching.seam_run",
            "stitching.layout_run",
            "stitching.lock",
            "stitching.tack_outside",
            "stitching.hold_outside",
            "stitching.seam_past_end",
            "stitching.numeral_height",
        ),
    ),
)
"""The settings of the sheet "Your machine and habits" in its groups, by their places in the project file."""

FINE: Final[Mm] = 12.7
"""Lengths that can be no more than this, mm, half an inch, are told in mm to everybody."""

KINDS: Final = {"foundation.name": "text", "foundation.batting": "text", "piecing.chance": "share"}
"""Rows of a kind that their type does not tell."""

UPRIGHT: Final = ("glasses-sleeve", "mat", "bookmark", "key-tab", "frame-purse", "zip-pouch", "label", "accent")
"""Items that are sewn upright: their panel cannot be turned in the hoop, or they have none."""


@cache
def habit_groups() -> list[dict[str, Any]]:
    """Return the groups of settings of the machine, the hoop, the laying and the working lines, each row with its place."""
    return [{"key": key, "rows": [_habit(path) for path in paths]} for key, paths in HABITS]


def _habit(path: str) -> Row:
    table, name = path.split(".")
    if path == "hoop.field":
        return _field()
    model = Project.model_fields[table].annotation
    assert isinstance(model, type)
    info = model.model_fields[name]
    found = setting_row(name, info) or {"name": name, "kind": "text", "usual": info.default}
    row = {**found, "path": path, "kind": KINDS.get(path, found["kind"])}
    if row["kind"] == "length" and row.get("most", row.get("below", FINE + 1.0)) <= FINE:
        row["fine"] = True
    return row


def _field() -> Row:
    bounds = {"least": SMALLEST_FIELD, "most": LARGEST_FIELD}
    sold = [{"name": f.name, "width": f.width, "height": f.height} for f in fields()]
    return {"name": "field", "path": "hoop.field", "kind": "field", "usual": "130x180", "bounds": bounds, "sold": sold}


def make_form(recipe: Recipe) -> list[Row]:
    """Return the settings of a recipe in its own order, those that name cloths and threads too; none for a mere panel."""
    if recipe.name == PANEL.name:
        return []
    rows = []
    for name, info in recipe.settings.model_fields.items():
        row = setting_row(name, info)
        if row is None and names_key(info):
            row = {"name": name, "kind": "thread" if "thread" in name else "cloth", "usual": None}
        if row is not None:
            rows.append({**row, "path": f"make.{name}"})
    return rows
