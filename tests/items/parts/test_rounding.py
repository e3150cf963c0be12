from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.items.parts.rounding import rounded_down, rounded_up
from hoopwright.project.lengths import Units, read_length, show_length


@pytest.mark.parametrize("units", ["mm", "in"])
@given(value=st.floats(1, 400))
def test_what_is_told_holds_when_it_is_read_back(units: Units, value: float) -> None:
    assert read_length(show_length(rounded_down(value, units), units)) <= value + 1e-3
    assert read_length(show_length(rounded_up(value, units), units)) >= value - 1e-3
