"""The best order of a few things, each done in one of two ways, by looking at every set of what is done already.

A *choice* is a thing in one of its two ways: thing k has the choices 2k and 2k + 1. Two to the power of the number of things sets are
looked at, those of one size together, so this is for few.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

MOST_THINGS: Final = 14
"""More things are never ordered so."""

MOST_SETS: Final = 1024
"""Most sets of things that can be done first; a thousand take 10 ms. Without rules that is ten things, with rules more."""


def is_few(count: int, before: Sequence[int] | None = None) -> bool:
    """Whether ``count`` things with these rules (see ``best_order``) are few enough to look at every set."""
    if before is None or count > MOST_THINGS:
        return count <= MOST_THINGS and 1 << count <= MOST_SETS
    sets = np.arange(1 << count)
    possible = np.ones(len(sets), dtype=bool)
    for k, needs in enumerate(before):
        possible &= (sets >> k & 1 == 0) | (sets & needs == needs)
    return int(possible.sum()) <= MOST_SETS


def best_order(
    first: NDArray[np.float64],
    link: NDArray[np.float64],
    last: NDArray[np.float64],
    before: Sequence[int] | None = None,
) -> tuple[int, ...]:
    """Return the choices in the order that costs least; of equals the lowest.

    ``first[c]`` is what beginning with choice c costs, ``link[a, b]`` going from a on to b, ``last[c]`` ending with c; shapes (2n,),
    (2n, 2n), (2n,). ``before[k]`` holds the things that must be done before thing k, as the sum of their powers of two.
    """
    things = len(first) // 2
    needs = [0] * things if before is None else list(before)
    cost = np.full((1 << things, 2 * things), np.inf)
    came = np.zeros((1 << things, 2 * things), dtype=np.int8)
    for k in range(things):
        if not needs[k]:
            cost[1 << k, 2 * k : 2 * k + 2] = first[2 * k : 2 * k + 2]
    for sets in _by_size(things)[1:-1]:
        reached = sets[np.isfinite(cost[sets]).any(axis=1)]
        for k in range(things):
            _add(cost, came, reached[(reached >> k & 1 == 0) & (reached & needs[k] == needs[k])], k, link)
    return _traced(came, int(np.argmin(cost[-1] + last)), len(cost) - 1)


def _add(
    cost: NDArray[np.float64], came: NDArray[np.int8], sets: NDArray[np.intp], thing: int, link: NDArray[np.float64]
) -> None:
    """Go on from ``sets`` of things done to one thing more."""
    ways = cost[sets][:, :, None] + link[None, :, 2 * thing : 2 * thing + 2]
    came_from = ways.argmin(axis=1)
    grown = sets | 1 << thing
    cost[grown, 2 * thing : 2 * thing + 2] = np.take_along_axis(ways, came_from[:, None, :], axis=1)[:, 0]
    came[grown, 2 * thing : 2 * thing + 2] = came_from


@lru_cache(maxsize=MOST_THINGS)
def _by_size(things: int) -> tuple[NDArray[np.intp], ...]:
    """Return the sets of ``things`` things with 0, 1, 2, ... members."""
    sets = np.arange(1 << things)
    sizes = sum((sets >> k & 1 for k in range(things)), np.zeros_like(sets))
    return tuple(np.flatnonzero(sizes == size) for size in range(things + 1))


def _traced(came: NDArray[np.int8], choice: int, done: int) -> tuple[int, ...]:
    order = [choice]
    while rest := done ^ (1 << (order[-1] >> 1)):
        order.append(int(came[done, order[-1]]))
        done = rest
    return tuple(reversed(order))
