"""What the booklet says about sizes, against the outlines drawn by hand."""

from __future__ import annotations

from pathlib import Path

import pytest
from shapely.geometry import LineString

from hoopwright.build import Build
from hoopwright.estimate.cloth import cutting_sheets
from hoopwright.operations.vocabulary import Press, Turn
from hoopwright.outputs.booklet.content import content
from hoopwright.outputs.booklet.materials import materials
from hoopwright.outputs.booklet.sizes import opening_words, sewn_sizes, size_words
from hoopwright.pipeline import build
from hoopwright.project.lengths import read_length
from hoopwright.project.load import load
from tests.outputs.small_item import BODY, item_build, item_plan

EXAMPLES = Path(__file__).parents[2] / "examples"


def example(name: str) -> Build:
    loaded = load(EXAMPLES / name / "project.toml")
    return build(loaded.project, dict(loaded.drawings), prove=False)


def test_the_sewn_size_is_that_of_the_closing_seam() -> None:
    left, low, right, high = BODY.bounds
    assert sewn_sizes(item_plan()) == (f"{right - left:g} × {high - low:g} mm",)


def test_the_sewn_size_stands_on_the_cover() -> None:
    said = content(item_build(), {})["cover"]
    assert isinstance(said, dict)
    assert {"name": "Sewn body", "value": "80 × 100 mm"} in said["facts"]


def test_two_equal_works_have_one_size_and_contents_are_named() -> None:
    assert "about 44 × 156 mm, laid flat" in size_words(example("reed-bookmark").plan)
    assert "contents of 82 × 88 × 8 mm" in size_words(example("quay-pouch").plan)


def test_a_panel_has_no_sewn_body() -> None:
    assert size_words(example("tide-mill-flap").plan) == ""


def test_the_opening_is_measured_along_its_line() -> None:
    turn = Turn(LineString([(0, 0), (30, 40)]), "front", "back", "Turn it.")
    assert opening_words(turn, "mm") == " The opening is 50 mm wide."
    assert opening_words(Press("all", "Press."), "mm") == ""


@pytest.mark.parametrize("name", ["quay-pouch", "reading-sleeve"])
def test_the_stiffener_to_buy_holds_the_sheet_that_is_laid(name: str) -> None:
    made = example(name)
    (sheet,) = cutting_sheets(made.plan)
    left, low, right, high = sheet.pose.bounds
    row = next(
        c
        for c in materials(made)["cloths"]  # type: ignore[attr-defined]
        if c["name"] == made.plan.project.cloths[sheet.cloth].name
    )
    width, height = (read_length(f"{side} mm") for side in row["amount"].removesuffix(" mm").split(" × "))
    assert width >= right - left - 0.05
    assert height >= high - low - 0.05
    assert "one sheet" in row["note"]
