"""The best order of a few things, each done in one of two ways, by looking at every set of what is done already.

A *choice* is a thing in one of its two ways: thing k has the choices 2k and 2k + 1. Two to the power of the number of things sets are
looked at, so this is for few.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

MOST_EXACT: Final = 7
"""Up to so many things the best order is found; it takes 2 ms for seven, and twice as long for each one more."""


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
    whole = (1 << things) - 1
    needs = [0] * things if before is None else list(before)
    cost = np.full((whole + 1, 2 * things), np.inf)
    came = np.zeros((whole + 1, 2 * things), dtype=np.intp)
    for k in range(things):
        if not needs[k]:
            cost[1 << k, 2 * k : 2 * k + 2] = first[2 * k : 2 * k + 2]
    for done in range(1, whole):
        ways = cost[done][:, None] + link
        came_from = ways.argmin(axis=0)
        least = ways[came_from, np.arange(2 * things)]
        for k in range(things):
            if not done >> k & 1 and needs[k] & done == needs[k]:
                cost[done | 1 << k, 2 * k : 2 * k + 2] = least[2 * k : 2 * k + 2]
                came[done | 1 << k, 2 * k : 2 * k + 2] = came_from[2 * k : 2 * k + 2]
    return _traced(came, int(np.argmin(cost[whole] + last)), whole)


def _traced(came: NDArray[np.intp], choice: int, done: int) -> tuple[int, ...]:
    order = [choice]
    while done := done ^ (1 << (order[-1] >> 1)):
        order.append(int(came[done | 1 << (order[-1] >> 1), order[-1]]))
    return tuple(reversed(order))
