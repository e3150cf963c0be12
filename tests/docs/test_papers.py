"""The papers lead to places that exist, and every decision stands in the index."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.docs.papers import DOCS, ROOT, papers

LINK = re.compile(r"\]\(([^)#\s]+)(#[^)\s]+)?\)")
CODE = re.compile(r"^```.*?^```|`[^`\n]+`", re.DOTALL | re.MULTILINE)


@pytest.mark.parametrize("paper", papers(), ids=lambda p: p.relative_to(ROOT).as_posix())
def test_links_and_pictures_lead_somewhere(paper: Path) -> None:
    text = CODE.sub("", paper.read_text(encoding="utf-8"))
    targets = [t for t, _ in LINK.findall(text) if "://" not in t]
    assert [t for t in targets if not (paper.parent / t).exists()] == []


@pytest.mark.parametrize("paper", papers(), ids=lambda p: p.relative_to(ROOT).as_posix())
def test_a_paper_begins_with_its_title(paper: Path) -> None:
    assert re.match(r"# \S", paper.read_text(encoding="utf-8"))


def test_every_decision_stands_in_the_index_with_title_and_status() -> None:
    index = (DOCS / "decisions" / "README.md").read_text(encoding="utf-8")
    listed = re.findall(r"^\| \[(\d{4})\]\(([^)]+)\) \| (.+) \| (.+) \|$", index, re.MULTILINE)
    true = []
    for path in sorted((DOCS / "decisions").glob("[0-9]*.md")):
        head = re.match(r"# (\d{4}) (.+)\n\nStatus: (.+)\.\n", path.read_text(encoding="utf-8"))
        assert head is not None and path.name.startswith(f"{head[1]}-")
        true.append((head[1], path.name, head[2], head[3]))
    assert listed == true
    assert len({number for number, *_ in true}) == len(true)


def test_the_readme_leads_to_every_paper_at_the_top_of_docs() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert [p.name for p in sorted(DOCS.glob("*.md")) if f"(docs/{p.name})" not in readme] == []
