"""Numbers and lists in the words of the booklet."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from hoopwright.core.types import Minutes

YARD: Final = 0.9144
"""Metres in a yard (international yard and pound agreement of 1959)."""


def listed(names: Sequence[str]) -> str:
    """Return names as "A", "A and B", "A, B and C"."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def counted(count: int, one: str, many: str | None = None) -> str:
    """Return "1 patch" or "3 patches"; ``many`` is the plural where an s is not enough."""
    return f"{count} {one if count == 1 else many or f'{one}s'}"


def short_time(minutes: Minutes) -> str:
    """Return the time of a step, to half a minute, never less than half a minute unless there is nothing to do."""
    if minutes <= 0:
        return "–"
    halves = max(1, math.floor(minutes * 2 + 0.5))
    whole, half = divmod(halves, 2)
    return f"{whole or ''}{'½' if half else ''} min"


def long_time(minutes: Minutes) -> str:
    """Return the time of a whole work: minutes rounded up to five, with hours where there are any."""
    fives = max(5, math.ceil(minutes / 5) * 5)
    hours, rest = divmod(fives, 60)
    parts = [f"{hours} h"] if hours else []
    return " ".join([*parts, f"{rest} min"] if rest else parts)


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
