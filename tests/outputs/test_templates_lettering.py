from __future__ import annotations

from itertools import pairwise

import pytest

from hoopwright.outputs.templates.lettering import all_printable, printable, shortened, text_width, wrapped


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("tide\nmill\t flap ", "tide mill flap"),
        ("水車 flap", "?? flap"),
        ("a\x00b\u202ec", "abc"),
        ("cafe\u0301 Łódź 1½ ×", "café Łódź 1½ ×"),
        ('#x $y$ *z* [q] \\ "', '#x $y$ *z* [q] \\ "'),
    ],
)
def test_words_are_made_printable(text: str, shown: str) -> None:
    assert printable(text) == shown


def test_every_text_of_nested_data_is_made_printable() -> None:
    assert all_printable({"a": ["水", {"b": ("x\n", 3, None)}]}) == {"a": ["?", {"b": ["x", 3, None]}]}


def test_width_grows_with_size_and_length() -> None:
    assert text_width("grain", 12.0) == pytest.approx(2 * text_width("grain", 6.0))
    assert text_width("grain grain", 6.0) > 2 * text_width("grain", 6.0)
    assert text_width("grain", 6.0, bold=True) > text_width("grain", 6.0)


def test_a_figure_of_source_sans_is_0497_em_wide() -> None:
    # All figures of Source Sans Pro have an advance of 497 units of 1000 (from memory, the font's own metrics).
    assert text_width("0", 1000.0) == pytest.approx(497 * 25.4 / 72, rel=0.01)


def test_long_words_are_cut_off_with_an_ellipsis() -> None:
    short = shortened("unbleached sailcloth of the old loft", 8.0, 20.0)
    assert short.endswith("…")
    assert text_width(short, 8.0) <= 20.0
    assert shortened("grain", 8.0, 20.0) == "grain"


def test_words_are_broken_at_spaces_and_never_wider_than_their_room() -> None:
    text = "Straight lines side by side, sewn to and fro, 5\u00a0mm apart."
    lines = wrapped(text, 8.5, 25.0)
    assert " ".join(lines).split() == text.split()
    assert len(lines) > 2 and all(text_width(line, 8.5) <= 25.0 for line in lines)
    assert any("5 mm" in line for line in lines)
    for first, second in pairwise(lines):
        assert text_width(f"{first} {second.split(' ')[0]}", 8.5) > 25.0
    assert wrapped("", 8.5, 25.0) == ()
    (cut,) = wrapped("Schifffahrtsgesellschaften", 8.5, 15.0)
    assert cut.endswith("…") and text_width(cut, 8.5) <= 15.0
