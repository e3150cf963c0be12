from __future__ import annotations

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
