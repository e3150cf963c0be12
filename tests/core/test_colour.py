from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.core.colour import difference, lab_of, rgb_of

LAB = st.tuples(st.floats(0, 100), st.floats(-120, 120), st.floats(-120, 120))


@given(LAB, LAB)
def test_a_difference_is_the_same_both_ways_and_not_negative(
    one: tuple[float, float, float], other: tuple[float, float, float]
) -> None:
    assert difference(one, other) == pytest.approx(difference(other, one), abs=1e-9)
    assert difference(one, other) >= 0.0


@given(LAB)
def test_a_colour_does_not_differ_from_itself(lab: tuple[float, float, float]) -> None:
    assert difference(lab, lab) == 0.0


def test_rgb_is_read_from_hexadecimal() -> None:
    assert rgb_of("#ff0080") == (1.0, 0.0, 128 / 255)


@pytest.mark.parametrize("text", ["ff0080", "#ff008", "#ff00801", "", "red", "#gg0000"])
def test_other_texts_are_no_colours(text: str) -> None:
    with pytest.raises(ValueError, match="rrggbb"):
        rgb_of(text)


def test_greys_have_no_hue() -> None:
    _, a, b = lab_of("#777777")
    assert abs(a) < 0.02
    assert abs(b) < 0.02
