"""Numbers and lists in the words of the booklet."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

from hoopwright.core.types import Minutes, Mm
from hoopwright.core.words import whole_minutes
from hoopwright.operations.vocabulary import Hand, HandWork
from hoopwright.outputs.saying import Say
from hoopwright.outputs.templates.lettering import text_width

HALF: Final[Minutes] = 0.5
"""A step shorter than this is told as less than a minute, so that a column of short steps does not look long."""

YARD: Final = 0.9144
"""Metres in a yard (international yard and pound agreement of 1959)."""


THREAD: Final = "Thread"
"""Stands before what is done with the thread."""

NOTHING: Final = "–"
"""Stands for the time of nothing to do."""

VERBS: Final[tuple[Mm, Mm, float]] = (13.0, 18.5, 9.0)
"""Least and greatest breadth of the column of verbs, mm, and the size of its words in points; a longer verb is divided."""


def verb_of(hand: HandWork) -> str:
    """Return the word that stands before a hand's sentence."""
    return "By hand" if isinstance(hand, Hand) else type(hand).__name__


def verb_column(say: Say, work: Iterable[HandWork]) -> Mm:
    """Return how wide the column of the verbs of ``work`` is, mm."""
    least, most, size = VERBS
    words = sorted({THREAD, *(verb_of(h) for h in work)})
    return min(most, max([least, *(math.ceil(text_width(say(w), size, bold=True) * 2 + 1) / 2 for w in words)]))


def short_time(minutes: Minutes) -> str:
    """Return the time of a step or of a few: whole minutes, "< 1 min" below half a minute, a dash for nothing to do."""
    if minutes <= 0:
        return NOTHING
    return f"{whole_minutes(minutes)} min" if minutes >= HALF else "< 1 min"


def long_time(minutes: Minutes) -> str:
    """Return the time of a whole work: whole minutes, with hours where there are any."""
    hours, rest = divmod(whole_minutes(minutes), 60)
    parts = [f"{hours} h"] if hours else []
    return " ".join([*parts, f"{rest} min"] if rest or not hours else parts)


def thread_length(metres: float, units: str) -> str:
    """Return a length of thread to the next half metre, with yards beside it for makers who use inches."""
    half = math.ceil(metres * 2) / 2
    shown = f"{half:.1f}".removesuffix(".0")
    return f"{shown} m ({math.ceil(half / YARD)} yd)" if units == "in" else f"{shown} m"


def sentence(text: str) -> str:
    """Return the words with a capital and a full stop."""
    tidy = text.strip()
    if not tidy:
        return ""
    return f"{tidy[0].upper()}{tidy[1:]}{'' if tidy[-1] in '.!?' else '.'}"
