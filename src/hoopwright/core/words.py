"""Words put together for sentences."""

from __future__ import annotations

from collections.abc import Iterable


def listed(words: Iterable[object], last: str = "and") -> str:
    """Return words as "a", "a and b", "a, b and c"; ``last`` stands before the last one. Empty for no words."""
    shown = [str(w) for w in words]
    return f" {last} ".join([", ".join(shown[:-1]), shown[-1]]) if len(shown) > 1 else "".join(shown)
