"""How many orders there are.

The sets that can be left while peeling are walked level by level, each with the number of ways to get there: two
ways to the same set are continued only once. When a level would cost more than the budget has left, the orders that
pass each of its sets are no longer counted but bounded from below: all pieces that can be last at the same time can come
off in any order, k! for k of them, then the next ones. Each order passes one set of the level, so the sum is a true bound.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.piecing.peeling import all_that_can_be_last, last_after, look_costs, peel, peel_rounds
from hoopwright.piecing.seam_net import SeamNet, members

COUNT_LOOKS = 5_000_000
"""Seam edges looked at after which counting only gives a lower bound."""

_Level = dict[int, tuple[int, int]]
"""For each set: ways to get there, and what can be last in it."""


@dataclass(frozen=True, slots=True)
class OrderCount:
    """Number of valid orders; when not ``exact``, there are more, or just as many."""

    number: int
    exact: bool


def count_orders(net: SeamNet, looks: int = COUNT_LOOKS) -> OrderCount:
    """Count the orders in which all pieces can be sewn on one foundation, within a budget of ``looks``."""
    core = peel(net).core
    if core & (core - 1) or not net.count:
        return OrderCount(0, True)
    costs = look_costs(net)
    level: _Level = {net.everything: (1, all_that_can_be_last(net, net.everything))}
    for _ in range(net.count - 1):
        looks -= sum(costs[p] for _, last in level.values() for p in members(last))
        if looks < 0:
            return OrderCount(min(_bound(net, level), MOST_TOLD), False)
        level = _next_level(net, level)
    return OrderCount(sum(ways for ways, _ in level.values()), True)


def _next_level(net: SeamNet, level: _Level) -> _Level:
    found: _Level = {}
    for pieces, (ways, last) in level.items():
        for piece in members(last):
            rest = pieces & ~(1 << piece)
            if rest in found:
                found[rest] = (found[rest][0] + ways, found[rest][1])
            else:
                found[rest] = (ways, last_after(net, piece, rest, last))
    return found


MOST_TOLD = 10**1000
"""A bound beyond this is not told: more orders than anyone can tell apart."""

BOUNDED_SETS = 16
"""So many sets of the last level counted, those with the most ways to them, are bounded; the others count their ways."""


def _bound(net: SeamNet, level: _Level) -> int:
    """Return a number of orders that there are at least."""
    ranked = sorted(level.items(), key=lambda entry: (-entry[1][0], entry[0]))
    best = sum(ways * rounds_bound(net, pieces) for pieces, (ways, _) in ranked[:BOUNDED_SETS])
    return best + sum(ways for _, (ways, _) in ranked[BOUNDED_SETS:])


def rounds_bound(net: SeamNet, pieces: int) -> int:
    """Return the number of orders in which pieces come off round by round, those of one round in any order."""
    return math.prod(math.factorial(size) for size in peel_rounds(net, pieces))
