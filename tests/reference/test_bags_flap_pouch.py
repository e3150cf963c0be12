"""Bag arithmetic of the flap pouch against published patterns and plain geometry."""

from __future__ import annotations

import math

import pytest

from hoopwright.items.parts.contents import Contents
from hoopwright.items.parts.opening import FINGERS, half_girth_of_box, half_girth_rolled, least_opening
from hoopwright.project.lengths import INCH


def inches(value: float) -> float:
    return value * INCH


def test_the_width_of_a_pouch_is_width_and_thickness_and_ease() -> None:
    """W + D + 1/8 in + two allowances: 4 3/4 and 5/8 give 6 in with allowances of 1/4 (topicsexpress.com, smartphone
    case materials).
    """
    phone = Contents(inches(4.75), inches(6.75), inches(0.625))
    assert phone.flat_width(inches(0.125)) + 2 * inches(0.25) == pytest.approx(inches(6))


def test_the_width_with_a_generous_ease() -> None:
    """W + H + 4 cm: 12.7 and 0.7 give 17.4 cm (littlelionpatterns.com, pouch for electronics, 2025)."""
    assert Contents(127.0, 200.0, 7.0).flat_width(40.0) == pytest.approx(174.0)


def test_one_strip_round_the_contents_is_three_lengths_and_two_thicknesses() -> None:
    """3L + 2D + two allowances: 6 3/4 and 5/8 give 22 in (topicsexpress.com, smartphone case materials)."""
    phone = Contents(inches(4.75), inches(6.75), inches(0.625))
    assert phone.wrapped() + 2 * inches(0.25) == pytest.approx(inches(22))


def test_half_the_girth_of_a_box() -> None:
    """A box of 60 by 40 has a girth of 200 (plain geometry)."""
    assert half_girth_of_box(60.0, 40.0) == 100.0


@pytest.mark.parametrize(("width", "thickness", "core"), [(90.0, 3.0, 6.0), (203.0, 2.0, 0.5), (60.0, 4.0, 10.0)])
def test_a_rolled_sheet_against_a_spiral_rolled_step_by_step(width: float, thickness: float, core: float) -> None:
    """A spiral whose radius grows by the thickness each turn, walked until the sheet is used up; its girth is measured
    at the mean radius of the last turn, so the two differ by at most a thickness of radius.
    """
    step, angle, used = 1e-3, 0.0, 0.0
    while used < width:
        used += (core + thickness / 2 + thickness * angle / (2 * math.pi)) * step
        angle += step
    outer = core + thickness * angle / (2 * math.pi) + thickness
    rolled = half_girth_rolled(width, thickness, core)
    assert math.pi * (outer - thickness) - 1e-6 <= rolled <= math.pi * outer + 1e-6


@pytest.mark.parametrize(
    ("width", "published"),
    [
        (inches(8), inches(3)),  # 3 in on a case of 8 x 9 in (upstyledaily.com, eyeglass case tutorial)
        (110.0, 100.0),  # 10 cm on 11 x 42 cm (ashortstopinchina.com, glasses case)
    ],
)
def test_published_openings_are_wide_enough(width: float, published: float) -> None:
    """With 3 mm of cloth and batting in all (from memory) and no stiffener, our least opening asks for no more."""
    assert least_opening(width, 3.0, 0.0) <= published


def test_an_opening_of_20_mm_is_too_narrow_for_a_stiff_body_of_90() -> None:
    assert least_opening(90.0, 3.5, 1.2) > 20.0
    assert least_opening(90.0, 3.5, 1.2, rolls=False) == 93.5 + FINGERS
