from __future__ import annotations

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString

from hoopwright.needle.lettering.font import read_font
from hoopwright.needle.lettering.satin import CLOSE, LEAST, THIN, WIDEST, letter
from tests.needle.lettering.fonts import SANS, SERIF, SOME, drawn, font, laid, lengths, sewn

FONTS = ("Sans-Regular.otf", "Serif-Regular.ttf", "Serif-Black.otf")
HALF_THREAD = 0.2


@pytest.mark.parametrize("height", [12.0, 20.0])
@pytest.mark.parametrize("name", FONTS)
def test_thread_covers_the_letters_and_nothing_beyond_the_pull(name: str, height: float) -> None:
    """With thread 0.4 mm wide: of each letter at least 93 in 100 parts are covered, of all together 98.5.

    Outside nothing lies further than half the pull, half a thread, and what thin strokes are made wider.
    """
    data, pull = font(name), 0.2
    whole = covered = 0.0
    for sign in SOME:
        area, thread = drawn(data, sign, height), laid(sewn(data, sign, height, pull))
        inside = shapely.intersection(area, thread).area
        assert inside > 0.93 * area.area, sign
        reach = area.buffer(pull / 2 + HALF_THREAD + (LEAST - THIN - pull) / 2 + 0.05)
        assert shapely.difference(thread, reach).area < 0.1, sign
        whole, covered = whole + area.area, covered + inside
    assert covered > 0.985 * whole


@pytest.mark.parametrize("name", FONTS)
def test_stitches_keep_their_limits_and_each_connected_part_is_one_thread(name: str) -> None:
    for sign in SOME:
        rows = sewn(font(name), sign, 15.0)
        assert lengths(rows).min() >= CLOSE, sign
        assert (lengths(rows) < 0.97).sum() <= 6, sign
        assert lengths(rows).max() <= WIDEST + 1e-6, sign
        assert len(rows) == len(read_font(font(name)).area(sign).geoms), sign


@pytest.mark.parametrize("data", [SANS, SERIF], ids=["sans", "serif"])
def test_no_travel_shows(data: bytes) -> None:
    """What is sewn first lies under what is sewn later: no stitch crosses bare cloth between strokes."""
    for sign in SOME:
        area = drawn(data, sign, 20.0).buffer(0.1 + 0.16)
        for row in sewn(data, sign, 20.0):
            assert shapely.difference(LineString(row), area).length < 2.0, sign


def test_pull_makes_columns_wider() -> None:
    plain, wide = (laid(sewn(SANS, "I", 20.0, pull)).bounds for pull in (0.2, 0.4))
    assert (wide[2] - wide[0]) - (plain[2] - plain[0]) == pytest.approx(0.2, abs=0.03)


def test_strokes_too_thin_for_satin_are_lines() -> None:
    """The bars of a serif E are 0.06 high: at 6 mm they are drawn 0.36 mm wide."""
    light = font("Serif-ExtraLight.otf")
    (strokes,) = letter(light, "E")
    assert min(s.width for s in strokes) * 8.0 < THIN
    (row,) = sewn(light, "E", 8.0)
    wide = lengths((row,))
    assert float(np.median(wide)) > 1.5
    assert shapely.difference(laid((row,)), drawn(light, "E", 8.0).buffer(0.35)).area < 0.05


def test_a_letter_is_the_same_whenever_it_is_sewn() -> None:
    one = sewn(SERIF, "R", 14.0)
    letter.cache_clear()
    sewn.cache_clear()
    assert all(np.array_equal(a, b) for a, b in zip(one, sewn(SERIF, "R", 14.0), strict=True))
