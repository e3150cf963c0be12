"""Turning what the schema refuses into words a maker can act on."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from hoopwright.project.lengths import LengthError
from hoopwright.project.places import Path, show_path
from hoopwright.project.problems import Problem, clipped, listed, nearest, offer
from hoopwright.project.settings import TAGS, all_settings, is_length, model_at, settings_of, tags_of

_EITHER: Final = {("hoop", "field"), ("machine", "halt_at")}
_TEXT_OR_PLACE: Final[Mapping[Path, tuple[str, str]]] = {
    ("hoop", "field"): (
        "the field of the hoop is neither a name nor a size",
        'Write a name such as field = "130x180", or width and height such as field = [130, 180]',
    ),
    ("machine", "halt_at"): (
        "halt_at says where the hoop waits; this is neither a word nor a place",
        'Write "stay", "front", or a place such as halt_at = [0, -80]',
    ),
}
_SAMPLES: Final = {
    "schema": "schema = 1",
    "title": 'title = "Flap with waves"',
    "name": 'name = "Blue sailcloth"',
    "colour": 'colour = "#335577"',
    "cloths": "[cloths.sailcloth] with a name and a colour below it",
    "threads": "[threads.sand] with a name and a colour below it",
    "panel": "[panel.outline] with the outline of the panel below it",
    "outline": '[panel.outline] with shape = "flap" and its measures below it',
    "width": "width = 108",
    "height": "height = 90",
    "radius": "radius = 30",
    "tip": "tip = 40",
    "points": "points = [[0, 0], [80, 0], [40, 60]]",
    "file": 'file = "outline.svg"',
    "cuts": "cuts = [[[-54, 10], [54, 20]]]",
    "lines": "lines = [[[-54, 10], [54, 20]]]",
}
_PATTERNS: Final = {
    r"^[a-z][a-z0-9-]*$": ("a key", 'Use small letters a to z, digits and hyphens, a letter first, such as "sea-silk"'),
    r"^[A-Z]{1,3}$": ("a patch letter", 'Patches are called by capital letters: "A", "B", … "Z", "AA", "AB"'),
    r"^#[0-9a-fA-F]{6}$": (
        "a colour",
        'Write # and six digits or letters a to f, two each for red, green and blue, such as "#335577"',
    ),
    r"^[1-9][0-9]{0,3}$": ("a seam number", "Use the number that the plan gives the seam, such as [panel.seams.3]"),
}
_WHOLE: Final = re.compile(r"-?[0-9]+")
_NUMBER: Final = re.compile(r"(-?[0-9]+(?:\.[0-9]+)?)\s*(%?)")
_WORDS_OF_TYPES: Final = {
    "string_type": ("text", 'Put text in quotes, such as "sand"'),
    "int_type": ("a whole number", "Write a whole number without quotes and without a decimal point"),
    "int_from_float": ("a whole number", "Write a whole number without quotes and without a decimal point"),
    "int_parsing_size": ("a whole number of a sensible size", "Write a smaller number"),
    "float_type": ("a number", "Write a plain number without quotes, decimals with a point"),
    "finite_number": ("a number that can be measured", "Write a plain number"),
    "bool_type": ("yes or no", "Write true or false, small letters, without quotes"),
    "dict_type": ("a table", "Give it a heading of its own in square brackets and its settings below that heading"),
    "model_type": ("a table", "Give it a heading of its own in square brackets and its settings below that heading"),
    "model_attributes_type": ("a table", "Give it a heading of its own in square brackets and its settings below it"),
    "tuple_type": ("a list", "Put it in square brackets, with commas between the parts"),
}
_HOLDING_PLACES: Final = ("field", "halt_at", "points", "cuts", "lines")
_PLACE_CURE: Final = "Write a place as [x, y]. The comma stands between the two numbers; write decimals with a point"
_CUT_CURE: Final = "Write a line as its two ends, [[x, y], [x, y]]"


@dataclass(frozen=True, slots=True)
class _Refusal:
    """One refusal of the schema, placed: what kind, where, the value there, and its particulars."""

    kind: str
    path: Path
    value: Any
    about: Mapping[str, Any]
    data: Any

    @property
    def name(self) -> str:
        """The setting's name as the maker wrote it."""
        return show_path(self.path[-1:]) if isinstance(self.path[-1:], tuple) and self.path else "the file"


def problems_of(error: ValidationError, data: Any) -> list[Problem]:
    """Return the refusals of the schema in plain words, each place once, in the order of the schema."""
    problems: dict[tuple[str, Path], Problem] = {}
    for detail in error.errors(include_url=False):
        problem = _problem(detail, data)
        if problem is not None:
            problems.setdefault((problem.code, problem.path), problem)
    return list(problems.values())


def _problem(detail: ErrorDetails, data: Any) -> Problem | None:
    path, branch = _placed(detail["loc"])
    value = detail["input"]
    if branch:
        whole = _at(path[:2], data)
        if isinstance(whole, tuple) != branch.startswith("tuple"):
            return None
        if not isinstance(whole, tuple | str):
            return Problem("HW112", path[:2], *_TEXT_OR_PLACE[path[:2]])
    refusal = _Refusal(detail["type"], path, value, detail.get("ctx") or {}, data)
    return _WRITERS.get(detail["type"], _wrong_type)(refusal)


def _placed(loc: tuple[int | str, ...]) -> tuple[Path, str]:
    """Return a place of the file without the schema's own marks, and the mark of the alternative it speaks of."""
    path: Path = ()
    branch = ""
    skip = False
    for part in loc:
        if skip:
            branch = str(part) if path in _EITHER else branch
            skip = False
        elif part != "[key]":
            path = (*path, part)
            skip = path in TAGS or path in _EITHER
    return path, branch


def _at(path: Path, data: Any) -> Any:
    for part in path:
        data = data.get(part) if isinstance(data, Mapping) else None
    return data


def _missing(r: _Refusal) -> Problem:
    if isinstance(r.path[-1], int):
        return _wrong_count(replace(r, path=r.path[:-1], about={"max_length": 2}), "too few parts")
    name = r.path[-1]
    sample = _SAMPLES.get(name)
    heading = sample is not None and sample.startswith("[")
    message = f"the part [{show_path(r.path)}] is missing" if heading else f"{name} is missing {_heading(r.path[:-1])}"
    return Problem("HW110", r.path, message, f"Add {sample}" if sample else f"Add a line {name} = … there")


def _heading(path: Path) -> str:
    return f"below [{show_path(path)}]" if path else "at the top of the file"


def _unknown(r: _Refusal) -> Problem:
    name, table = str(r.path[-1]), r.path[:-1]
    model = model_at(table, r.data)
    known = list(settings_of(model)) if model else []
    return Problem(
        "HW111", r.path, f"{clipped(name)} is not a setting {_known_place(r)}", _unknown_cure(name, r, known)
    )


def _known_place(r: _Refusal) -> str:
    table = r.path[:-1]
    if not table:
        return "that can stand at the top of the file"
    here = _at(table, r.data)
    chosen = here.get(TAGS[table]) if table in TAGS and isinstance(here, Mapping) else None
    return f"of [{show_path(table)}]" + (f" when {TAGS[table]} = {clipped(chosen)}" if chosen else "")


def _unknown_cure(name: str, r: _Refusal, known: list[str]) -> str:
    """Offer the nearest setting of the same table, else the right table for the name, else what can be set here."""
    table = r.path[:-1]
    named = [s for s in all_settings() if "*" not in s.table and s.table != table]
    names = {s.name for s in named}
    near = None if name in names else nearest(name, known)
    if near is not None:
        given = near in (_at(table, r.data) or {})
        what = "put all its settings together there" if isinstance(r.value, Mapping) else "keep one of the two"
        return f'Did you mean "{near}"?{f" It stands in the file already: {what}" if given else ""}'
    like = name if name in names else nearest(name, names)
    if like is None or (table in TAGS and like != name) or (table in TAGS and name in _settings_of_any(table)):
        return f"Take it out; what can be set here is {listed(known)}" if known else "Take this line out"
    homes = sorted({show_path(s.table) for s in named if s.name == like})
    where = " or ".join(f"below [{h}]" if h else "at the top of the file" for h in homes)
    return f"{name} belongs {where}" if like == name else f'Did you mean "{like}"? It belongs {where}'


def _settings_of_any(table: Path) -> set[str]:
    """Return the settings that the table has for any choice of its deciding setting."""
    return {s.name for s in all_settings() if s.table == table}


def _length(r: _Refusal) -> Problem:
    fault = r.about.get("error")
    if isinstance(fault, LengthError):
        return Problem("HW113", r.path, f"{_what(r)}: {fault.message}", fault.cure)
    return _wrong_type(r)


def _what(r: _Refusal) -> str:
    """Name the value: the setting, or the part of a list it belongs to."""
    names = [p for p in r.path if isinstance(p, str)]
    name = names[-1] if names else "the file"
    if not isinstance(r.path[-1:][0] if r.path else "", int):
        return name
    return f"a number in {name}" if name in _HOLDING_PLACES else name


def _bound(words: str, key: str) -> Callable[[_Refusal], Problem]:
    def write(r: _Refusal) -> Problem:
        unit = " mm" if is_length(r.path, r.data) else ""
        limit = f"{r.about[key]:g}"
        value = f"{r.value:g}" if isinstance(r.value, float) else clipped(r.value)
        return Problem(
            "HW114",
            r.path,
            f"{_what(r)} is {value}{unit if _WHOLE.match(value) else ''}, but must be {words} {limit}{unit}",
            f"Choose {words} {limit}{unit}",
        )

    return write


def _choice(r: _Refusal) -> Problem:
    known = re.findall(r"'([^']*)'", str(r.about["expected"]))
    if r.path in _EITHER:
        return Problem("HW112", r.path, f"{_what(r)} = {clipped(r.value)} is not known", _TEXT_OR_PLACE[r.path][1])
    cure = offer(r.value, known, "") if isinstance(r.value, str) else f"Write one of {listed(known)}, with the quotes"
    return Problem("HW115", r.path, f"{clipped(r.value)} is not a choice for {_what(r)}", cure)


def _pattern(r: _Refusal) -> Problem:
    what, cure = _PATTERNS[str(r.about["pattern"])]
    value = r.value if isinstance(r.value, str) else r.path[-1]
    lower = str(value).lower().replace(" ", "-").replace("_", "-")
    if what == "a key" and re.fullmatch(r"[a-z][a-z0-9-]*", lower):
        cure = f'Write "{clipped(lower)[1:-1]}": small letters, digits and hyphens only'
    if what == "a patch letter" and re.fullmatch(r"[a-z]{1,3}", str(value)):
        cure = f'Write it as a capital: "{str(value).upper()}"'
    return Problem("HW116", r.path, f"{clipped(value)} is not {what}", cure)


def _few(r: _Refusal) -> Problem | None:
    if len(r.value) >= r.about["min_length"]:
        return None  # parts are there, but wrong ones, which are told by themselves
    name = _what(r)
    if name in ("cloths", "threads"):
        one = name[:-1]
        return Problem("HW110", r.path, f"no {one} is declared", f"Add {_SAMPLES[name]}")
    return _wrong_count(r, "too few parts")


def _many(r: _Refusal) -> Problem:
    return _wrong_count(r, "too many parts")


def _wrong_count(r: _Refusal, words: str) -> Problem:
    """Say what a list should hold: a place, the two ends of a line, or no more than a number of parts."""
    if r.path == ("hoop", "field"):
        return Problem("HW117", r.path, "the size of the hoop's field is two numbers", _TEXT_OR_PLACE[r.path][1])
    most, least = r.about.get("max_length"), r.about.get("min_length")
    if most == 2 and all(isinstance(v, int | float | str) for v in r.value):
        return Problem("HW117", r.path, f"a place is two numbers, but {_there(r.value)}", _PLACE_CURE)
    if most == 2:
        return Problem("HW117", r.path, f"a line has two ends, but {_there(r.value)}", _CUT_CURE)
    if words == "too few parts":
        return Problem("HW117", r.path, f"{_what(r)} has {words}: {len(r.value)}", f"Give at least {least}")
    return Problem("HW117", r.path, f"{_what(r)} has {words}: more than {most}", f"Give at most {most}")


def _there(values: tuple[Any, ...]) -> str:
    return "here is only one" if len(values) == 1 else f"here are {len(values) or 'none'}"


def _short_text(r: _Refusal) -> Problem:
    return Problem("HW118", r.path, f"{_what(r)} is empty", "Write a few words between the quotes")


def _long_text(r: _Refusal) -> Problem:
    most = r.about["max_length"]
    return Problem("HW118", r.path, f"{_what(r)} has {len(str(r.value))} characters", f"Use at most {most}")


def _tag(r: _Refusal) -> Problem:
    tag = TAGS[r.path]
    known = tags_of(r.path)
    chosen = r.value.get(tag) if isinstance(r.value, Mapping) else None
    if chosen is None:
        return Problem(
            "HW110",
            r.path,
            f"{tag} is missing below [{show_path(r.path)}]",
            f"Add {tag} = … with one of {listed(known)}",
        )
    cure = offer(chosen, known, "") if isinstance(chosen, str) else f"Write one of {listed(known)}, with the quotes"
    return Problem("HW115", (*r.path, tag), f"{clipped(chosen)} is not a {tag} this tool knows", cure)


def _wrong_type(r: _Refusal) -> Problem:
    if r.kind == "tuple_type" and isinstance(r.path[-1], int):
        cure = _CUT_CURE if _is_pair_of_places(r.path) else _PLACE_CURE
        return Problem("HW112", r.path, f"a list in square brackets belongs here, not {clipped(r.value)}", cure)
    what, cure = _WORDS_OF_TYPES.get(r.kind, ("what belongs here", "See the description of this setting"))
    return Problem("HW112", r.path, f"{_what(r)} = {clipped(r.value)} is not {what}", _typed_cure(r, cure))


def _is_pair_of_places(path: Path) -> bool:
    return path[-2] in ("cuts", "lines")


def _typed_cure(r: _Refusal, cure: str) -> str:
    """Show the very value, written right, when that is plain."""
    if r.kind == "bool_type" and isinstance(r.value, str):
        return f"{cure}: {'false' if r.value.lower() in ('no', 'false', 'off', '') else 'true'}"
    if r.kind == "string_type" and isinstance(r.value, int | float) and not isinstance(r.value, bool):
        return f'Put it in quotes: "{clipped(r.value)}"'
    if r.kind in ("int_type", "float_type") and isinstance(r.value, str):
        number = _NUMBER.match(r.value.strip())
        if number:
            plain = f"{float(number[1]) / 100:g}" if number[2] else number[1]
            return f"Write the number alone, without quotes: {plain}"
    return cure


_WRITERS: Final[Mapping[str, Callable[[_Refusal], Problem | None]]] = {
    "missing": _missing,
    "extra_forbidden": _unknown,
    "value_error": _length,
    "greater_than": _bound("more than", "gt"),
    "greater_than_equal": _bound("at least", "ge"),
    "less_than": _bound("less than", "lt"),
    "less_than_equal": _bound("at most", "le"),
    "literal_error": _choice,
    "string_pattern_mismatch": _pattern,
    "too_short": _few,
    "too_long": _many,
    "string_too_short": _short_text,
    "string_too_long": _long_text,
    "union_tag_invalid": _tag,
    "union_tag_not_found": _tag,
}
