"""The catalogue of a language: a folder of TOML tables, one a room, each "English" = "other language"."""

from __future__ import annotations

import tomllib
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Final

from hoopwright.translation.marks import FIXED, ROOM, marked, numbers_of
from hoopwright.translation.pattern import Pattern, pattern, uncapped, words_of

LANGUAGES: Final = ("de",)
"""Languages besides English, by their code (ISO 639-1)."""


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All sentences of a language, found by the rarest word of each.

    ``whole`` are those without holes by their English, ``loosely`` the same by their English with a small first letter. ``fixed``
    gives a mark to every number that stands in a sentence.
    """

    whole: Mapping[str, str]
    loosely: Mapping[str, str]
    by_word: Mapping[str, tuple[tuple[int, Pattern], ...]]
    wordless: tuple[tuple[int, Pattern], ...]
    fixed: Mapping[str, str]

    def fitting(self, text: str) -> Iterator[Pattern]:
        """Yield the patterns that may fit a text, those with the most letters first, then the most signs, then in the order of the catalogue."""
        words = words_of(text)
        rows = [row for word in words for row in self.by_word.get(word, ()) if row[1].words <= words]
        for _, found in sorted([*rows, *self.wordless], key=lambda row: (-row[1].letters, -row[1].signs, row[0])):
            yield found


@cache
def entries(language: str) -> Mapping[str, Mapping[str, str]]:
    """Return the tables of a language by the name of their file, as they are written."""
    folder = files("hoopwright.translation").joinpath(language)
    found = sorted((f for f in folder.iterdir() if f.name.endswith(".toml")), key=lambda f: f.name)
    return MappingProxyType({f.name: tomllib.loads(f.read_text(encoding="utf-8")) for f in found})


@cache
def catalogue(language: str) -> Catalogue:
    """Return the catalogue of a language that there is one for."""
    return catalogue_of({k: v for table in reversed(list(entries(language).values())) for k, v in table.items()})


def catalogue_of(said: Mapping[str, str]) -> Catalogue:
    """Return a catalogue of sentences."""
    numbers = sorted({n for english in said for n in numbers_of(english)})[:ROOM]
    fixed = {number: chr(FIXED + i) for i, number in enumerate(numbers)}
    patterns = [pattern(marked(e, fixed).text, o) for e, o in said.items()]
    whole = {p.english: "".join(map(str, p.said)) for p in patterns if not p.holes}
    holed = [(i, p) for i, p in enumerate(patterns) if p.holes]
    often = Counter(word for _, p in holed for word in p.words)
    by_word: dict[str, list[tuple[int, Pattern]]] = defaultdict(list)
    for row in holed:
        if row[1].words:
            by_word[min(row[1].words, key=lambda w: (often[w], w))].append(row)
    return Catalogue(
        MappingProxyType(whole),
        MappingProxyType({uncapped(k): v for k, v in reversed(whole.items())}),
        MappingProxyType({k: tuple(v) for k, v in by_word.items()}),
        tuple(row for row in holed if not row[1].words),
        MappingProxyType(fixed),
    )
