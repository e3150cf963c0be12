from __future__ import annotations

import pytest

from hoopwright.outputs.booklet.wording import long_time, sentence, short_time, thread_length


@pytest.mark.parametrize(
    ("minutes", "words"),
    [(0.0, "–"), (0.1, "< 1 min"), (0.5, "1 min"), (1.4, "1 min"), (1.5, "2 min"), (4.0, "4 min"), (75.2, "75 min")],
)
def test_times_of_a_step_are_whole_minutes(minutes: float, words: str) -> None:
    assert short_time(minutes) == words


@pytest.mark.parametrize(
    ("minutes", "words"), [(0.2, "1 min"), (34.4, "34 min"), (34.5, "35 min"), (60.0, "1 h"), (84.0, "1 h 24 min")]
)
def test_long_times_are_whole_minutes_with_hours(minutes: float, words: str) -> None:
    assert long_time(minutes) == words


def test_thread_is_rounded_up_and_shown_in_yards_for_inches() -> None:
    assert thread_length(2.1, "mm") == "2.5 m"
    assert thread_length(4.0, "mm") == "4 m"
    assert thread_length(9.1, "in") == "9.5 m (11 yd)"  # 9.5 / 0.9144 = 10.39


def test_sentences_start_large_and_end_with_a_stop() -> None:
    assert [sentence(x) for x in ("flip it", "Done!", "", " a. ")] == ["Flip it.", "Done!", "", "A."]
