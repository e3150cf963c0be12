from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.project.places import line_of, lines_of, read_path, show_path

TEXT = '''# a remark with [brackets] and "quotes"
title = "a # b"

[hoop]
field = [ # width first
  130,
  180, # height
]

[panel.outline]   # the outline
shape = """
many
lines"""
size . width = 3
"odd key" = {a = 1, b = [2, 3]}

[[rows]]
x = 1
[[rows]]
x = 2
[rows.under]
y = 3
'''


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("title",), 2),
        (("hoop",), 4),
        (("hoop", "field"), 5),
        (("hoop", "field", 0), 6),
        (("hoop", "field", 1), 7),
        (("panel",), 10),
        (("panel", "outline"), 10),
        (("panel", "outline", "shape"), 11),
        (("panel", "outline", "size", "width"), 14),
        (("panel", "outline", "odd key", "b", 1), 15),
        (("rows", 0, "x"), 18),
        (("rows", 1), 19),
        (("rows", 1, "under", "y"), 22),
    ],
)
def test_lines_counted_by_hand(path: tuple[str | int, ...], line: int) -> None:
    assert lines_of(TEXT)[path] == line


def test_windows_line_ends_count_as_one_line() -> None:
    assert lines_of(TEXT.replace("\n", "\r\n")) == lines_of(TEXT)


def test_a_missing_place_takes_the_line_above_it() -> None:
    lines = lines_of(TEXT)
    assert line_of(lines, ("panel", "outline", "width")) == 10
    assert line_of(lines, ("guides", "seam")) is None


def test_list_positions_are_shown_from_one() -> None:
    assert show_path(("panel", "patchwork", "cuts", 1, 0)) == "panel.patchwork.cuts[2][1]"
    assert show_path(("cloths", "odd key")) == 'cloths."odd key"'


@given(st.lists(st.text(alphabet="ab-_ .1[]", max_size=4) | st.integers(0, 99), max_size=5))
def test_shown_paths_are_read_again(parts: list[str | int]) -> None:
    path = ("top", *parts)
    assert read_path(show_path(path)) == path


@pytest.mark.parametrize("text", ["a..b", "[1]", "a[0]", "a[-1]", "a b", ".a"])
def test_other_texts_are_no_places(text: str) -> None:
    with pytest.raises(ValueError, match="not a place"):
        read_path(text)
