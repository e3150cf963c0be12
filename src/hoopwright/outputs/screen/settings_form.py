"""Settings of a project that is under way, as screens ask for them: the item's own, and the maker's machine and habits.

Rows are those of ``recipe_form``. More kinds: "cloth" and "thread" name one of the project's, "text" is a word or two, "share" a
part of one. ``fine`` marks lengths so small that they are told in mm to everybody: sixteenths of an inch are too coarse.
"""

from __future__ import annotations

from functools import cache
from typing import Any, Final

from pydantic.fields import FieldInfo

from hoopwright.catalog.hoops import fields
from hoopwright.core.types import Mm
from hoopwright.items.label import LINE
from hoopwright.items.label import PLAIN as PLAIN_BORDER
from hoopwright.items.panel import PANEL
from hoopwright.items.recipe import Recipe
from hoopwright.needle.grounds.drawing import GROUNDS as OWN_MOTIF
from hoopwright.needle.grounds.table import GROUNDS, PLAIN
from hoopwright.needle.seam_stitches import SEAM_STITCHES
from hoopwright.outputs.screen.recipe_form import Row, names_key, setting_row
from hoopwright.project.fields import LARGEST_FIELD, SMALLEST_FIELD
from hoopwright.project.schema import GroundModel, Project

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

LEAST_SPACING: Final[Mm] = 1.5
MOST_SPACING: Final[Mm] = 60.0
"""Limits of the spacing of a ground, mm, as the project file has them."""

KINDS: Final = {"foundation.name": "text", "foundation.batting": "text", "piecing.chance": "share"}
"""Rows of a kind that their type does not tell."""

UPRIGHT: Final = ("glasses-sleeve", "mat", "bookmark", "key-tab", "frame-purse", "zip-pouch", "label", "accent")
"""Items that are sewn upright: their panel cannot be turned in the hoop, or they have none."""


TURN: Final[Row] = {
    "name": "turn",
    "path": "panel.turn",
    "kind": "number",
    "usual": 0.0,
    "least": -360.0,
    "most": 360.0,
}


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
    rows = ((name, _own_row(name, info)) for name, info in recipe.settings.model_fields.items())
    return [{**row, "path": f"make.{name}"} for name, row in rows if row is not None]


def _own_row(name: str, info: FieldInfo) -> Row | None:
    """Return a setting of an item, one that names a cloth, a thread, a border or a ground too; None for files and lists of motifs."""
    if name == "border":
        choices = [PLAIN_BORDER, LINE, *SEAM_STITCHES]
        return {"name": name, "kind": "choice", "usual": info.default, "choices": choices}
    if info.annotation is GroundModel:
        kinds = [PLAIN, *(g.name for g in GROUNDS.values() if not any(g is own for own in OWN_MOTIF))]
        bounds = {"least": LEAST_SPACING, "most": MOST_SPACING}
        usual = info.get_default(call_default_factory=True).model_dump(mode="json", exclude_unset=True)
        return {"name": name, "kind": "ground", "usual": usual, "choices": kinds, "bounds": bounds}
    if names_key(info):
        return {"name": name, "kind": "thread" if "thread" in name else "cloth", "usual": None}
    return setting_row(name, info)
