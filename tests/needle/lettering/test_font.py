from __future__ import annotations

import io

import pytest
from fontTools.pens.areaPen import AreaPen
from fontTools.ttLib import TTFont

from hoopwright.needle.lettering.font import FontError, read_font
from tests.needle.lettering.fonts import SANS, SERIF


@pytest.mark.parametrize("data", [SANS, SERIF], ids=["cff", "truetype"])
def test_capitals_are_one_high_and_stand_on_the_baseline(data: bytes) -> None:
    _, low, _, high = read_font(data).area("H").bounds
    assert low == pytest.approx(0.0)
    assert high == pytest.approx(1.0)


@pytest.mark.parametrize("data", [SANS, SERIF], ids=["cff", "truetype"])
@pytest.mark.parametrize("sign", "oBi8&ÄÅç§")
def test_the_area_of_a_letter_is_that_of_another_pen(data: bytes, sign: str) -> None:
    """The library's own pen sums the area under the curves exactly; ours draws them by chords."""
    file = TTFont(io.BytesIO(data))
    glyphs = file.getGlyphSet()
    pen = AreaPen(glyphs)
    glyphs[file.getBestCmap()[ord(sign)]].draw(pen)
    font = read_font(data)
    assert font.area(sign).area == pytest.approx(abs(pen.value) / font.capital**2, rel=0.01)


def test_holes_stay_open() -> None:
    (ring,) = read_font(SANS).area("O").geoms
    assert len(ring.interiors) == 1


def test_pairs_move_closer_and_letters_move_on_as_the_font_says() -> None:
    font = read_font(SERIF)
    assert font.advance("i") < font.advance("m")
    assert font.kern("A", "V") < -0.05
    assert font.kern("H", "H") == 0.0
    widths = TTFont(io.BytesIO(SERIF))["hmtx"]
    assert font.advance("Q") == pytest.approx(widths["Q"][0] / font.capital)


def test_a_font_without_layout_table_has_the_pairs_of_its_plain_one() -> None:
    file = TTFont(io.BytesIO(SERIF))
    del file["GPOS"]
    held = io.BytesIO()
    file.save(held)
    assert read_font(held.getvalue()).kern("A", "V") == 0.0


@pytest.mark.parametrize("data", [b"", b"<svg/>", SANS[:2000], b"\x00\x01\x00\x00" + b"\xff" * 400])
def test_what_is_no_font_is_refused_with_a_cure(data: bytes) -> None:
    with pytest.raises(FontError) as fault:
        read_font(data)
    assert "TTF or OTF" in fault.value.cure


def test_a_letter_the_font_lacks_is_known() -> None:
    assert read_font(SANS).has("ß")
    assert not read_font(SANS).has("漢")
