from __future__ import annotations

import re

import pytest

from hoopwright.project.fields import field_of, field_problems
from hoopwright.project.schema import HoopModel


def test_a_named_field_and_one_of_ones_own() -> None:
    assert field_of(HoopModel(field="160x260")) == (160.0, 260.0)
    assert field_of(HoopModel(field=(140.0, 200.5))) == (140.0, 200.5)


@pytest.mark.parametrize(
    "hoop",
    [
        {"field": "130x181"},
        {"field": "big"},
        {"field": (0, 100)},
        {"field": (-130, 180)},
        {"field": (130, 1001)},
        {"field": (100, 100), "margin": 50},
    ],
)
def test_impossible_fields(hoop: dict[str, object]) -> None:
    (problem,) = field_problems(hoop)
    assert problem.code == "HW120"


@pytest.mark.parametrize(
    "hoop", [{}, {"field": "130x180"}, {"field": (130, 180)}, {"field": ("5 in", "7 in")}, None, 3]
)
def test_possible_fields_and_those_left_to_the_schema(hoop: object) -> None:
    assert field_problems(hoop) == []


# From "Hoopla about hoop sizes", 2015, and 25.4 mm an inch: 6x10 means either of two.
@pytest.mark.parametrize(
    ("sold", "fields"),
    [
        ("4x4", ["100x100"]),
        ("5x7", ["130x180"]),
        ("5 X 7 in", ["130x180"]),
        ('5"×7"', ["130x180"]),
        ("8x8", ["200x200"]),
        ("8x12", ["200x300"]),
        ("14x8", ["360x200"]),
        ("6x10", ["150x240", "160x260"]),
        ("10x6", ["150x240", "160x260"]),
    ],
)
def test_names_in_inches_are_answered_with_the_field_sold_as_that(sold: str, fields: list[str]) -> None:
    (problem,) = field_problems({"field": sold})
    before = problem.cure.split("Known fields")[0]
    assert re.findall(r'"([0-9x]+)"', before) == fields
    assert ("two different hoops" in before) == (len(fields) == 2)


@pytest.mark.parametrize("name", ["5x5", "99x99", "1x1"])
def test_inches_of_no_hoop_are_not_answered_with_one(name: str) -> None:
    (problem,) = field_problems({"field": name})
    assert "sold as" not in problem.cure
