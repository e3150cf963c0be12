from __future__ import annotations

import numpy as np
import pytest
import shapely

from hoopwright.needle.lettering.font import read_font
from hoopwright.needle.lettering.satin import letter
from hoopwright.needle.lettering.strokes import band
from tests.needle.lettering.fonts import SANS, SERIF, SIGNS, SOME, font

HAND = {
    "I": 1,
    "l": 1,
    "O": 1,
    "C": 1,
    "S": 1,
    "T": 2,
    "L": 2,
    "V": 2,
    "H": 3,
    "A": 3,
    "Z": 3,
    "N": 3,
    "F": 3,
    "E": 4,
    "M": 4,
    "W": 4,
}
"""Strokes of a sign painter's plain capitals (common practice, no source)."""


@pytest.mark.parametrize(("sign", "count"), HAND.items())
def test_plain_letters_have_the_strokes_of_a_hand(sign: str, count: int) -> None:
    (strokes,) = letter(SANS, sign)
    assert len(strokes) == count


@pytest.mark.parametrize(("sign", "closed"), [("O", True), ("0", True), ("o", True), ("C", False), ("I", False)])
def test_round_letters_close(sign: str, closed: bool) -> None:
    (strokes,) = letter(SANS, sign)
    assert strokes[0].closed is closed


@pytest.mark.no_cover
@pytest.mark.parametrize(
    ("name", "signs"),
    [("Sans-Regular.otf", SIGNS), ("Serif-Regular.ttf", SIGNS), ("Serif-Black.otf", SOME), ("Sans-It.otf", SOME)],
)
def test_strokes_cover_every_letter_and_nothing_else(name: str, signs: str) -> None:
    """Of each letter at least 95 in 100 parts lie between rails, of all together 98; nothing lies outside."""
    data = font(name)
    whole = covered = 0.0
    for sign in signs:
        area = read_font(data).area(sign)
        bands = shapely.union_all([band(s.spokes) for part in letter(data, sign) for s in part])
        inside = shapely.intersection(bands, area).area
        assert inside > 0.95 * area.area, sign
        assert shapely.difference(bands, area).area < 0.012 * area.area, sign
        whole, covered = whole + area.area, covered + inside
    assert covered > 0.98 * whole


@pytest.mark.parametrize("data", [SANS, SERIF], ids=["sans", "serif"])
@pytest.mark.parametrize("sign", "ABEHKRabdegkmn8&")
def test_strokes_lie_double_only_where_they_meet(data: bytes, sign: str) -> None:
    (strokes,) = letter(data, sign)
    bands = [band(s.spokes) for s in strokes]
    heaped = sum(b.area for b in bands) - shapely.union_all(bands).area
    assert heaped < 0.13 * sum(b.area for b in bands)


@pytest.mark.parametrize("sign", "ABEHTKXbdpqx4")
def test_where_a_stroke_ends_on_another_the_two_meet(sign: str) -> None:
    (strokes,) = letter(SANS, sign)
    meetings = [(s, m) for s in strokes for m in s.meets]
    assert meetings
    for stroke, meeting in meetings:
        other = strokes[meeting.other]
        assert band(stroke.spokes).distance(band(other.spokes)) == 0.0
        assert np.hypot(*(stroke.middle[meeting.end] - other.middle[meeting.at])) < 1.2 * other.width


def test_a_dot_is_one_column() -> None:
    dot = letter(SANS, ".")
    assert [len(part) for part in dot] == [1]
    assert not dot[0][0].closed
