from __future__ import annotations

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from hoopwright.project.lengths import (
    LARGEST,
    LengthError,
    Units,
    read_length,
    rounded_up,
    show_apart,
    show_length,
    show_measure,
    show_size,
)


@pytest.mark.parametrize(
    ("written", "mm"),
    [
        (108, 108.0),
        (12.5, 12.5),
        (-3, -3.0),
        ("108", 108.0),
        ("108 mm", 108.0),
        ("108mm", 108.0),
        ("10.8 cm", 108.0),
        ("0.5 m", 500.0),
        (".5 cm", 5.0),
        ("4.25in", 107.95),
        ("4 1/4 in", 107.95),
        ('4 1/4"', 107.95),
        ("4 1/4”", 107.95),
        ("4 1/4″", 107.95),
        ("4 1/4''", 107.95),
        ("4¼ in", 107.95),
        ("4-1/4 in", 107.95),
        ("4 - 1/4 inches", 107.95),
        ("1/4 in", 6.35),
        ('1/4"', 6.35),
        ("½ inch", 12.7),
        ("1 in.", 25.4),
        ("9/4 in", 57.15),
        ("-1 1/2 in", -38.1),
        ("− 1/2 in", -12.7),
        ("  7  MM ", 7.0),
        ("4\u00a01/4\u00a0in", 107.95),
    ],
)
def test_reads_what_makers_write(written: object, mm: float) -> None:
    """An inch is 25.4 mm exactly (international yard and pound agreement, 1959)."""
    assert read_length(written) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(
    ("written", "says"),
    [
        ("10,8 cm", "comma"),
        ("1,000 mm", "comma"),
        ("1/4", "fraction without a unit"),
        ("4 1/0 in", "divides by nought"),
        ("4 ft", "'ft'"),
        ("4 1/4 1/2 in", "not a length"),
        ("wide", "not a length"),
        ("4 in 3", "not a length"),
        ("", "empty"),
        ("   ", "empty"),
        ("9" * 100, "characters"),
        ("nan", "not a length"),
        ("1e3 mm", "not a length"),
        ("٤ mm", "not a length"),
        (math.nan, "not a number that can be measured"),
        (math.inf, "not a number that can be measured"),
        (True, "true is not a length"),
        (False, "false is not a length"),
        (10_001, "more than 10 metres"),
        (-10_001, "more than 10 metres"),
        (10**400, "more than 10 metres"),
        ("11 m", "more than 10 metres"),
        (None, "not a length"),
        ([1], "not a length"),
    ],
)
def test_refuses_with_a_reason_and_a_cure(written: object, says: str) -> None:
    with pytest.raises(LengthError) as caught:
        read_length(written)
    assert says in caught.value.message
    assert caught.value.cure


def test_comma_cure_is_the_very_text_with_a_point() -> None:
    with pytest.raises(LengthError) as caught:
        read_length("10,8 cm")
    assert '"10.8 cm"' in caught.value.cure


@pytest.mark.parametrize(
    ("mm", "units", "shown"),
    [
        (108.0, "mm", "108 mm"),
        (108.5, "mm", "108.5 mm"),
        (108.04, "mm", "108 mm"),
        (6.35, "mm", "6.4 mm"),
        (-0.04, "mm", "0 mm"),
        (-12.25, "mm", "-12.3 mm"),
        (107.95, "in", "4 1/4 in"),
        (6.35, "in", "1/4 in"),
        (101.6, "in", "4 in"),
        (0.0, "in", "0 in"),
        (-0.1, "in", "0 in"),
        (-38.1, "in", "-1 1/2 in"),
        (25.3, "in", "1 in"),
        (23.9, "in", "15/16 in"),
    ],
)
def test_shows_lengths_as_makers_read_them(mm: float, units: str, shown: str) -> None:
    assert show_length(mm, units) == shown  # type: ignore[arg-type]


def test_shows_sizes_with_one_unit() -> None:
    assert show_size(108.0, 130.0, "mm") == "108 × 130 mm"
    assert show_size(107.95, 130.175, "in") == "4 1/4 × 5 1/8 in"


def test_nothing_is_shown_of_what_is_no_number() -> None:
    with pytest.raises(ValueError, match="finite"):
        show_length(math.nan, "mm")


@given(st.floats(-LARGEST + 1, LARGEST - 1))
@example(0.79374999)
def test_inches_shown_and_read_again_are_within_half_a_sixteenth(mm: float) -> None:
    half_step = 25.4 / 32
    assert abs(read_length(show_length(mm, "in")) - mm) <= half_step + 1e-9


@given(st.floats(-LARGEST, LARGEST))
def test_millimetres_shown_and_read_again_are_within_half_a_tenth(mm: float) -> None:
    assert abs(read_length(show_length(mm, "mm")) - mm) <= 0.05 + 1e-9


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        assert math.isfinite(read_length(text))
    except LengthError as error:
        assert error.message and error.cure


@pytest.mark.parametrize(
    ("mm", "units", "text"),
    [(1.5, "mm", "1.5 mm"), (0.3, "in", "0.3 mm"), (6.35, "in", "6.35 mm (1/4 in)"), (5.0, "mm", "5 mm")],
)
def test_a_small_length_is_not_hidden_in_a_fraction(mm: float, units: Units, text: str) -> None:
    assert show_measure(mm, units) == text


@pytest.mark.parametrize(
    ("first", "second", "units", "told"),
    [
        (3.21, 3.0, "in", ("3.2 mm", "3 mm")),
        (3.04, 3.0, "mm", ("3.04 mm", "3 mm")),
        (60.0, 50.0, "mm", ("60 mm", "50 mm")),
        (50.8, 25.4, "in", ("2 in", "1 in")),
    ],
)
def test_lengths_that_are_compared_never_look_the_same(
    first: float, second: float, units: Units, told: tuple[str, str]
) -> None:
    assert show_apart(first, second, units) == told


@pytest.mark.parametrize("units", ["mm", "in"])
def test_rounding_up_is_never_less_than_rounding_to_the_nearest(units: Units) -> None:
    for k in range(1, 2000):
        mm = k * 0.037
        up = rounded_up(mm, units)
        assert up >= mm - 0.01
        assert up - mm < 25.4 / 16
        assert read_length(show_length(up, units)) >= read_length(show_length(mm, units)) - 1e-9


def test_a_small_measure_has_no_inches_of_nought() -> None:
    assert show_measure(0.25, "in") == "0.25 mm"
