"""docs/glossary.md explains the words of the booklet, the blocks of the run sheet and the hand work."""

from __future__ import annotations

import re

from hoopwright.core.findings import Severity
from hoopwright.operations.vocabulary import Role
from hoopwright.outputs.booklet.assembly import WORDS
from tests.docs.papers import DOCS

TEXT = (DOCS / "glossary.md").read_text(encoding="utf-8")
ENTRIES = re.findall(r"^\| ([^|]+) \| ([^|]+) \|$", TEXT, re.MULTILINE)[1:]
TERMS = [term.strip() for cell, _ in ENTRIES for term in cell.split(",")]


def test_it_is_in_order_and_tells_nothing_twice() -> None:
    first = [cell.lower() for cell, _ in ENTRIES]
    assert first == sorted(first)
    assert len(set(TERMS)) == len(TERMS)


def test_it_has_every_word_the_booklet_explains() -> None:
    assert [word for word, *_ in WORDS if word.lower() not in TERMS] == []


def test_it_has_every_kind_of_block() -> None:
    said = {role: f"{role} line" if role is Role.PLACEMENT else f"{role}" for role in Role}
    others = {Role.SEAM: "seam line"}
    assert [role for role, word in said.items() if others.get(role, word) not in TERMS] == []


def test_it_tells_the_three_severities() -> None:
    meaning = dict(ENTRIES)["severity"]
    assert all(severity.value in meaning for severity in Severity)
