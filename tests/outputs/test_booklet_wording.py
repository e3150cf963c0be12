from __future__ import annotations

import pytest

from hoopwright.outputs.booklet.wording import counted, listed, long_time, sentence, short_time, thread_length


@pytest.mark.parametrize(
    ("minutes", "words"),
    [(0.0, "–"), (0.1, "½ min"), (0.8, "1 min"), (1.3, "1½ min"), (4.0, "4 min"), (12.74, "12½ min")],
)
def test_short_times_are_to_half_a_minute(minutes: float, words: str) -> None:
    assert short_time(minutes) == words


@pytest.mark.parametrize(
    ("minutes", "words"), [(0.2, "5 min"), (35.0, "35 min"), (35.1, "40 min"), (60.0, "1 h"), (84.0, "1 h 25 min")]
)
def test_long_times_are_rounded_up_to_five_minutes(minutes: float, words: str) -> None:
    assert long_time(minutes) == words


def test_thread_is_rounded_up_and_shown_in_yards_for_inches() -> None:
    assert thread_length(2.1, "mm") == "2.5 m"
    assert thread_length(4.0, "mm") == "4 m"
    assert thread_length(9.1, "in") == "9.5 m (11 yd)"  # 9.5 / 0.9144 = 10.39


def test_lists_and_counts_read_like_english() -> None:
    assert [listed(list("ABC")[:n]) for n in range(4)] == ["", "A", "A and B", "A, B and C"]
    assert [counted(1, "patch", "patches"), counted(3, "patch", "patches"), counted(0, "halt")] == [
        "1 patch",
        "3 patches",
        "0 halts",
    ]


def test_sentences_start_large_and_end_with_a_stop() -> None:
    assert [sentence(x) for x in ("flip it", "Done!", "", " a. ")] == ["Flip it.", "Done!", "", "A."]
