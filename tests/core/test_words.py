from __future__ import annotations

import pytest

from hoopwright.core.words import counted, listed, quoted, whole_minutes


@pytest.mark.parametrize(
    ("words", "text"), [([], ""), (["a"], "a"), (["a", "b"], "a and b"), ("abc", "a, b and c"), ([1, 2], "1 and 2")]
)
def test_words_are_listed_as_in_a_sentence(words: list[object], text: str) -> None:
    assert listed(words) == text


def test_the_last_word_can_be_an_alternative() -> None:
    assert listed(["dst", "exp", "pes"], "or") == "dst, exp or pes"


def test_words_of_the_file_stand_in_quotes() -> None:
    assert listed(quoted(["zip", "felt"])) == '"zip" and "felt"'


def test_things_are_counted_with_their_plural() -> None:
    assert [counted(1, "patch", "patches"), counted(3, "patch", "patches"), counted(0, "halt")] == [
        "1 patch",
        "3 patches",
        "0 halts",
    ]


@pytest.mark.parametrize(("minutes", "whole"), [(0.0, 0), (0.01, 1), (1.49, 1), (1.5, 2), (2.5, 3), (59.6, 60)])
def test_minutes_are_whole_and_never_none_where_there_is_work(minutes: float, whole: int) -> None:
    assert whole_minutes(minutes) == whole
