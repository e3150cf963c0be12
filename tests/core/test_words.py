from __future__ import annotations

import pytest

from hoopwright.core.words import listed


@pytest.mark.parametrize(
    ("words", "text"), [([], ""), (["a"], "a"), (["a", "b"], "a and b"), ("abc", "a, b and c"), ([1, 2], "1 and 2")]
)
def test_words_are_listed_as_in_a_sentence(words: list[object], text: str) -> None:
    assert listed(words) == text


def test_the_last_word_can_be_an_alternative() -> None:
    assert listed(["dst", "exp", "pes"], "or") == "dst, exp or pes"
