"""Amounts of cloth are never less than what is cut from it, as the maker reads both."""

from __future__ import annotations

import pytest

from hoopwright.build import Build
from hoopwright.estimate import estimate
from hoopwright.estimate.cloth import cloth_needs, cut_sizes
from hoopwright.project.lengths import Units, read_length, show_length
from tests.outputs.small_item import item_build


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("cut", ["templates", "rough", "both"])
def test_every_amount_holds_the_largest_cut(units: Units, cut: str) -> None:
    made: Build = item_build(units=units, piecing={"cut": cut})
    needs = {n.cloth: n for n in cloth_needs(made.plan)}
    assert needs == {n.cloth: n for n in estimate(made.plan).cloths}
    for size in cut_sizes(made.plan):
        need = needs[size.cloth]
        for whole, part in ((need.width, size.width), (need.length, size.length)):
            assert read_length(show_length(whole, units)) >= read_length(show_length(part, units)) - 1e-9
            assert read_length(show_length(whole, units)) >= part - 0.01
