"""A recipe's settings, told in the maker's words and units."""

from __future__ import annotations

from typing import Any

import pytest

from hoopwright.items.block import BLOCK
from hoopwright.items.flap_pouch import FLAP_POUCH
from hoopwright.items.settings import read_settings
from hoopwright.project.lengths import Units


@pytest.mark.parametrize(
    ("make", "units", "message", "cure"),
    [
        (
            {"contents": ["78 in", "88 mm", "8 mm"]},
            "in",
            "The width of 78 in is too large",
            "It must be at most 15 11/16 in. Did you mean millimetres?",
        ),
        ({"contents": [82, 88, 90]}, "mm", "The thickness of 90 mm is too large", "It must be at most 80 mm"),
        (
            {"contents": [82, 508, 8]},
            "in",
            "The length of 20 in is too large",
            "It must be at most 15 11/16 in",
        ),
        ({"flap_radius": -1}, "mm", "The flap radius of -1 mm is too small", "It must be at least 0 mm"),
    ],
)
def test_a_number_beyond_its_limit(make: dict[str, Any], units: Units, message: str, cure: str) -> None:
    settings, findings = read_settings(FLAP_POUCH, make, units)
    assert settings is None
    assert [(f.message, f.cure) for f in findings] == [(message, cure)]


def test_what_is_no_length() -> None:
    _, findings = read_settings(FLAP_POUCH, {"flap": "wide"})
    assert findings[0].cure == 'Write a length such as 108, "108 mm" or "4 1/4 in"'


def test_a_limit_told_in_inches_can_be_typed() -> None:
    """400 mm are 15.748 in; the nearest sixteenth, 15 3/4 in, would be refused again."""
    settings, found = read_settings(BLOCK, {"width": "16 in"}, "in")
    assert settings is None and "at most 15 11/16 in" in found[0].cure
    assert read_settings(BLOCK, {"width": "15 11/16 in"}, "in")[1] == ()
