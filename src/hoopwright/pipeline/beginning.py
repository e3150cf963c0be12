"""What can be made, and first projects."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any, Final, get_args

from hoopwright.catalog.hoops import fields
from hoopwright.checks.cloth import comes_out
from hoopwright.checks.rules import check
from hoopwright.core.errors import HoopwrightError, ProjectError
from hoopwright.core.findings import Finding, Severity, blocking, worst
from hoopwright.items.panel import PANEL
from hoopwright.items.plan import Plan
from hoopwright.items.recipe import Recipe
from hoopwright.items.registry import recipe_named, recipes
from hoopwright.items.settings import read_settings
from hoopwright.items.starter import KINDS, Start, item_starter_text
from hoopwright.pipeline.planning import plan
from hoopwright.project.lengths import Units, read_length
from hoopwright.project.load import parse
from hoopwright.project.save import set_value
from hoopwright.project.schema import Language
from hoopwright.project.starter import Shape, starter_text
from hoopwright.translation.sentences import translated

PATCHES: Final = (6, 4, 3, 2)
"""Numbers of patches tried for a first project, the most wanted first."""

LOOKED_AT: Final = 2
"""So many of them are carried out on the cloth before the mildest is taken."""

ENGLISH: Final = "en"

SAMPLE: Final = "lines"
"""The setting of a recipe that holds letters to begin with."""

CALM: Final = (0, 0)
"""The burden of a project of which nothing is to be minded: its worst finding, and how many warnings."""

TOO_THICK: Final = ("HW563", "HW564")
"""Findings of more cloth under the foot than fits, which thinner batting or none may cure."""


def items() -> tuple[Recipe, ...]:
    """Return the recipes of everything that can be made."""
    return recipes()


def new_project(
    item: str, title: str, units: Units = "mm", make: Mapping[str, Any] | None = None, language: Language = "en"
) -> str:
    """Return the text of a first project for an item, with a field and a patchwork that suit its sizes.

    ``make`` gives settings other values than the usual ones; see ``recipe_form``. ``language`` is that of its results, and of the
    names of its cloths and threads. Raises HoopwrightError for an item that does not exist or a title that cannot be one,
    ProjectError for settings that cannot be made.
    """
    text = _begun(item, title, units, make)
    return text if language == ENGLISH else _in_language(text, language, make or {})


def _in_language(text: str, language: Language, given: Mapping[str, Any]) -> str:
    """Return a first project whose results, names and sample letters are in a language; what it explains about itself stays English.

    What the maker has ``given`` stays as it is.
    """
    project = parse(text, None).project
    kinds = (("cloths", project.cloths), ("threads", project.threads))
    names = {f"{kind}.{key}.name": row.name for kind, rows in kinds for key, row in rows.items()}
    names["foundation.name"] = project.foundation.name
    if project.foundation.batting:
        names["foundation.batting"] = project.foundation.batting
    text = set_value(text, "language", language)
    lines = project.make.get(SAMPLE)
    if isinstance(lines, list | tuple) and SAMPLE not in given:
        text = set_value(text, f"make.{SAMPLE}", [translated(line, language) for line in lines])
    for path, name in names.items():
        text = set_value(text, path, translated(name, language))
    return text


def _begun(item: str, title: str, units: Units, make: Mapping[str, Any] | None) -> str:
    recipe, findings = recipe_named(item)
    if recipe is None:
        raise HoopwrightError(findings[0].message, findings[0].cure)
    given = dict(make or {})
    if recipe.name == PANEL.name:
        return _first_panel(title, units, given)
    starts = [Start(f'"{f.name}"', tuple(KINDS), n) for f in fields() for n in PATCHES]

    def begun(start: Start) -> str:
        text = item_starter_text(recipe, title, units, start)
        for name, value in given.items():
            text = set_value(text, f"make.{name}", value)
        return text

    start, made = _calmest(_fitting(recipe, begun, starts, strict=bool(given)), begun)
    cloths = {p.cloth for p in made.making.pieces}
    used = tuple(kind for kind, (key, *_) in KINDS.items() if key in cloths)
    return begun(replace(start, kinds=used))


def _first_panel(title: str, units: Units, given: dict[str, Any]) -> str:
    shape, wide, high = given.pop("shape", "flap"), given.pop("width", None), given.pop("height", None)
    if given or shape not in get_args(Shape):
        raise HoopwrightError("A first panel takes a shape, a width and a height", "Leave the rest out")
    try:
        sides = [None if side is None else read_length(side) for side in (wide, high)]
    except ValueError as error:
        raise HoopwrightError(str(error), 'Write a length such as 108, "108 mm" or "4 1/4 in"') from error
    return starter_text(title, units, shape, *sides)


def _fitting(recipe: Recipe, begun: Callable[[Start], str], starts: list[Start], *, strict: bool) -> list[Start]:
    """Return the starts with the smallest field that the recipe does not refuse, or with the largest.

    Raises ProjectError when ``strict`` and even the largest is refused.
    """
    said: tuple[Finding, ...] = ()
    for start in starts:
        project = parse(begun(start), None).project
        settings, found = read_settings(recipe, project.make, project.units)
        said = found if settings is None else (*found, *recipe.refuse(settings, project))
        if not blocking(said):
            return [s for s in starts if s.field == start.field]
        if settings is None:
            break
    if strict:
        raise ProjectError("These sizes cannot be made", blocking(said), "Change what is listed")
    return [s for s in starts if s.field == starts[-1].field]


def _calmest(starts: list[Start], begun: Callable[[Start], str]) -> tuple[Start, Plan]:
    """Return the first start of whose project nothing is to be minded, with its plan; else the one with the mildest findings.

    Where more lies under the foot than fits, the same start is looked at without batting too.
    """
    planned = [(s, plan(parse(begun(s), None).project)) for s in starts]
    least = min(_gravity(made, made.findings) for _, made in planned)
    best: tuple[tuple[int, int], Start, Plan] | None = None
    for start, made in [pair for pair in planned if _gravity(pair[1], pair[1].findings) == least][:LOOKED_AT]:
        for look in (start, replace(start, batting=False)):
            now = made if look is start else plan(parse(begun(look), None).project)
            said = _all_said(now)
            burden = (_gravity(now, said), sum(f.severity is Severity.WARNS for f in said))
            if best is None or burden < best[0]:
                best = (burden, look, now)
            if not any(f.code in TOO_THICK for f in said):
                break
        if best is not None and (best[0] == CALM or not made.panels):
            break
    assert best is not None  # there is at least one start
    return best[1:]


def _all_said(made: Plan) -> tuple[Finding, ...]:
    return (*made.findings, *check(made), *comes_out(made))


def _gravity(made: Plan, said: tuple[Finding, ...]) -> int:
    """Return how bad the worst finding of a plan is, 0 for none or notes."""
    gravity = worst(said)
    return {None: 0, Severity.NOTES: 0, Severity.WARNS: 1, Severity.BLOCKS: 2}[gravity] + (0 if made.hoopings else 3)
