"""Sentences of the engine in the maker's language.

A text is looked up as a whole; what fills the holes of the pattern that fits is translated in turn, and a text that fits
nothing is taken apart at its stops, semicolons, colons and commas. Of all ways the one is taken that leaves the fewest letters in
English, then the one whose pattern has the most letters of its own. What is left stays as it is: the maker's titles, letters
of patches, numbers.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Final

from hoopwright.translation.catalogue import LANGUAGES, Catalogue, catalogue
from hoopwright.translation.marks import ASIDE, MARK, NAMES, marked, unmarked
from hoopwright.translation.pattern import Pattern, trimmed, uncapped

LONGEST: Final = 120
"""Words of a part that is looked at closely; no sentence of the engine has so many."""
MOST: Final = 24
"""Sentences of the catalogue that are tried for a part, those with the most letters first."""
KEPT: Final = 20_000
"""Texts whose translation is kept at hand."""

FEW: Final = 4
"""Letters: a pattern with fewer says little more than an article, which belongs to one thing and not to a row of them."""
TOGETHER: Final = 8
"""So many neighbouring parts are tried as one."""

_SENTENCES: Final = re.compile(r"(?<=[.!?…])(?:(?<=[^A-Z]\.)|(?<=[!?…]))\s+(?=[A-Z“\uf000-\uf8ff])")
_BREAKS: Final = (re.compile(r"\n+"), _SENTENCES, *(re.compile(s) for s in (r";\s+", r":\s+", r",\s+")))
_QUOTED: Final = re.compile(r"“([^“”„]*)”")
_ASIDE: Final = re.compile(r"(?<=\s)\(([^()]*)\)")
_SIGN: Final = re.compile(
    r"[A-Z]{1,2}|mm|cm|m|in|min|s|g|h|dst|exp|jef|pec|pes|vp3|xxx|u01"  # a letter of a patch, a unit, a kind of files
    r"|[^\s\"'“]*[\w.](?:[._/\[]\w*)+\S*"  # the name of a file or of a setting
    r"|\"[^\"]*\"|'[^']*'|\[.*\]|[\w.-]+ = (?!.*\bis not\b).*"  # what is written so in a project file
)
_MEASURE: Final = re.compile(r"(?<=[0-9\ue000-\uf8ff] )(?:mm|cm|m|in|min|kB|MB)\b")
_INCHES: Final = re.compile(r"(?<=[0-9\ue000-\uefff]\s)in\b")
INCHES: Final = {"de": "Zoll"}
"""What inches are called after a number, where they are not called "in"."""
_FOREIGN: Final = re.compile(r"[äöüßÄÖÜ„]|\b(?:und|ist|nicht|mit|der|das|ein|eine|auf|bei|für|wird|sind)\b")
_ENGLISH: Final = re.compile(r"\b(?:the|of|is|are|and|to|it|its|from|with|by|for|or|be|can)\b", re.IGNORECASE)


def translated(text: str, language: str, names: tuple[str, ...] = ()) -> str:
    """Return what a text of the engine says in a language: itself in English, or in a language that there is no catalogue for.

    ``names`` are the maker's own, which are never translated.
    """
    if language not in LANGUAGES or not text:
        return text
    said, kept = _best_of(text, language, names)
    return unmarked(said.text, kept)


def left_in_english(text: str, language: str, names: tuple[str, ...] = ()) -> int:
    """Return how many letters of a text are left as they are because no sentence of the catalogue covers them."""
    return _best_of(text, language, names)[0].left


def _best_of(text: str, language: str, names: tuple[str, ...]) -> tuple[Said, Mapping[str, str]]:
    """Return a translation with marks and what they stand for; a name that is a word of ours too is only kept if that does no harm."""
    fixed = catalogue(language).fixed
    found = marked(text, fixed, names)
    said = _said(language, found.text)
    if said.left and any(ord(mark) >= NAMES for mark in found.kept):
        bare = marked(text, fixed)
        other = _said(language, bare.text)
        if other.left < said.left:
            return other, bare.kept
    return said, found.kept


@lru_cache(maxsize=KEPT)
def _said(language: str, text: str) -> Said:
    if _already(text):
        return Said(text, 0)
    found = speaker(language).best(text)
    return Said(_QUOTED.sub(r"„\1“", _following(text, found.text)), found.left)


def _already(text: str) -> bool:
    """Whether a text is in another language already."""
    return bool(_FOREIGN.search(text)) and not _ENGLISH.search(text)


@dataclass(frozen=True, slots=True)
class Said:
    """A translation, and how many letters of it are left in English."""

    text: str
    left: int


@cache
def speaker(language: str) -> Speaker:
    """Return the speaker of a language that there is a catalogue for."""
    return Speaker(catalogue(language), INCHES.get(language, "in"))


class Speaker:
    """Says texts by the sentences of a catalogue; what it found is kept at hand."""

    def __init__(self, sentences: Catalogue, inches: str = "in") -> None:
        """Begin with nothing found."""
        self.catalogue, self.inches = sentences, inches
        self.best: Callable[[str], Said] = lru_cache(maxsize=KEPT)(self._best)

    def _best(self, text: str) -> Said:
        """Return the translation of a text, its first letter as the catalogue has it."""
        before, core, after = trimmed(text)
        if not any(c.isalpha() for c in core):
            return Said(text, 0)
        found = Said(core, _letters(core))
        if not found.left:
            return Said(before + _INCHES.sub(self.inches, core) + after, 0)
        ways = (self._wholes, self._parts, self._inside, self._pairs) if core.count(" ") < LONGEST else (self._parts,)
        for one in (said for way in ways if found.left for said in way(core)):
            if one.left < found.left or (found.text == core and one.left == found.left):
                found = one
            if not found.left:
                break
        return Said(before + found.text + ("" if found.text.endswith(".") and after.strip() else after), found.left)

    def _wholes(self, text: str) -> Iterator[Said]:
        """Yield the translations by one sentence of the catalogue, the best sentence first."""
        known = self.catalogue.whole.get(text) or self.catalogue.loosely.get(uncapped(text))
        if known is not None:
            yield Said(known, 0)
        for pattern in itertools.islice(self.catalogue.fitting(text), MOST):
            for match in (pattern.match, pattern.match_late):
                holes = match(text) or match(f"{text}.")
                if holes is not None and not any(_broken(pattern, n, filled) for n, (_, filled) in enumerate(holes)):
                    yield self._filled(pattern, text, holes)

    def _filled(self, pattern: Pattern, text: str, holes: tuple[tuple[int, str], ...]) -> Said:
        said = [
            Said(filled, 0) if n in pattern.kept or _written(text, start) else self.best(filled)
            for n, (start, filled) in enumerate(holes)
        ]
        texts = [
            s.text if not start else _following(filled, s.text) for s, (start, filled) in zip(said, holes, strict=True)
        ]
        whole = "".join(p if isinstance(p, str) else texts[p] for p in pattern.said)
        return Said(re.sub(r" {2,}", " ", whole).strip(), sum(s.left for s in said))

    def _parts(self, text: str) -> Iterator[Said]:
        """Yield the translation part by part, at the strongest break first."""
        for at in _BREAKS:
            gaps = [m.span() for m in at.finditer(text) if not _written(text, m.start())]
            if gaps:
                starts, ends = [0, *(b for _, b in gaps)], [*(a for a, _ in gaps), len(text)]
                yield self._joined(text, list(zip(starts, ends, strict=True)))

    def _joined(self, text: str, spans: Sequence[tuple[int, int]]) -> Said:
        """Return the best of all ways to take neighbouring parts together."""
        ways: list[Said] = [Said("", 0)]
        for n in range(1, len(spans) + 1):
            found: Said | None = None
            for first in range(max(0, n - TOGETHER), n):
                one = self._stretch(text, spans, first, n)
                gap = text[spans[first - 1][1] : spans[first][0]] if first else ""
                if one is not None and (found is None or ways[first].left + one.left < found.left):
                    found = Said(ways[first].text + gap + one.text, ways[first].left + one.left)
            assert found is not None  # every part can be taken by itself
            ways.append(found)
        return ways[-1]

    def _stretch(self, text: str, spans: Sequence[tuple[int, int]], first: int, last: int) -> Said | None:
        """Return the translation of the parts from ``first`` up to ``last``; several only if one sentence covers them."""
        whole = text[spans[first][0] : spans[last - 1][1]]
        if last - first == 1:
            one = self.best(whole)
        elif last - first == len(spans):
            return None
        else:
            before, core, after = trimmed(whole)
            rows = sorted(self._wholes(core), key=lambda s: s.left)
            if not rows:
                return None
            one = Said(before + rows[0].text + after, rows[0].left)
        return one if first == 0 else Said(_following(whole, one.text), one.left)

    def _inside(self, text: str) -> Iterator[Said]:
        """Yield the translation with what stands in quotes or brackets said by itself."""
        for at, opening, closing in ((_QUOTED, "„", "“"), (_ASIDE, "(", ")")):
            match = at.search(text)
            if match is None:
                continue
            inside = self.best(match[1])
            outside = self.best(text[: match.start()] + ASIDE + text[match.end() :])
            filled = f"{opening}{_following(match[1], inside.text)}{closing}"
            yield Said(outside.text.replace(ASIDE, filled), inside.left + outside.left)

    def _pairs(self, text: str) -> Iterator[Said]:
        """Yield translations of a short text as two neighbouring phrases, both known wholly."""
        gaps = [m.span() for m in re.finditer(r"\s+", text)]
        for start, end in gaps if len(gaps) < 14 else ():
            one, two = self._known(text[:start]), self._known(text[end:])
            if one is not None and two is not None:
                yield Said(f"{one.text} {two.text}", 0)

    def _known(self, text: str) -> Said | None:
        """Return the translation of a phrase that one sentence of the catalogue covers wholly, or that wants none."""
        if not _letters(text):
            return Said(text, 0)
        return next((said for said in self._wholes(text) if not said.left), None)


def _broken(pattern: Pattern, hole: int, filled: str) -> bool:
    """Whether a hole is filled across the end of a sentence, or of a part of one where the pattern has no such parts itself."""
    if hole in pattern.kept:
        return False
    if f": {{{hole + 1}}}" in pattern.english and ": " not in filled:
        return _SENTENCES.search(filled) is not None  # what a colon announces may have parts
    ends = ("; ", ": ", ", ") if pattern.holes == 1 and pattern.letters < FEW else ("; ", ": ")
    parts = any(sign in filled and sign not in pattern.english for sign in ends)
    return parts or _SENTENCES.search(filled) is not None


def _written(text: str, at: int) -> bool:
    """Whether a place lies within what is quoted from a project file: in straight quotes, or in square brackets."""
    before = text[:at]
    return before.count('"') % 2 == 1 or before.count("[") > before.count("]")


def _letters(text: str) -> int:
    """Return how many letters of a text want translating; signs, units and names of files want none."""
    return 0 if _SIGN.fullmatch(text) else sum(c.isalpha() for c in _MEASURE.sub("", text) if not MARK.match(c))


def _following(source: str, result: str) -> str:
    """Return a result with a capital first letter where its source has one."""
    at = len(result) - len(result.lstrip())
    first = source.lstrip()[:1]
    return result[:at] + result[at : at + 1].upper() + result[at + 1 :] if first.isupper() else result
