"""What happens in a hooping, one moment after the other, with the cloth as it lies before and after each.

Words: a *moment* is one piece of handwork or one block of stitches, in the order of the work. The assembly belongs to the
last hooping: its handwork goes on with the cloth that came out of that hoop.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
import shapely

from hoopwright.cloth.replay import Bench, bench_of, carry_out, sewn
from hoopwright.cloth.shapes import Stack
from hoopwright.core.errors import GeometryError
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import HandWork, Role

NEVER_FOLDED: Final = frozenset({Role.GROUND, Role.LETTERING, Role.PLACED, Role.ACCENT})
"""Blocks of many stitches over which no cloth is ever folded: what they catch is read from their needle positions."""


@dataclass(frozen=True, slots=True, eq=False)
class Moment:
    """One moment: either ``hand`` or ``step`` is there. ``number`` is the block's from 1 (one past the last at the end).

    ``done`` is False for handwork that cannot be done with the cloth as it lies; ``caught`` names the sheets a block goes through.
    """

    number: int
    hand: HandWork | None
    step: Step | None
    before: Stack
    after: Stack
    done: bool = True
    caught: frozenset[str] = frozenset()


def hooping_of(plan: Plan, key: str) -> Hooping:
    """Return a hooping by its key. Raises KeyError for an unknown one."""
    found = next((h for h in plan.hoopings if h.key == key), None)
    if found is None:
        raise KeyError(key)
    return found


@lru_cache(maxsize=8)
def moments(plan: Plan, key: str) -> tuple[Moment, ...]:
    """Return the moments of a hooping; kept while a screen looks at it. Raises KeyError for an unknown one."""
    hooping, bench = hooping_of(plan, key), bench_of(plan.project)
    found: list[Moment] = []
    for step in hooping.steps:
        found += _by_hand(_stack(found), step.hands, bench, step.index)
        found.append(_sewn(_stack(found), step))
    last = hooping is plan.hoopings[-1]
    hands = (*hooping.after, *(plan.making.assembly if last else ()))
    found += _by_hand(_stack(found), hands, bench, len(hooping.steps) + 1)
    return tuple(found)


def _stack(found: Sequence[Moment]) -> Stack:
    return found[-1].after if found else Stack()


def _by_hand(stack: Stack, hands: Sequence[HandWork], bench: Bench, number: int) -> Iterator[Moment]:
    for at, hand in enumerate(hands):
        try:
            after, done = carry_out(stack, hand, bench, hands[at + 1 :]), True
        except GeometryError:
            after, done = stack, False
        yield Moment(number, hand, None, stack, after, done)
        stack = after


def _sewn(stack: Stack, step: Step) -> Moment:
    if step.stitch.role in NEVER_FOLDED:
        return Moment(step.index, None, step, stack, stack, caught=frozenset(_under_needle(stack, step)))
    after = sewn(stack, step)
    caught = frozenset(h.sheet for h in after.joins[-1].held)
    return Moment(step.index, None, step, stack, after, caught=caught)


def _under_needle(stack: Stack, step: Step) -> Iterator[str]:
    """Yield the sheets in which the needle makes a hole."""
    runs = [r.points for r in step.runs if r.count]
    if not runs:
        return
    at = np.concatenate(runs)
    low, high = at.min(axis=0), at.max(axis=0)
    for layer in stack.layers:
        left, below, right, above = layer.region.bounds if not layer.region.is_empty else (1.0, 1.0, 0.0, 0.0)
        if left > high[0] or right < low[0] or below > high[1] or above < low[1]:
            continue
        shapely.prepare(layer.region)
        if shapely.intersects_xy(layer.region, at[:, 0], at[:, 1]).any():
            yield layer.sheet
