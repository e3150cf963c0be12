from __future__ import annotations

import io
import random
from collections.abc import Callable
from typing import Any

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.areaPen import AreaPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
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


def made(draw: Callable[[TTGlyphPen], None], parts: int = 0) -> bytes:
    """Return a font whose A is drawn as asked; H is a square, and ``parts`` letters are ten times the next, the last ten H."""
    glyphs: dict[str, Any] = {}

    def glyph(work: Callable[[TTGlyphPen], None]) -> Any:
        pen = TTGlyphPen(glyphs)
        work(pen)
        return pen.glyph()

    def square(pen: TTGlyphPen) -> None:
        pen.moveTo((0, 0))
        for place in ((700, 0), (700, 700), (0, 700)):
            pen.lineTo(place)
        pen.closePath()

    def ten(name: str) -> Callable[[TTGlyphPen], None]:
        def draw(pen: TTGlyphPen) -> None:
            for k in range(10):
                pen.addComponent(name, (1, 0, 0, 1, k, 0))

        return draw

    names = [".notdef", "H", *(f"part{k}" for k in range(parts)), "A"]
    glyphs |= {".notdef": glyph(square), "H": glyph(square)}
    for k in range(parts):
        glyphs[f"part{k}"] = glyph(ten(f"part{k - 1}" if k else "H"))
    glyphs["A"] = glyph(draw)
    builder = FontBuilder(1000, isTTF=True)
    builder.setupGlyphOrder(names)
    builder.setupCharacterMap({ord("H"): "H", ord("A"): "A"})
    builder.setupGlyf(glyphs)
    builder.setupHorizontalMetrics(dict.fromkeys(names, (700, 0)))
    builder.setupHorizontalHeader()
    builder.setupOS2()
    builder.setupPost()
    held = io.BytesIO()
    builder.save(held)
    return held.getvalue()


def tangled(count: int) -> Callable[[TTGlyphPen], None]:
    def draw(pen: TTGlyphPen) -> None:
        chance = random.Random(1)
        pen.moveTo((0, 0))
        for _n in range(count):
            pen.lineTo((chance.randrange(1000), chance.randrange(1000)))
        pen.closePath()

    return draw


def test_a_letter_that_crosses_itself_a_little_is_filled() -> None:
    assert read_font(made(tangled(20))).area("A").area > 0.0


@pytest.mark.parametrize("count", [2_000, 25_000])
def test_a_letter_too_tangled_to_be_untangled_is_refused(count: int) -> None:
    with pytest.raises(FontError, match="too many points"):
        read_font(made(tangled(count))).area("A")


def test_a_letter_of_parts_of_parts_is_refused_before_they_are_many() -> None:
    def of(part: str) -> Callable[[TTGlyphPen], None]:
        return lambda pen: pen.addComponent(part, (1, 0, 0, 1, 0, 0))

    assert read_font(made(of("part1"), 2)).area("A").area > 0.0
    with pytest.raises(FontError, match="too many points"):
        read_font(made(of("part2"), 3)).area("A")


def test_a_packed_font_is_not_unpacked() -> None:
    """A font packed for web pages may unpack to any size; by its first bytes it is no TTF or OTF file."""
    file = TTFont(io.BytesIO(SERIF))
    file.flavor = "woff"
    held = io.BytesIO()
    file.save(held)
    with pytest.raises(FontError):
        read_font(held.getvalue())
