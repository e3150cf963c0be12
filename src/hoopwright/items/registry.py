"""All recipes by name: those of this package, and those that other packages register.

A package adds a recipe by an entry point in the group "hoopwright.recipes" that names a Recipe value; docs/own-recipe.md
shows a complete one.
"""

from __future__ import annotations

import difflib
from functools import cache
from importlib.metadata import entry_points
from typing import Final

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.words import quoted
from hoopwright.items.accent import ACCENT
from hoopwright.items.block import BLOCK
from hoopwright.items.bookmark import BOOKMARK
from hoopwright.items.flap_pouch import FLAP_POUCH
from hoopwright.items.frame_purse import FRAME_PURSE
from hoopwright.items.glasses_sleeve import GLASSES_SLEEVE
from hoopwright.items.key_tab import KEY_TAB
from hoopwright.items.label import LABEL
from hoopwright.items.mat import MAT
from hoopwright.items.no_panel import speaking
from hoopwright.items.panel import PANEL
from hoopwright.items.recipe import Recipe
from hoopwright.items.zip_pouch import ZIP_POUCH

GROUP: Final = "hoopwright.recipes"
OWN: Final[tuple[Recipe, ...]] = (
    PANEL,
    BLOCK,
    FLAP_POUCH,
    GLASSES_SLEEVE,
    MAT,
    BOOKMARK,
    KEY_TAB,
    FRAME_PURSE,
    ZIP_POUCH,
    LABEL,
    ACCENT,
)


@cache
def recipes() -> tuple[Recipe, ...]:
    """Return every recipe, our own first, then registered ones by name. A registered one never hides one of ours.

    All of them tell of settings of [panel] that have no effect on their items.
    """
    found = [point.load() for point in sorted(entry_points(group=GROUP), key=lambda p: p.name)]
    ours = {r.name for r in OWN}
    others = (r for r in found if isinstance(r, Recipe) and r.name not in ours)
    return tuple(speaking(r) for r in (*OWN, *others))


def recipe_named(name: str) -> tuple[Recipe | None, tuple[Finding, ...]]:
    """Return the recipe called ``name``, or None and a finding that offers the nearest names."""
    known = {r.name: r for r in recipes()}
    if name in known:
        return known[name], ()
    near = difflib.get_close_matches(name, known, n=1)
    first = f'Did you mean "{near[0]}"? ' if near else ""
    cure = f"{first}Items are {', '.join(quoted(known))}"
    return None, (Finding("HW401", Severity.BLOCKS, f'There is no item called "{name}"', cure, Where(path="item")),)
