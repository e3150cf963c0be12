from __future__ import annotations

import pytest

from hoopwright.outputs.swatches.wording import bound, other_names, time_words
from tests.outputs.swatch_builds import sheets_of


@pytest.mark.parametrize(
    ("minutes", "said"),
    [(0.001, "5 s"), (0.37, "20 s"), (0.4, "25 s"), (1.99, "120 s"), (2.4, "2 min"), (75.0, "1 h 15 min")],
)
def test_short_times_are_told_in_seconds_and_long_ones_in_minutes(minutes: float, said: str) -> None:
    assert time_words(minutes) == said


def test_a_number_keeps_its_unit_beside_it() -> None:
    assert bound("Width 8 mm (5/16 in), 45 s on 4 in") == "Width 8\u00a0mm (5/16\u00a0in), 45\u00a0s on 4\u00a0in"
    assert bound("20 stitches in 3 rows") == "20 stitches in 3 rows"


def test_names_after_places_have_their_capital_and_grounds_have_no_other_names() -> None:
    _, sheets = sheets_of()
    names = {s.name: other_names(s) for s in sheets.swatches}
    assert "Russian" in names["herringbone"] and "catch" in names["herringbone"]
    assert names["fly"][0] == "Y"
    assert all(names[s.name] == () for s in sheets.of("grounds"))
