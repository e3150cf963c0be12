"""Slips of TOML writing in plain words."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, TypeAlias

from hoopwright.project.problems import Problem

_MOST: Final = 20
"""Slips that are listed before reading is given up."""

_ROOM: Final = 60
_PLACE: Final = re.compile(r"\s*\(at (?:line (?P<line>[0-9]+), column (?P<column>[0-9]+)|end of document)\)\s*$")
_NAME: Final = r"^\s*(?P<name>[A-Za-z0-9_.-]+)\s*"
_END: Final = r"\s*(#.*)?$"
_HERE: Final = "Write name = value; text in quotes, lists in [ ], remarks after #"

Cure: TypeAlias = Callable[[re.Match[str]], str]


@dataclass(frozen=True, slots=True)
class _Slip:
    """A slip known by the look of its line; ``alone`` says that the next lines can be read without it."""

    look: re.Pattern[str]
    message: str
    cure: Cure
    alone: bool = True


def _slip(look: str, message: str, cure: str | Cure, alone: bool = True) -> _Slip:
    return _Slip(re.compile(look), message, cure if callable(cure) else lambda _: cure, alone)


def _measure(match: re.Match[str]) -> str:
    """Return the measure as it should stand; an inch mark becomes "in"."""
    value = match["value"].replace('"', " in").strip()
    return f'Write {match["name"]} = "{" ".join(value.split())}"'


def _quoted(match: re.Match[str]) -> str:
    return f'Put quotes around it: {match["name"]} = "{match["value"].strip()}"'


def _pointed(match: re.Match[str]) -> str:
    value = match["value"].replace(",", ".")
    unit = match["unit"]
    return f'Write {match["name"]} = "{value} {unit}"' if unit else f"Write {match['name']} = {value}"


def _yes_or_no(match: re.Match[str]) -> str:
    return f"Write {match['name']} = {'true' if match['value'].lower() in ('true', 'yes', 'on') else 'false'}"


_SLIPS: Final = (
    _slip("[“”„‘’«»]", "curly quotation marks are not read", 'Use the straight mark " before and after the text'),
    _slip(
        _NAME + r"=\s*(?P<value>-?[0-9]+,[0-9]+)\s*(?P<unit>mm|cm|m|in|inch|inches)?" + _END,
        "a comma stands in a number",
        _pointed,
    ),
    _slip(
        _NAME + r'=\s*"?(?P<value>-?[0-9./ -]*[0-9]\s*(mm|cm|m|in|inch|inches|"))"?' + _END,
        "a measure with a unit stands without quotes, or its inch mark is taken for one",
        _measure,
    ),
    _slip(
        _NAME + r"=\s*(?P<value>[^\s\"'\[\]{}#][^\"']*)[\"']" + _END,
        "a quotation mark is closed and was not opened",
        lambda m: f'Put one before the text too: {m["name"]} = "{m["value"].strip()}"',
    ),
    _slip(_NAME + r"=\s*(?P<value>#[0-9a-fA-F]{3,8})\s*$", "a colour stands without quotes", _quoted),
    _slip(
        _NAME + r"=\s*(?P<value>True|False|TRUE|FALSE|[Yy]es|[Nn]o|[Oo]n|[Oo]ff)" + _END,
        "yes and no are written differently here",
        _yes_or_no,
    ),
    _slip(
        _NAME + ":",
        "a colon stands where an equals sign belongs",
        lambda m: f"Write {m['name']} = and then the value",
        False,
    ),
    _slip(_NAME + r"=" + _END, "nothing stands after the equals sign", "Write the value there, or take the line out"),
    _slip(_NAME + r"=\s*(?P<value>[^\W\d][\w' -]*?)" + _END, "text stands without quotes", _quoted),
    _slip(
        _NAME + r"=\s*(\"[^\"]*|'[^']*)$",
        "a quotation mark is opened and not closed",
        "Close the quotes on the same line",
        False,
    ),
    _slip(
        r"^\s*[^\W\d][\w ,;'-]*$",
        "this line is neither a heading nor a setting",
        "Write name = value, or put # before the line to make it a remark",
        False,
    ),
)

_TWICE: Final = "the same setting is given twice"
_REASONS: Final = (
    ("Cannot overwrite a value", _TWICE, "Keep one of the two and take the other out"),
    ("Duplicate inline table key", _TWICE, "Keep one of the two and take the other out"),
    ("Cannot declare", "the same heading stands twice", "Put its settings together below one heading"),
    ("Cannot mutate immutable", "a table in braces is added to elsewhere", "Write all its settings in one place"),
    ("Cannot redefine", "the same heading stands twice", "Put its settings together below one heading"),
    ("Illegal character '\\n'", "a quotation mark is opened and not closed", "Close the quotes on the same line"),
    ("Illegal character", "a character stands here that a text file should not have", "Take it out"),
    ("Found invalid character", "a character stands here that a text file should not have", "Take it out"),
    ("Unterminated", "a quotation mark is opened and not closed", "Close it"),
    ('Expected "\'"', "a quotation mark is opened and not closed", "Close it"),
    ("Unescaped '\\'", "a backslash means something else inside quotes", "Write a slash / for the backslash"),
    ("Unclosed array", "a bracket is not closed, or a comma is missing", "Check brackets and commas from here upwards"),
    (
        "Unclosed inline table",
        "a brace is not closed, or a comma is missing",
        "Check the braces and commas of this line",
    ),
    ("Expected ']'", "a heading is not closed", "Write it as [panel.outline], alone on its line"),
    ("Expected '='", "an equals sign is missing", "Write name = value"),
    ("Expected newline", "something more stands after the value", "Keep one setting on a line; remarks begin with #"),
)


def syntax_problems(text: str, reason: str) -> list[Problem]:
    """Return what is wrong where the TOML reader stopped (``reason`` is what it said), and further slips below.

    A line whose slip is plain and stands alone is left out to read on; a slip that may reach over lines ends the search.
    """
    lines = text.split("\n")
    problems: list[Problem] = []
    while len(problems) < _MOST:
        problem, alone = _one(lines, reason)
        problems.append(problem)
        if not alone or problem.line is None:
            break
        lines[problem.line - 1] = ""
        try:
            tomllib.loads("\n".join(lines))
            break
        except tomllib.TOMLDecodeError as error:
            reason = str(error)
        except (RecursionError, ValueError):
            break
    return problems


def _one(lines: list[str], reason: str) -> tuple[Problem, bool]:
    """Return the slip that the reader met, and whether its line can be left out to read on."""
    match = _PLACE.search(reason)
    line = int(match["line"]) if match and match["line"] else len(lines)
    column = f" (column {match['column']})" if match and match["column"] else ""
    shown = lines[line - 1].strip() if 0 < line <= len(lines) else ""
    message, cure, alone = _explained(shown, reason)
    printable = "".join(c if c.isprintable() else " " for c in shown)
    seen = f": {printable if len(printable) <= _ROOM else printable[: _ROOM - 1] + '…'}" if printable else ""
    return Problem("HW105", (), f"{message}{column}{seen}", cure, line), alone


def _explained(line: str, reason: str) -> tuple[str, str, bool]:
    """Return why, what to do, and whether to read on: by the look of the line first, then by what the reader said."""
    twice = reason.startswith(("Cannot", "Duplicate"))
    for slip in () if twice else _SLIPS:
        match = slip.look.search(line)
        if match:
            return slip.message, slip.cure(match), slip.alone
    for start, message, cure in _REASONS:
        if reason.startswith(start):
            return message, cure, False
    return "this is not written as a project file should be", _HERE, False
