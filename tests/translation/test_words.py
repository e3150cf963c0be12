"""One voice: every German sentence uses the German word that docs/glossary-de.md gives for an English one."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from hoopwright.translation.catalogue import entries
from hoopwright.translation.pattern import trimmed, uncapped
from hoopwright.worktable.texts import words

TABLE = Path(__file__).parents[2] / "docs" / "glossary-de.md"
ROW = re.compile(r"^\| (?P<english>[^|]+) \| (?P<german>[^|]+) \|(?P<more>[^|]*)\|$", re.MULTILINE)
HOLE = re.compile(r"\{=?\w+\}")
WRITTEN = re.compile(r"\[[^\]]*\]|\"[^\"]*\"|[\w/.-]+\.md\b|\w+ = \S+")
"""What is quoted from a project file."""

FREE = {
    "the panels will cover these lines": "the fronts of a pouch, which need not be patchwork",
    "which the panel does not have": "said shorter",
    "The panel has no patch": "said shorter",
    "the outline of the panel": "the only outline there is",
    "the picture of the panel": "the only picture there is",
    "Press a patch on the panel": "said shorter",
    "Holding line outside the panel": "of the line round it",
    "a light ground": "what something is held against",
    "Wheels side by side": "the rim of a wheel",
    "turned under or trimmed": "said as a noun",
    "as you would turn a sleeve": "of a garment",
    "sleeves and scissors": "of a garment",
    "zip teeth": "said shorter",
    "its pull and stops": "said of the zip before",
    "Outline what a block": "a verb in English",
    "Of outlines and numbers": "said of them before",
    "of the layout: ": "numbers that stand on the panel",
    "Sew the layout in a thread": "said of it before",
    "the patchwork has no such": "said shorter",
    "zip pouch of": "the title says which",
    "must stay free, over": "the quoted name says that it is a block",
    "passes only": "the quoted name says that it is a block",
    "Disk quota": "said without it",
    "a finding blocks": "a verb in English",
    "Blocks": "a severity",
    "blocks": "a severity",
}
"""Where a sentence of ours need not hold the word, and why."""

ALIKE_NOT = {
    "totals.size": "a heading for one panel; the catalogue's word is the item's name",
    "cloth.panel": "one panel; the catalogue's word is the item's name",
    "take.line.warning": "a file; the catalogue's word is a severity",
    "panel.front": "a side; the catalogue's word is a piece",
    "panel.back": "a side; the catalogue's word is a piece",
    "machine.back": "a way; the catalogue's word is a piece",
    "sew.work.fold": "handwork; the catalogue's word is a line",
    "machine.work.fold": "handwork; the catalogue's word is a line",
    "sew.look.under": "where one looks from; the catalogue's word is where something is laid",
    "sew.again": "a button; the catalogue's word is a sentence",
    "cloth.print.size": "of a print",
    "laid.accent.size": "of a motif",
    "make.size": "of a motif",
    "cloth.ground.panel": "the whole of it",
    "laid.middle.panel": "in the second case",
    "make.pieced": "a heading",
    "make.pieced.front": "a choice",
    "make.choice.none": "in the gender of what is chosen",
    "make.border.none": "in the gender of what is chosen",
    "set.none": "in the gender of what is chosen",
    "machine.gone": "with the word the page uses beside it",
    "machine.unsewable": "with the word the page uses beside it",
}


@cache
def table() -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return every English word of the table with the German it may have."""
    rows = []
    for match in ROW.finditer(TABLE.read_text(encoding="utf-8")):
        if match["english"].strip() != "English":
            german = [match["german"].strip(), *(w.strip() for w in match["more"].split(",") if w.strip())]
            english = re.sub(r" \(.*\)", "", match["english"]).split(", ")
            rows += [(word.strip(), tuple(german)) for word in english]
    return tuple(rows)


@cache
def said() -> tuple[tuple[str, str], ...]:
    """Return all we say, English and German: sentences of the engine, and words of the page."""
    first, other = words("en"), words("de")
    return tuple((e, o) for t in entries("de").values() for e, o in t.items()) + tuple(
        (first[k], other[k]) for k in first
    )


def strays(english: str, german: tuple[str, ...]) -> list[tuple[str, str]]:
    """Return what is said with the English word and none of the German ones."""
    word = re.compile(rf"(?<![\w-]){re.escape(english)}(?:s|es|ned|med|ped|ning|ming|ping)?(?![\w-])", re.IGNORECASE)
    stems = [stem_of(g) for g in german]
    return [
        (e, o)
        for e, o in said()
        if word.search(WRITTEN.sub("", HOLE.sub("0", e)))
        and not any(stem in o.lower() for stem in stems)
        and not any(is_free(e, free) for free in FREE)
    ]


def is_free(english: str, free: str) -> bool:
    """Whether a sentence is one that need not hold a word: a single word only by itself."""
    return free in english if " " in free else free == english


def stem_of(german: str) -> str:
    """Return what all forms of a German word begin with."""
    small = german.lower()
    return small[: -len(end)] if (end := next((e for e in ("en", "e", "te seite") if small.endswith(e)), "")) else small


def test_the_table_is_read() -> None:
    assert len(table()) > 60
    assert dict(table())["holding line"] == ("Randlinie",)
    assert dict(table())["satin edge"] == ("Satinkante",)
    assert len(dict(table())) == len(table()), "no word stands twice"


@pytest.mark.parametrize(("english", "german"), table(), ids=[e for e, _ in table()])
def test_a_word_is_said_as_the_table_has_it(english: str, german: tuple[str, ...]) -> None:
    assert strays(english, german) == []


def test_a_stray_word_is_found() -> None:
    assert len(strays("ground", ("Steppmuster",))) > 20


@pytest.mark.parametrize("free", FREE)
def test_every_freedom_is_needed(free: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """None outlives its sentence."""
    monkeypatch.delitem(FREE, free)
    ours = [(e, o) for e, o in said() if is_free(e, free)]
    monkeypatch.setattr(f"{__name__}.said", lambda: ours)
    assert any(strays(english, german) for english, german in table())


def test_a_tack_down_is_no_holding_line() -> None:
    """The one holds a laid piece, the other runs round the whole panel."""
    held = [(e.lower(), o) for e, o in said()]
    assert [o for e, o in held if "Randlinie" in o and "holding line" not in e] == []
    assert [o for e, o in held if "Haltelinie" in o and "tack" not in e] == []


def test_batting_is_no_stabilizer() -> None:
    soft = [(e, o) for e, o in said() if re.search(r"\bbatting\b", e) and not re.search("stabilizer|foundation", e)]
    assert [o for _, o in soft if re.search(r"(?<!Klebe)vlies", o, re.IGNORECASE)] == []


def test_the_page_says_what_the_engine_says() -> None:
    """The same English has the same German wherever it stands."""
    known = {uncapped(trimmed(e)[1]): uncapped(trimmed(o)[1]) for t in entries("de").values() for e, o in t.items()}
    first, other = words("en"), words("de")
    differs = {
        key: other[key]
        for key in first
        if (german := known.get(uncapped(trimmed(first[key])[1]))) and german != uncapped(trimmed(other[key])[1])
    }
    assert set(differs) - set(ALIKE_NOT) == set()
