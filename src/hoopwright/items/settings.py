"""Reading a recipe's own settings, the table [make], with every problem at once."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.items.recipe import Recipe
from hoopwright.project.schema import Model


def read_settings(recipe: Recipe, table: Mapping[str, object]) -> tuple[Model | None, tuple[Finding, ...]]:
    """Return the settings of ``recipe`` from the table [make], or None and a finding (HW402) for each problem."""
    try:
        return recipe.settings.model_validate(dict(table)), ()
    except ValidationError as error:
        return None, tuple(_finding(recipe, detail) for detail in error.errors(include_url=False))


def _finding(recipe: Recipe, detail: ErrorDetails) -> Finding:
    place = ".".join(str(p) for p in detail["loc"] if not str(p).startswith(("function", "literal")))
    message, cure = _words(recipe, detail, place)
    return Finding("HW402", Severity.BLOCKS, message, cure, Where(path=f"make.{place}" if place else "make"))


def _words(recipe: Recipe, detail: ErrorDetails, place: str) -> tuple[str, str]:
    known = list(recipe.settings.model_fields)
    about: dict[str, Any] = detail.get("ctx", {})
    if detail["type"] == "extra_forbidden":
        near = difflib.get_close_matches(place, known, n=1)
        first = f'Did you mean "{near[0]}"? ' if near else ""
        settings = ", ".join(known) or "none"
        return f'"{place}" is not a setting of the {recipe.name}', f"{first}Its settings are: {settings}"
    if detail["type"] == "missing":
        return f'"{place}" is missing', f"Add a line {place} = … below [make]"
    bounds = {"greater_than": ("gt", "more than"), "greater_than_equal": ("ge", "at least")}
    bounds |= {"less_than": ("lt", "less than"), "less_than_equal": ("le", "at most")}
    if detail["type"] in bounds:
        key, words = bounds[detail["type"]]
        return f'"{place}" is {detail["input"]}, outside its limits', f"It must be {words} {about[key]:g}"
    if detail["type"] == "literal_error":
        return f'"{place}" cannot be {detail["input"]!r}', f"Choose {about['expected']}"
    if "error" in about:
        return str(about["error"]), 'See the length, or write it as 108, "108 mm" or "4 1/4 in"'
    return f'"{place}" cannot be {detail["input"]!r}', "Write a value of the kind the recipe's page shows"
