from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.needle.lettering.faces import face_of, lacking
from hoopwright.needle.lettering.fit import BETWEEN, PITCH, Align, largest, measured, placed
from tests.needle.lettering.fonts import SERIF

WORDS = ("Tide mill", "1870", "jÄgq", "a", "Müller's")


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.sampled_from(WORDS), min_size=1, max_size=4),
    st.floats(20, 200),
    st.floats(15, 120),
    st.sampled_from(["left", "middle", "right"]),
    st.sampled_from([None, SERIF]),
)
def test_what_fits_stays_in_its_box(
    lines: list[str], width: float, height: float, align: Align, font: bytes | None
) -> None:
    face = face_of(font)
    measure = measured(lines, face)
    size = largest(measure, width, height)
    for letter in placed(measure, size, width, height, align):
        bounds = face.bounds(letter.sign)
        assert bounds is not None
        assert letter.x + bounds[0] * size >= -1e-6
        assert letter.x + bounds[2] * size <= width + 1e-6
        assert letter.y + bounds[1] * size >= -1e-6
        assert letter.y + bounds[3] * size <= height + 1e-6


@pytest.mark.parametrize("font", [None, SERIF], ids=["pen", "serif"])
def test_a_tenth_more_would_not_fit(font: bytes | None) -> None:
    measure = measured(("Tide mill",), face_of(font))
    size = largest(measure, 80.0, None)
    assert measure.width * size <= 80.0 < measure.width * (size + 0.11)


def test_lines_are_set_left_right_and_in_the_middle() -> None:
    face, lines = face_of(None), ("HHHH", "H")
    measure = measured(lines, face)
    ends = {}
    for align in ("left", "middle", "right"):
        rows = placed(measure, 5.0, 100.0, 40.0, align)
        ends[align] = (rows[0].x, rows[-1].x, rows[-2].x)
    assert ends["left"][0] == pytest.approx(ends["left"][1])
    assert ends["right"][2] == pytest.approx(ends["right"][1])
    assert ends["middle"][1] == pytest.approx((ends["middle"][0] + ends["middle"][2]) / 2)


def test_lines_keep_apart_where_letters_hang_deep_and_carry_marks() -> None:
    face = face_of(None)
    assert measured(("HHH", "HHH"), face).pitch == PITCH
    deep = measured(("gjq", "ÅÄ"), face)
    assert deep.pitch == pytest.approx(deep.bounds[1][3] - deep.bounds[0][1] + BETWEEN)
    assert deep.pitch > PITCH


def test_pairs_are_kerned() -> None:
    face = face_of(SERIF)
    assert measured(("AV",), face).width < measured(("A",), face).width + measured(("V",), face).width
    assert lacking(("A漢B漢",), face) == ("漢",)
    assert lacking(("Äß ",), face_of(None)) == ()
