from __future__ import annotations

import pytest

from hoopwright.core.errors import HoopwrightError
from hoopwright.items.swatches.wish import MARKS, SWATCHES, SwatchWish, project_of
from hoopwright.project.fields import field_of


@pytest.mark.parametrize(
    ("text", "size"),
    [("130x180", (130, 180)), ("360 X 200 mm", (360, 200)), ("123x145.5", (123, 145.5)), ("88 × 99mm", (88, 99))],
)
def test_fields_by_name_and_by_size(text: str, size: tuple[float, float]) -> None:
    assert field_of(project_of(SwatchWish(field=text)).hoop) == size


@pytest.mark.parametrize(
    ("text", "cure"),
    [
        ("5x7", "130x180"),
        ("6x10", "measure yours"),
        ("large", "Known fields"),
        ("5x5", "20 to 1000"),
        ("9999x200", "20 to"),
    ],
)
def test_no_hoop_has_such_a_field(text: str, cure: str) -> None:
    with pytest.raises(HoopwrightError) as told:
        project_of(SwatchWish(field=text))
    assert cure in told.value.cure
    assert told.value.message[0].isupper() and told.value.cure.endswith(".")


def test_kinds_are_asked_for_by_ending_and_each_once() -> None:
    assert project_of(SwatchWish(kinds=("pes", ".DST", "pes"))).machine.kinds == ("pes", "dst")
    assert len(project_of(SwatchWish()).machine.kinds) > 3


def test_an_unknown_kind_is_told_with_those_there_are() -> None:
    with pytest.raises(HoopwrightError, match="hus") as told:
        project_of(SwatchWish(kinds=("hus",)))
    assert "dst" in told.value.cure and "vp3" in told.value.cure


def test_the_project_has_the_threads_of_the_sheets() -> None:
    project = project_of(SwatchWish(units="in", paper="Letter"))
    assert set(project.threads) == {MARKS, SWATCHES}
    assert (project.units, project.paper) == ("in", "Letter")
