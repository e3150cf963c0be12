"""The catalogue of a language is well-formed: nothing is lost between the English and the other language."""

from __future__ import annotations

import re
from collections import Counter

import pytest

from hoopwright.translation.catalogue import LANGUAGES, entries
from hoopwright.translation.marks import numbers_of
from hoopwright.translation.pattern import trimmed
from hoopwright.worktable.texts import NAMES

HOLES = re.compile(r"\{=?([0-9]+)\}")
ROWS = [(language, file, e, o) for language in LANGUAGES for file, t in entries(language).items() for e, o in t.items()]


def faults(english: str, other: str) -> list[str]:
    """Return what is wrong with an entry."""
    holes = [int(n) for n in HOLES.findall(english)]
    bare = HOLES.sub("", english), HOLES.sub("", other)
    numbers = {n.replace(".", ",") for n in numbers_of(bare[0])} - {"1"}  # which may be said as "ein"
    rules = {
        "empty": bool(english.strip() and other.strip()),
        "holes not counted in order": holes == list(range(1, len(holes) + 1)),
        "other holes": set(holes) == {int(n) for n in HOLES.findall(other)},
        "a hole kept in the English": "{=" not in english,
        "another number": numbers <= set(re.findall(r"[0-9]+(?:,[0-9]+)?", other)),
        "a decimal point": not any("." in n for n in numbers_of(bare[1])),
        "English quotes": "”" not in other and other.count("„") == other.count("“"),
    }
    return [rule for rule, kept in rules.items() if not kept]


def test_every_language_of_the_page_has_a_catalogue() -> None:
    assert {"en", *LANGUAGES} == set(NAMES)
    assert len(ROWS) > 1000


def test_every_entry_is_whole() -> None:
    assert [(file, e, found) for _, file, e, o in ROWS if (found := faults(e, o))] == []


@pytest.mark.parametrize(
    ("english", "other"),
    [
        ("Lay {1}", "Auflegen"),
        ("Lay {1}", "Auflegen: {2}"),
        ("Lay {2} on {1}", "{1} auf {2} legen"),
        ("Trim it 2 mm outside", "3 mm außerhalb zurückschneiden"),
        ("Trim it 2.5 mm outside", "2.5 mm außerhalb zurückschneiden"),
        ("Trim it", " "),
        ("“{1}” is sewn", "“{1}” wird genäht"),
    ],
)
def test_a_faulty_entry_is_found(english: str, other: str) -> None:
    assert faults(english, other)


def test_no_sentence_stands_twice() -> None:
    found = Counter((language, trimmed(e)[1]) for language, _, e, _ in ROWS)
    assert [key for key, count in found.items() if count > 1] == []
