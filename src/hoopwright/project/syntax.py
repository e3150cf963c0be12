"""Slips of TOML writing in plain words."""

from __future__ import annotations

import re
from typing import Final

from hoopwright.project.problems import Problem, clipped

_PLACE: Final = re.compile(r"\s*\(at (?:line (?P<line>[0-9]+), column (?P<column>[0-9]+)|end of document)\)\s*$")
_SLIPS: Final = (
    (re.compile(r"[“”„‘’]"), "curly quotation marks are not read", 'Use the straight mark: "'),
    (re.compile(r"^[^=#\"\[]*=\s*-?[0-9]+,[0-9]+\s*(#.*)?$"), "a comma stands in a number", "Write decimals with a point: 10.8"),
    (
        re.compile(r"=\s*-?[0-9.]+(\s+[0-9]+/[0-9]+|/[0-9]+)?\s*(mm|cm|m|in|inch|inches|\")\s*(#.*)?$"),
        "a measure with a unit stands without quotes",
        'Put quotes around it: "108 mm" or "4 1/4 in"',
    ),
    (re.compile(r"=\s*#[0-9a-fA-F]+\s*$"), "a colour stands without quotes", 'Put quotes around it: "#335577"'),
    (re.compile(r"=\s*(True|False|Yes|No|yes|no|TRUE|FALSE)\b"), "yes and no are written differently here", "Write true or false, in small letters"),
    (re.compile(r"^\s*[A-Za-z0-9_.-]+\s*:"), "a colon stands where an equals sign belongs", "Write name = value"),
    (re.compile(r"=\s*(#.*)?$"), "nothing stands after the equals sign", "Write the value there, or take the line out"),
    (re.compile(r"=\s*[A-Za-z][\w -]*\s*(#.*)?$"), "text stands without quotes", 'Put quotes around it, such as "sand"'),
    (re.compile(r"^\s*[A-Za-z0-9_.\s-]+$"), "this line is neither a heading nor a setting", "Write name = value, or put # before it to make it a comment"),
)  # fmt: skip
_REASONS: Final = (
    ("Cannot overwrite a value", "the same setting is given twice", "Keep one of the two and take the other out"),
    ("Duplicate inline table key", "the same setting is given twice", "Keep one of the two and take the other out"),
    ("Cannot declare", "the same heading stands twice", "Put its settings together below one heading"),
    ("Cannot mutate immutable", "a table written in braces is added to elsewhere", "Write all its settings in one place"),
    ("Illegal character", "a character stands here that a text may not have", "Close the quotes on the same line, or take the character out"),
    ("Unterminated", "a quotation mark is opened and not closed", "Close it"),
    ("Unescaped '\\'", "a backslash in quotes means something else here", "Write a slash / instead, or use single quotes ' around the text"),
    ("Unclosed array", "a square bracket is opened and not closed, or a comma is missing", "Check the brackets and commas from here upwards"),
    ("Unclosed inline table", "a brace is opened and not closed, or a comma is missing", "Check the braces and commas of this line"),
    ("Expected ']' at the end of a table", "a heading is not closed", "Write it as [panel.outline], alone on its line"),
    ("Expected '='", "an equals sign is missing", "Write name = value"),
    ("Expected newline", "something more stands after the value", "Keep one setting on a line"),
)  # fmt: skip


def syntax_problem(text: str, reason: str) -> Problem:
    """Return what is wrong where the TOML reader stopped; ``reason`` is what it said."""
    match = _PLACE.search(reason)
    lines = text.split("\n")
    line = int(match["line"]) if match and match["line"] else len(lines)
    column = int(match["column"]) if match and match["column"] else 1
    shown = lines[line - 1].rstrip("\r") if 0 < line <= len(lines) else ""
    message, cure = _explained(shown, reason)
    seen = f": {clipped(shown.strip(), 60)}" if shown.strip() else ""
    return Problem("HW105", (), f"line {line}, column {column} cannot be read, because {message}{seen}", cure, line)


def _explained(line: str, reason: str) -> tuple[str, str]:
    """Return why and what to do: by the look of the line first, then by what the reader said."""
    twice = "overwrite" in reason or "Cannot declare" in reason or "Duplicate" in reason
    if not twice:
        for pattern, message, cure in _SLIPS:
            if pattern.search(line):
                return message, cure
    for start, message, cure in _REASONS:
        if reason.startswith(start):
            return message, cure
    return "it is not written as TOML asks", "Write name = value; text in quotes, lists in [ ], comments after #"
