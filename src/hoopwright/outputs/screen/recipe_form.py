"""The settings of a recipe as a screen asks for them: name, kind, usual value, limits, choices.

Lengths are mm. Cloths, threads, grounds and files are chosen elsewhere and left out here.
"""

from __future__ import annotations

import types
from collections.abc import Iterable, Iterator
from typing import Annotated, Any, Final, Literal, Union, get_args, get_origin

from pydantic import BeforeValidator
from pydantic.fields import FieldInfo

from hoopwright.core.types import Mm
from hoopwright.items.panel import PANEL
from hoopwright.items.recipe import Recipe
from hoopwright.project.lengths import read_length
from hoopwright.project.starter import LEAST, MOST

Row = dict[str, Any]

LIMITS: Final = {"ge": "least", "gt": "above", "le": "most", "lt": "below"}
PANEL_ROWS: Final[tuple[Row, ...]] = (
    {"name": "width", "kind": "length", "usual": 108.0, "least": LEAST, "most": MOST},
    {"name": "height", "kind": "length", "usual": 92.0, "least": LEAST, "most": MOST},
    {
        "name": "shape",
        "kind": "choice",
        "usual": "flap",
        "choices": ["flap", "rectangle", "tongue", "ellipse"],
    },
)
"""A first panel has no settings; it asks for its outline."""


def recipe_form(recipe: Recipe) -> list[Row]:
    """Return the settings of a recipe that a first project may give, in its own order."""
    if recipe.name == PANEL.name:
        return [dict(row) for row in PANEL_ROWS]
    rows = (setting_row(name, info) for name, info in recipe.settings.model_fields.items())
    return [row for row in rows if row is not None]


def setting_row(name: str, info: FieldInfo) -> Row | None:
    """Return a setting as a screen asks for it; None for one that is chosen elsewhere."""
    kind = _kind(info)
    if kind is None:
        return None
    usual = None if info.is_required() else info.get_default(call_default_factory=True)
    row: Row = {"name": name, "kind": kind, "usual": list(usual) if isinstance(usual, tuple) else usual}
    parts = list(_parts(info.annotation))
    choices = [c for part in parts if get_origin(part) is Literal for c in get_args(part)]
    if choices:
        row["choices"] = choices
    if kind == "lengths":
        row["count"] = next(len(get_args(p)) for p in parts if get_origin(p) is tuple)
        sides = next(get_args(p) for p in parts if get_origin(p) is tuple)
        row["bounds"] = [{LIMITS[k]: float(v) for k, v in _bounds(_notes(side))} for side in sides]
        row["example"] = list(info.examples[0]) if info.examples else None
        return row
    return row | {LIMITS[k]: float(v) for k, v in _limits(info)}


def names_key(info: FieldInfo) -> bool:
    """Whether a setting names a cloth or a thread of the project."""
    return any(getattr(m, "pattern", None) for m in _metadata(info))


def _kind(info: FieldInfo) -> str | None:
    """Return of which kind a setting is; None for one that is chosen elsewhere."""
    parts = list(_parts(info.annotation))
    if names_key(info):
        return None
    tuples = [p for p in parts if get_origin(p) is tuple]
    if tuples:
        return "lengths" if _measured(info) and Ellipsis not in get_args(tuples[0]) else _texts(tuples)
    if any(get_origin(p) is Literal for p in parts):
        return "choice"
    if bool in parts:
        return "flag"
    if int in parts:
        return "whole"
    if float in parts:
        return "length" if _measured(info) else "number"
    return None


def _texts(tuples: list[Any]) -> str | None:
    return "texts" if all(str in set(_parts(a)) for a in get_args(tuples[0]) if a is not Ellipsis) else None


def _measured(info: FieldInfo) -> bool:
    return any(isinstance(m, BeforeValidator) and m.func is read_length for m in _metadata(info))


def _limits(info: FieldInfo) -> Iterator[tuple[str, Mm]]:
    yield from _bounds(_metadata(info))


def _bounds(notes: Iterable[Any]) -> Iterator[tuple[str, Mm]]:
    for note in notes:
        for name in LIMITS:
            value = getattr(note, name, None)
            if isinstance(value, int | float):
                yield name, value


def _metadata(info: FieldInfo) -> Iterator[Any]:
    """Yield what is said about a setting, also inside "or nothing"."""
    yield from info.metadata
    yield from _notes(info.annotation)


def _notes(kind: Any) -> Iterator[Any]:
    for part in _parts(kind):
        if get_origin(part) is Annotated:
            for note in get_args(part)[1:]:
                yield from getattr(note, "metadata", [note])


def _parts(kind: Any) -> Iterator[Any]:
    """Yield a type and everything it is put together from."""
    yield kind
    origin = get_origin(kind)
    if origin is Literal:
        return
    within = get_args(kind) if origin in (Annotated, tuple, Union, types.UnionType) else ()
    for part in within[:1] if origin is Annotated else within:
        yield from _parts(part)
