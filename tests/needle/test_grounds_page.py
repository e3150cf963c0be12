"""docs/grounds.md names every ground with its true figures, and its picture is the one the program draws."""

from __future__ import annotations

import pytest

from hoopwright.needle.grounds import GROUNDS
from hoopwright.outputs.drawing.svg import to_svg
from tests.docs.papers import DOCS, drawer, same_picture

PAGE = (DOCS / "grounds.md").read_text(encoding="utf-8")
ROWS = {
    cells[0].strip("`"): cells[1:]
    for line in PAGE.splitlines()
    if len(cells := [c.strip() for c in line.strip("|").split("|")]) == 6 and cells[0].startswith("`")
}


def test_every_ground_stands_on_the_page_and_nothing_else() -> None:
    assert list(ROWS) == list(GROUNDS)


@pytest.mark.parametrize("name", sorted(GROUNDS))
def test_its_figures_and_words_are_those_of_the_table(name: str) -> None:
    ground = GROUNDS[name]
    words, suits, spacing, least, angle = ROWS[name]
    assert words == f"{ground.title}. {ground.description}"
    assert suits[0].isupper() and suits.endswith(".") and len(suits) > 20
    assert (float(spacing), float(least), float(angle)) == (ground.spacing, ground.least_spacing, ground.angle)


def test_no_two_grounds_suit_the_same() -> None:
    assert len({suits for _, suits, *_ in ROWS.values()}) == len(ROWS)


def test_the_picture_is_what_the_program_draws() -> None:
    """Words are the same and numbers within a hundredth of a millimetre; ``make pictures`` draws it anew."""
    kept = (DOCS / "pictures" / "grounds.svg").read_text(encoding="utf-8")
    assert same_picture(kept, to_svg(drawer().grounds()))
    assert all(f">{name}</text>" in kept for name in GROUNDS)


def test_page_project_file_and_swatches_lead_to_each_other() -> None:
    assert "pictures/grounds.svg" in PAGE
    for paper in ("project-file.md", "swatches.md"):
        assert "(grounds.md)" in (DOCS / paper).read_text(encoding="utf-8")
    assert "(swatches.md)" in PAGE
