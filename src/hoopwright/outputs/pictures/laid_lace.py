"""Accents that are laid on the work: what they are made of, and how they lie."""

from __future__ import annotations

from collections.abc import Iterator

from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Lace, Lay


def laces_of(hooping: Hooping) -> Iterator[tuple[str, Lace]]:
    """Yield name and thread of every accent laid in a hooping, in the order in which they are laid."""
    hands = (h for step in hooping.steps for h in step.hands if isinstance(h, Lay))
    yield from ((h.piece, h.lace) for h in hands if h.lace is not None)


def laid_lace(plan: Plan, hooping: Hooping, piece: str) -> Lace | None:
    """Return the accent laid as ``piece`` in this hooping or in one before, None when it is a cloth."""
    rows = (hooping, *(h for h in plan.hoopings if h is not hooping))
    return next((lace for row in rows for name, lace in laces_of(row) if name == piece), None)
