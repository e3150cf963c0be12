from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.items.parts.limits import Least, Limit, too_little, too_much
from hoopwright.project.lengths import read_length
from tests.items.bags import project


def limit(value: float, most: float) -> Limit:
    return Limit("HW423", "flap", value, most, "The flap is higher than the body")


def test_only_what_passes_its_limit_is_refused_and_the_place_is_named() -> None:
    found = too_much((limit(30.0, 30.0), limit(30.1, 30.0)), project("flap-pouch"))
    assert [str(f.where) for f in found] == ["make.flap"]
    assert found[0].cure == "Make it at most 30 mm"


@pytest.mark.parametrize("units", ["mm", "in"])
@given(most=st.floats(0.5, 300.0))
def test_the_length_that_is_told_would_do(units: str, most: float) -> None:
    """What the maker reads, typed into the file, must not be refused again."""
    one = project("flap-pouch", units=units)
    (found,) = too_much((limit(most + 1.0, most),), one)
    told = found.cure.removeprefix("Make it at most ")
    assert too_much((limit(read_length(told), most),), one) == ()


@pytest.mark.parametrize("units", ["mm", "in"])
@given(least=st.floats(1.0, 60.0))
def test_a_part_that_is_too_small_is_refused_and_what_is_told_would_do(units: str, least: float) -> None:
    def part(value: float) -> Least:
        return Least("HW435", "pocket", value, least, "The pocket is too shallow to hold anything")

    one = project("glasses-sleeve", units=units)
    (found,) = too_little((part(least / 2.0),), one)
    told = found.cure.removeprefix("Make it at least ").removesuffix(", or 0 for none")
    assert too_little((part(read_length(told)), part(0.0)), one) == ()
