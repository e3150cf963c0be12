"""Numbers and the maker's own names, put by as single marks while a text is translated, and put back after it.

A text with a mark in place of each number is the same for every number, so that what was found for one figure holds for
all; and no word of a maker's title or cloth is ever taken for one of ours.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

FIXED: Final = 0xE000
"""Marks of numbers that stand in sentences of the catalogue: always the same mark for the same number."""
LOOSE: Final = 0xE800
"""Marks of all other numbers, in the order in which they stand."""
NAMES: Final = 0xF000
"""Marks of names, in the order of their length."""
ASIDE: Final = chr(0xF8FF)
"""Holds the place of what stands in quotes or brackets; the last of the places that Unicode leaves free for such use."""
ROOM: Final = 0x700

MARK: Final = re.compile(f"[{chr(FIXED)}-{ASIDE}]")
NUMBER: Final = re.compile(r"(?<![\w.#{])(?<!\w-)[0-9]+(?:\.[0-9]+)?(?!\w|\.\w|-\w)")
_LITERAL: Final = re.compile(r'"[^"]*"|\[[^\]]*\]|= [^\s,;]+')
"""What is quoted from a project file, where a number is written with a point in every language."""


@dataclass(frozen=True, slots=True)
class Marked:
    """A text with marks, and what each mark stands for."""

    text: str
    kept: Mapping[str, str]


def numbers_of(text: str) -> tuple[str, ...]:
    """Return the numbers of a text that are said as numbers: not parts of names, dates or settings."""
    return tuple(m.group() for m in _numbers(text))


def marked(text: str, fixed: Mapping[str, str], names: Iterable[str] = ()) -> Marked:
    """Return a text with numbers and ``names`` put by; ``fixed`` gives the marks of the numbers of the catalogue."""
    kept: dict[str, str] = {}
    clean = MARK.sub("", text)
    named = _put_by_names(clean, names, kept)
    pieces, at = [], 0
    for match in _numbers(named):
        number = match.group()
        mark = fixed.get(number) or _next(kept, LOOSE)
        kept[mark] = number.replace(".", ",")
        pieces += [named[at : match.start()], mark]
        at = match.end()
    return Marked("".join(pieces) + named[at:], kept)


def unmarked(text: str, kept: Mapping[str, str]) -> str:
    """Return a text with everything put back that was put by."""
    return MARK.sub(lambda m: kept.get(m.group(), ""), text)


def _numbers(text: str) -> list[re.Match[str]]:
    away = [m.span() for m in _LITERAL.finditer(text)]
    found = NUMBER.finditer(text)
    return [m for m in found if not any(a <= m.start() < b for a, b in away)]


def _put_by_names(text: str, names: Iterable[str], kept: dict[str, str]) -> str:
    wanted = sorted({n for n in names if n.strip() and n in text}, key=lambda n: (-len(n), n))
    for name in wanted:
        mark = _next(kept, NAMES)
        changed = re.sub(rf"(?<!\w){re.escape(name)}(?!\w)", mark, text)
        if changed != text:
            kept[mark], text = name, changed
    return text


def _next(kept: Mapping[str, str], first: int) -> str:
    """Return a mark that is not yet taken; the last one again when a text holds more than there is room for."""
    taken = sum(1 for mark in kept if first <= ord(mark) < first + ROOM)
    return chr(first + min(taken, ROOM - 1))
