"""A first project file for any recipe: the settings of its own model with their usual values, limits and words."""

from __future__ import annotations

import inspect
import json
import re
import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any, Final, Literal, get_args, get_origin

from pydantic import BeforeValidator
from pydantic.fields import FieldInfo

from hoopwright.core.types import Mm
from hoopwright.items.recipe import Recipe
from hoopwright.project.lengths import INCH, Units, read_length, show_length
from hoopwright.project.schema import Model
from hoopwright.project.starter import starter_text

KINDS: Final = {
    "lining": ("ticking", "striped ticking", "#cfd3d2", 0.3),
    "stiffener": ("felt", "firm felt", "#b9b7ae", 1.0),
    "ribbon": ("tape", "herringbone tape", "#e3dcc6", 0.6),
    "zip": ("zip", "zip with plastic teeth", "#3a4148", 0.8),
}
"""Key, name, colour and thickness of what an item may need besides cloth, by kind."""

SUITED: Final = {"lining": "ticking", "zip": "zip", "ribbon": "tape", "strap": "tape", "stiffener": "felt"}
"""What a setting that names a cloth is given, by a word of its name; any other one is given OUTER."""

OUTER: Final = "indigo"
THREAD: Final = "gold"

LEAST_INCHES: Final[Mm] = 12.0
"""Shorter lengths stay in mm even for makers who use inches: sixteenths would be too coarse for them."""

NO_BATTING: Final = "    # left out here: with it, more cloth would lie under the foot than fits"
"""Why a first project has no batting where many layers are sewn together."""

WIDTH: Final = 110
"""Letters in a line of remarks."""


@dataclass(frozen=True, slots=True)
class Start:
    """What is found out by trying: the field ([width, height] or a name as the file writes it), kinds of cloth used, patches.

    ``batting`` says whether batting is hooped with the foundation.
    """

    field: str
    kinds: tuple[str, ...]
    patches: int
    batting: bool = True


def item_starter_text(recipe: Recipe, title: str, units: Units, start: Start) -> str:
    """Return the text of a project for ``recipe``. Raises HoopwrightError for a title that cannot be one."""
    text = starter_text(title, units)
    head, tail = text.split("# The finished panel, without allowance.", 1)
    end = tail[tail.index("# What to weigh") :]
    head = re.sub(r"^item = .*$", f'item = "{recipe.name}"', head, flags=re.MULTILINE)
    head = re.sub(r"^field = \S+", f"field = {start.field}", head, flags=re.MULTILINE)
    make = _make(recipe, units)
    if not start.batting:
        head = re.sub(r"^batting = (\S.*?\S) +#.*$", rf"# batting = \1{NO_BATTING}", head, flags=re.MULTILINE)
    kinds = [kind for kind, row in KINDS.items() if kind in start.kinds or f' = "{row[0]}"' in make]
    head = head.replace("[hoop]\n", f"{make}\n\n[hoop]\n", 1)
    head = head.replace("# Threads: key", "\n\n".join([*map(_cloth, kinds), "# Threads: key"]), 1)
    return head + _patchwork(start.patches) + end


def _make(recipe: Recipe, units: Units) -> str:
    """Return the table [make] with the recipe's words as remarks."""
    words = inspect.cleandoc(recipe.settings.__doc__ or "").replace("``", '"')
    remarks = [f"{recipe.title}: {recipe.summary}", *words.split("\n\n")]
    lines = [f"# {row}" for text in remarks for row in textwrap.wrap(" ".join(text.split()), WIDTH)]
    rows = [_setting(name, info, units) for name, info in recipe.settings.model_fields.items()]
    return "\n".join([*lines, "[make]", *rows])


def _setting(name: str, info: FieldInfo, units: Units) -> str:
    value = _value(name, info, units)
    line = f"# {name} = {_example(info, units)}".rstrip() if value is None else f"{name} = {value}"
    shown: Units = "mm" if value is not None and not value.startswith('"') else units
    left_out = "left out as a rule" if value is None else ""
    remark = ", ".join(x for x in (info.description or "", _limits(info, shown), left_out) if x)
    return f"{line:<25} # {remark}" if remark else line


def _example(info: FieldInfo, units: Units) -> str:
    """Return a value that a setting left out as a rule may have: its example, else its first choice."""
    choices = _choices(info)
    shown = info.examples[0] if info.examples else choices[0] if choices else None
    if shown is None:
        return ""
    lengths = [float(v) for v in shown] if isinstance(shown, tuple) else shown
    lengths = float(shown) if isinstance(shown, int) and _is_length(info) else lengths
    return _written(lengths, units, measured=isinstance(shown, tuple) or _is_length(info))


def _choices(info: FieldInfo) -> list[Any]:
    return [c for kind in _kinds(info.annotation) if get_origin(kind) is Literal for c in get_args(kind)]


def _value(name: str, info: FieldInfo, units: Units) -> str | None:
    """Return the usual value as the file writes it; None when the setting is left out as a rule."""
    default = None if info.is_required() else info.get_default(call_default_factory=True)
    if default is None:
        return _suited(name) if _names_a_key(info) else None
    return _written(default, units, measured=_is_length(info))


def _suited(name: str) -> str:
    if "thread" in name:
        return f'"{THREAD}"'
    return f'"{next((key for word, key in SUITED.items() if word in name), OUTER)}"'


def _written(value: Any, units: Units, *, measured: bool) -> str:
    if isinstance(value, Model):
        given = ((n, getattr(value, n)) for n in type(value).model_fields if n in value.model_fields_set)
        rows = [f"{n} = {_written(v, 'mm', measured=False)}" for n, v in given]
        return f"{{ {', '.join(rows)} }}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(_written(v, units, measured=measured) for v in value)}]"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float) and measured and units == "in" and value >= LEAST_INCHES:
        return f'"{show_length(round(value / INCH * 16) / 16 * INCH, "in")}"'
    return f"{value:g}" if isinstance(value, float) else json.dumps(value, ensure_ascii=False)


def _limits(info: FieldInfo, units: Units) -> str:
    """Return between which values a setting may lie, or which it may be."""
    choices = _choices(info)
    if choices:
        return " or ".join(json.dumps(c) for c in choices)
    if bool in _kinds(info.annotation):
        return "true or false"
    if any(get_origin(kind) is tuple for kind in _kinds(info.annotation)):
        return ""
    found = {name: getattr(m, name) for m in _metadata(info) for name in ("gt", "ge", "lt", "le") if hasattr(m, name)}
    shown = {
        name: show_length(v, units) if _is_length(info) else f"{v:g}" for name, v in found.items() if v is not None
    }
    words = (("ge", "at least"), ("gt", "more than"), ("le", "at most"), ("lt", "less than"))
    return ", ".join(f"{word} {shown[name]}" for name, word in words if name in shown)


def _metadata(info: FieldInfo) -> Iterator[Any]:
    """Yield what is said about a setting, also inside "or nothing"."""
    yield from info.metadata
    for kind in _kinds(info.annotation):
        if get_origin(kind) is Annotated:
            yield from (m for part in get_args(kind)[1:] for m in getattr(part, "metadata", [part]))


def _kinds(kind: Any) -> tuple[Any, ...]:
    """Return a type and everything it is put together from."""
    if get_origin(kind) is Literal:
        return (kind,)
    inner = get_args(kind)[:1] if get_origin(kind) is Annotated else get_args(kind)
    return (kind, *(k for part in inner for k in _kinds(part)))


def _is_length(info: FieldInfo) -> bool:
    return any(isinstance(m, BeforeValidator) and m.func is read_length for m in _metadata(info))


def _names_a_key(info: FieldInfo) -> bool:
    """Whether a setting names a cloth or thread."""
    return any(getattr(m, "pattern", None) for m in _metadata(info))


def _cloth(kind: str) -> str:
    key, name, colour, thickness = KINDS[kind]
    return f'[cloths.{key}]\nname = "{name}"\ncolour = "{colour}"\nthickness = {thickness}\nkind = "{kind}"'


def _patchwork(patches: int) -> str:
    return f"""# The patchwork. Its outline is drawn from the sizes below [make]; the patches are cut out of it by a rule, and another
# seed makes another drawing. Other ways: "crazy-cuts", "strips", "fan", "rounds", or lines of your own ("cuts", "lines", "drawing").
[panel.patchwork]
way = "crazy-centre"
seed = 1
patches = {patches:<14} # the wished number

"""
