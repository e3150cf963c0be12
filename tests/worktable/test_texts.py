"""The catalogue: every language has the same words, the same gaps to fill in, and everything the page asks for."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from hoopwright.worktable import texts
from hoopwright.worktable.texts import FIRST, NAMES, words

COMPONENTS = Path(texts.__file__).parents[1] / "components"
GAP = re.compile(r"\{(\w+)\}")
ASKED = re.compile(r'\bt\(\s*["\']([\w.-]+)["\']\s*[,)]')
COUNTED = re.compile(r'\btn\(\s*["\']([\w.-]+)["\']')


@pytest.mark.parametrize("language", [c for c in NAMES if c != FIRST])
def test_languages_have_the_same_words_and_gaps(language: str) -> None:
    first, other = words(FIRST), words(language)
    assert sorted(first) == sorted(other)
    assert [k for k in first if set(GAP.findall(first[k])) != set(GAP.findall(other[k]))] == []
    assert [k for k, v in other.items() if not v.strip()] == []


@pytest.mark.parametrize("language", [c for c in NAMES if c != FIRST])
def test_a_language_is_translated(language: str) -> None:
    """A few words are the same in both; most cannot be."""
    first, other = words(FIRST), words(language)
    same = [k for k in first if first[k] == other[k] and len(first[k]) > 12]
    assert same == []


def test_every_word_the_page_asks_for_is_there() -> None:
    source = "\n".join(p.read_text(encoding="utf-8") for p in COMPONENTS.glob("*.js"))
    asked = set(ASKED.findall(source)) | {f"{k}.{n}" for k in COUNTED.findall(source) for n in ("one", "many")}
    assert len(asked) > 50
    assert sorted(k for k in asked if not k.endswith(".") and k not in words(FIRST)) == []


def test_an_unknown_language_is_the_first() -> None:
    assert words("xx") == words(FIRST)


OTHER_PIECES = {"totals.pieces.one", "totals.pieces.many", "take.about.templates", "machine.caution.metal"}
"""Where English speaks of pieces that are no areas of a panel: of cloth to buy and to cut, of a broken needle."""


def test_areas_of_a_panel_are_patches_in_english() -> None:
    assert {k for k, v in words("en").items() if re.search(r"\bpieces?\b", v, re.IGNORECASE)} == OTHER_PIECES


FOREIGN = re.compile(
    r"\b(Panel|Patch|Patches|Button|Layout|Download|Tool|Preview|Block-?[Dd]esign|Hooping|Stabilizer|klicken)\b"
)
"""Words for which the German trade has its own."""


def test_german_speaks_as_the_trade_does() -> None:
    assert [k for k, v in words("de").items() if FOREIGN.search(v)] == []
    assert [
        k for k, v in words("de").items() if re.search(r"(diese[mrsn]?|nächste[rn]?) Rahmen", v, re.IGNORECASE)
    ] == []
