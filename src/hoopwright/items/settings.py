"""Reading a recipe's own settings, the table [make], with every problem at once."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from typing import Any, Final, get_args

from pydantic import BeforeValidator, ValidationError
from pydantic_core import ErrorDetails

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.words import quoted
from hoopwright.items.parts.rounding import rounded_down, rounded_up
from hoopwright.items.recipe import Recipe
from hoopwright.project.lengths import INCH, Units, read_length, show_length
from hoopwright.project.schema import Model

SIDES: Final = {"contents": ("width", "length", "thickness"), "body": ("width", "height")}
"""What the numbers of a setting are that is a row of them."""
BOUNDS: Final = {
    "greater_than": ("gt", "more than", "small"),
    "greater_than_equal": ("ge", "at least", "small"),
    "less_than": ("lt", "less than", "large"),
    "less_than_equal": ("le", "at most", "large"),
}


def read_settings(
    recipe: Recipe, table: Mapping[str, object], units: Units = "mm"
) -> tuple[Model | None, tuple[Finding, ...]]:
    """Return the settings of ``recipe`` from the table [make], or None and a finding (HW402) for each problem.

    Limits are told in ``units``, or in inches where the setting was written so.
    """
    try:
        return recipe.settings.model_validate(dict(table)), ()
    except ValidationError as error:
        return None, tuple(_finding(recipe, detail, units) for detail in error.errors(include_url=False))


def _finding(recipe: Recipe, detail: ErrorDetails, units: Units) -> Finding:
    place = ".".join(str(p) for p in detail["loc"] if not str(p).startswith(("function", "literal")))
    message, cure = _words(recipe, detail, place, units)
    return Finding("HW402", Severity.BLOCKS, message, cure, Where(path=f"make.{place}" if place else "make"))


def _words(recipe: Recipe, detail: ErrorDetails, place: str, units: Units) -> tuple[str, str]:
    known = list(recipe.settings.model_fields)
    about: dict[str, Any] = detail.get("ctx", {})
    if detail["type"] == "extra_forbidden":
        near = difflib.get_close_matches(place, known, n=1)
        first = f'Did you mean "{near[0]}"? ' if near else ""
        settings = ", ".join(quoted(known)) or "none"
        return f'"{place}" is not a setting of the {recipe.name}', f"{first}Its settings are: {settings}"
    if detail["type"] == "missing":
        return f'"{place}" is missing', f"Add a line {place} = … below [make]"
    if detail["type"] in BOUNDS:
        key, words, way = BOUNDS[detail["type"]]
        return _outside(recipe, detail, about[key], (words, way), units)
    if detail["type"] == "literal_error":
        return f'"{place}" cannot be {detail["input"]!r}', f"Choose {about['expected']}"
    if "error" in about:
        return str(about["error"]), 'Write a length such as 108, "108 mm" or "4 1/4 in"'
    return f'"{place}" cannot be {detail["input"]!r}', "Write a value of the kind the recipe's page shows"


def _outside(
    recipe: Recipe, detail: ErrorDetails, limit: float, words: tuple[str, str], units: Units
) -> tuple[str, str]:
    """Tell of a number beyond its limit, with the limit in the unit in which it was written."""
    name, given = _called(detail["loc"]), detail["input"]
    if not _measured(recipe, detail["loc"]):
        return f"The {name} of {given} is too {words[1]}", f"It must be {words[0]} {limit:g}"
    if isinstance(given, str):
        units = "in" if given.rstrip(" .").endswith(("in", "inch", "inches", '"', "″")) else "mm"
    mm = read_length(given)
    shown = given.strip() if isinstance(given, str) else show_length(mm, units)
    slip = isinstance(given, str) and units == "in" and words[1] == "large" and mm / INCH <= limit
    inward = rounded_down if words[1] == "large" else rounded_up
    meant = ". Did you mean millimetres?" if slip else ""
    return (
        f"The {name} of {shown} is too {words[1]}",
        f"It must be {words[0]} {show_length(inward(limit, units), units)}{meant}",
    )


def _called(loc: tuple[int | str, ...]) -> str:
    """Return what a setting is called: "width" for the first number of "contents", else its own name."""
    names = [str(p) for p in loc if isinstance(p, str) and not p.startswith(("function", "literal"))]
    last = loc[-1]
    sides = SIDES.get(names[0], ()) if names else ()
    if isinstance(last, int):
        return sides[last] if last < len(sides) else f"{' '.join(names)} (number {last + 1})".replace("_", " ")
    return names[-1].replace("_", " ")


def _measured(recipe: Recipe, loc: tuple[int | str, ...]) -> bool:
    """Whether the setting at a place is a length."""
    model: Any = recipe.settings
    found = False
    for part in loc:
        if part not in model.model_fields:
            continue
        info = model.model_fields[part]
        kinds = list(_parts(info.annotation))
        found = any(_reads_length(m) for m in (*info.metadata, *kinds))
        model = next((k for k in kinds if isinstance(k, type) and issubclass(k, Model)), model)
    return found


def _reads_length(note: object) -> bool:
    return isinstance(note, BeforeValidator) and note.func is read_length


def _parts(kind: Any) -> list[Any]:
    """Return a type and everything it is put together from, notes too."""
    return [kind, *(p for one in get_args(kind) for p in _parts(one))]
