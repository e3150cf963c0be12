"""How many orders there are.

The sets that can be left while peeling are walked level by level, each with the number of ways to get there: two
ways to the same set are continued only once. Each set that is kept can be finished, whatever happens to the others, so
when the budget forces sets to be dropped the sum over the kept ones is a true lower bound.
"""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.piecing.peeling import all_that_can_be_last, last_after, peel
from hoopwright.piecing.seam_net import SeamNet, members

COUNT_STEPS = 40_000
"""Steps (one piece taken off one set) after which counting only gives a lower bound."""

WIDEST_SHARE = 4
"""One level may use up to one part in this many of the steps that are left."""


@dataclass(frozen=True, slots=True)
class OrderCount:
    """Number of valid orders; when not ``exact``, there are more."""

    number: int
    exact: bool


def count_orders(net: SeamNet, steps: int = COUNT_STEPS) -> OrderCount:
    """Count the orders in which all pieces can be sewn on one foundation, within a budget of ``steps``."""
    core = peel(net).core
    if core & (core - 1) or not net.count:
        return OrderCount(0, True)
    level = {net.everything: (1, all_that_can_be_last(net, net.everything))}
    exact, left = True, steps
    for size in range(net.count, 1, -1):
        room = _room(level, max(left // (size - 1), left // WIDEST_SHARE))
        exact = exact and room >= len(level)
        kept = sorted(level.items(), key=lambda entry: (-entry[1][0], entry[0]))[:room]
        left -= sum(last.bit_count() for _, (_, last) in kept)
        level = _next_level(net, kept)
    return OrderCount(sum(ways for ways, _ in level.values()), exact)


def _room(level: dict[int, tuple[int, int]], share: int) -> int:
    """Return how many sets may be kept: all while they are few, then as many as the share of the budget bears."""
    moves = sum(last.bit_count() for _, last in level.values())
    if moves <= max(share, 1):
        return len(level)
    return max(1, share * len(level) // moves)


def _next_level(net: SeamNet, kept: list[tuple[int, tuple[int, int]]]) -> dict[int, tuple[int, int]]:
    found: dict[int, tuple[int, int]] = {}
    for pieces, (ways, last) in kept:
        for piece in members(last):
            rest = pieces & ~(1 << piece)
            if rest in found:
                found[rest] = (found[rest][0] + ways, found[rest][1])
            else:
                found[rest] = (ways, last_after(net, piece, rest, last))
    return found
