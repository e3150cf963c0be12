"""Problems of a project file while they are collected; they become findings when their lines are known."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.words import listed as words_listed
from hoopwright.project.places import Path, line_of, show_path
from hoopwright.project.settings import all_settings

_NEAR: Final = 0.6
"""How alike two words must be (1: the same) before one is offered for the other."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with the file: code, place, what it is, what to do; ``line`` only when the place has none."""

    code: str
    path: Path
    message: str
    cure: str
    line: int | None = None
    severity: Severity = Severity.BLOCKS


def finding_of(problem: Problem, lines: dict[Path, int]) -> Finding:
    """Return the problem as a finding with its place in the file."""
    line = problem.line if problem.line is not None else line_of(lines, problem.path)
    where = Where(path=show_path(problem.path) or None, line=line)
    return Finding(problem.code, problem.severity, _as_sentence(problem.message), problem.cure, where)


def _as_sentence(message: str) -> str:
    """Return the message with a capital first letter, unless it begins with the name of a setting or a value."""
    first = message.split(maxsplit=1)[0].rstrip(":")
    known = any(s.name == first for s in all_settings())
    return message if known else message[0].upper() + message[1:]


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word most like ``word``, None when nothing is near."""
    by_lower = {k.lower(): k for k in sorted(known, reverse=True)}
    close = difflib.get_close_matches(word.lower()[:80], by_lower, n=1, cutoff=_NEAR)
    return by_lower[close[0]] if close else None


def offer(word: str, known: Iterable[str], nothing: str) -> str:
    """Return a cure that offers the nearest known word or else lists them; ``nothing`` when none is known."""
    names = tuple(known)
    near = nearest(word, names)
    if near is not None:
        return f'Did you mean "{near}"?'
    return f"Use {'one of ' if len(names) > 1 else ''}{listed(names)}" if names else nothing


def listed(words: Iterable[str]) -> str:
    """Return words as a list to read: a, b or c, at most twenty of them."""
    shown = [f'"{w}"' for w in words]
    if len(shown) > 20:
        shown = [*shown[:19], "others"]
    return words_listed(shown, "or")


def clipped(value: object, room: int = 40) -> str:
    """Return a value as the maker wrote it, cut short when long."""
    text = "".join(c if c.isprintable() else " " for c in _written(value))
    return text if len(text) <= room else f"{text[: room - 1]}…"


def _written(value: object) -> str:
    """Return a value in the file's own notation."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, list | tuple):
        return f"[{', '.join(_written(v) for v in value)}]"
    if isinstance(value, Mapping):
        return f"{{ {', '.join(f'{k} = {_written(v)}' for k, v in value.items())} }}" if value else "{}"
    try:
        return str(value)
    except ValueError:  # an integer with more digits than can be printed
        return "a very large number"
