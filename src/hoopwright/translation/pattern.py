"""One sentence of the catalogue: what the English looks like, and how the other language says it.

Words: a *hole* is a place that something else fills, written {1}, {2} ... in the order of the English. What fills it is translated in
its turn, unless the other language writes the hole {=1}: then it stays as it is. The *letters* of a pattern, and its *signs* (letters and all others), are those outside its holes.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import Final

_HOLE: Final = re.compile(r"\{([0-9]+)\}")
_SAID: Final = re.compile(r"\{(=?[0-9]+)\}")
_WORD: Final = re.compile(r"[a-z]+")
_ENDS: Final = re.compile(r"^(\s*(?:[,;:]\s+)?)(.*?)(\.?\s*)$", re.DOTALL)


def trimmed(text: str) -> tuple[str, str, str]:
    """Return a text without the space and stop around it, between what stood before and after it."""
    match = _ENDS.match(text)
    assert match is not None  # every part of it may be empty
    return match[1], match[2], match[3]


def words_of(text: str) -> frozenset[str]:
    """Return the words of a text, in small letters."""
    return frozenset(_WORD.findall(text.lower()))


def uncapped(text: str) -> str:
    """Return a text with a small first letter."""
    return text[:1].lower() + text[1:]


@dataclass(frozen=True, slots=True)
class Pattern:
    """A sentence with holes. ``said`` is the other language, in pieces: texts, and holes by their number from 0; ``kept`` stay as they are."""

    english: str
    said: tuple[str | int, ...]
    kept: frozenset[int]
    letters: int
    signs: int
    words: frozenset[str]

    @property
    def holes(self) -> int:
        """How many holes it has."""
        return len(_HOLE.findall(self.english))

    def match(self, text: str) -> tuple[tuple[int, str], ...] | None:
        """Return where each hole begins and what fills it, the holes as short as can be from the left; None if it does not fit."""
        found = _regex(self.english).fullmatch(text)
        return found and tuple((found.start(n), found[n]) for n in range(1, self.holes + 1))

    def match_late(self, text: str) -> tuple[tuple[int, str], ...] | None:
        """Return the same with the first hole as long as can be."""
        found = _regex(self.english, late=True).fullmatch(text)
        return found and tuple((found.start(n), found[n]) for n in range(1, self.holes + 1))


def pattern(english: str, other: str) -> Pattern:
    """Return the pattern of an entry of the catalogue, numbers already marked."""
    english, other = trimmed(english)[1], trimmed(other)[1]
    while near := re.search(r"\{([0-9]+)\}\{([0-9]+)\}", english):
        if near.group() not in other:
            break
        english, other = _merged(english, near), _merged(other, near)
    pieces = _SAID.split(other)
    said: list[str | int] = [int(p.lstrip("=")) - 1 if i % 2 else p for i, p in enumerate(pieces)]
    kept = frozenset(int(p[1:]) - 1 for p in pieces[1::2] if p.startswith("="))
    bare = _HOLE.sub("\n", english)
    letters = sum(c.isalpha() for c in bare)
    return Pattern(english, tuple(p for p in said if p != ""), kept, letters, len(bare), _complete_words(english))


def _merged(text: str, near: re.Match[str]) -> str:
    """Return a text in which two holes that stand side by side are one, those after it counted on."""
    second = int(near[2])
    text = text.replace(near.group(), f"{{{near[1]}}}")
    return _HOLE.sub(lambda m: f"{{{int(m[1]) - (int(m[1]) > second)}}}", text)


def _complete_words(english: str) -> frozenset[str]:
    """Return the words that stand in a text that fits, whatever fills the holes."""
    bare = _HOLE.sub("\0", english).lower()
    return frozenset(re.findall(r"(?<![a-z\0])[a-z]+(?![a-z\0])", bare))


@cache
def _regex(english: str, *, late: bool = False) -> re.Pattern[str]:
    pieces = _HOLE.split(english)
    out = ""
    for i, piece in enumerate(pieces):
        if i % 2 == 0:
            out += _literal(piece, first=i == 0)
            continue
        before, after = pieces[i - 1], pieces[i + 1]
        least = "+" if not (before and not before[-1].isspace()) and not (after == "" and i > 1) else "*"
        out += f"(.{least}{'' if late and i == 1 else '?'})"
    return re.compile(out, re.DOTALL)


def _literal(text: str, *, first: bool) -> str:
    if first and text[:1].isalpha():
        return f"[{re.escape(text[0].upper())}{re.escape(text[0].lower())}]{re.escape(text[1:])}"
    return re.escape(text)
