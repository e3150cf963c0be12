"""Words put together for sentences."""

from __future__ import annotations

import math
from collections.abc import Iterable

from hoopwright.core.types import Minutes


def listed(words: Iterable[object], last: str = "and") -> str:
    """Return words as "a", "a and b", "a, b and c"; ``last`` stands before the last one. Empty for no words."""
    shown = [str(w) for w in words]
    return f" {last} ".join([", ".join(shown[:-1]), shown[-1]]) if len(shown) > 1 else "".join(shown)


def quoted(words: Iterable[object]) -> tuple[str, ...]:
    """Return words in quotes, as a project file writes them: so they are told from words of a sentence."""
    return tuple(f'"{w}"' for w in words)


def counted(count: int, one: str, many: str | None = None) -> str:
    """Return "1 patch" or "3 patches"; ``many`` is the plural where an s is not enough."""
    return f"{count} {one if count == 1 else many or f'{one}s'}"


def whole_minutes(minutes: Minutes) -> int:
    """Return minutes as every output shows them: whole, half a minute up, never less than 1 where there is any work.

    Sums are taken of exact minutes and rounded once, so rows that are rounded each may add up to more.
    """
    return max(1, math.floor(minutes + 0.5)) if minutes > 0 else 0
