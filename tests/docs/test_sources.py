"""docs/sources.md names every published page and every standard that code, data and tests lean on."""

from __future__ import annotations

import re

from tests.docs.papers import DOCS, ROOT

PAGE = (DOCS / "sources.md").read_text(encoding="utf-8")
PLACE = re.compile(r"(?<![\w.@/-])((?:[a-z0-9-]+\.)+(?:com|org|uk|ch|de|nl))(?![\w(])")
STANDARD = re.compile(r"\b(?:ISO(?:/CIE)?|IEC|ASTM|OEIS) [A-Z]?\d[\d-]*\d")
NO_SOURCES = {"www.w3.org", "take.language.de"}
"""Names a file format asks for, and keys of the words of a page."""


def texts() -> str:
    files = [p for end in ("py", "toml") for folder in ("src", "tests") for p in (ROOT / folder).rglob(f"*.{end}")]
    return "\n".join(p.read_text(encoding="utf-8") for p in files)


def test_every_page_that_is_leant_on_is_named() -> None:
    found = set(PLACE.findall(texts())) - NO_SOURCES
    assert len(found) > 10
    assert sorted(place for place in found if place not in PAGE) == []


def test_every_standard_that_is_leant_on_is_named() -> None:
    found = set(STANDARD.findall(texts()))
    assert len(found) > 5
    assert sorted(name for name in found if name not in PAGE) == []
