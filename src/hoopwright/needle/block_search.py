"""A good order of many blocks, of which some must come before others (local search).

Words: a *choice* is a block in one of its two directions: block k has the choices 2k and 2k + 1. A *piece* is up to three blocks that
follow each other. A move puts a piece elsewhere, turned round or not, or turns round a longer stretch of the order; it is made when it
saves something and breaks no rule. When no move helps, a kick exchanges two neighbouring stretches, and the moves begin
again; what is not better then is taken back. The dice are seeded and the kicks counted, so it takes the same steps every time.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from typing import Final

from hoopwright.core.tolerances import SAME_PLACE

PIECE: Final = 3
"""Most blocks moved together."""

ROUNDS: Final = 50
"""Most rounds over all blocks before the next kick; usually three or four are enough."""

KICKS: Final = 10
"""Kicks; each takes one or two milliseconds for a dozen blocks."""


def improved(
    first: Sequence[float], link: Sequence[Sequence[float]], last: Sequence[float], needs: Sequence[int]
) -> tuple[int, ...]:
    """Return the choices in an order that costs no more than the given one, 0, 2, 4, ..., and cannot be bettered by one move.

    ``first[c]``, ``link[a][b]`` and ``last[c]`` are what beginning, going on and ending cost, with
    link[a][b] = link[b ^ 1][a ^ 1] (infinite where a choice is barred); ``needs[k]`` holds the blocks that must come before block
    k, as the sum of their powers of two.
    """
    search = _Search(first, link, last, needs)
    search.settle()
    dice = random.Random(1)
    for _ in range(KICKS):
        kept, cost = search.order, search.cost()
        if search.kick(dice):
            search.settle()
            if search.cost() > cost - SAME_PLACE:
                search.order = kept
    return tuple(search.order)


class _Search:
    def __init__(
        self, first: Sequence[float], link: Sequence[Sequence[float]], last: Sequence[float], needs: Sequence[int]
    ) -> None:
        self.first, self.link, self.last, self.needs = first, link, last, needs
        self.order = list(range(0, len(first), 2))

    def _step(self, a: int | None, b: int | None) -> float:
        """Return what going from a to b costs; None stands for the beginning or the end."""
        if a is None:
            return 0.0 if b is None else self.first[b]
        return self.last[a] if b is None else self.link[a][b]

    def cost(self) -> float:
        """Return what the whole order costs."""
        ways = zip([None, *self.order], [*self.order, None], strict=True)
        return math.fsum(self._step(a, b) for a, b in ways)

    def settle(self) -> None:
        """Make moves until none helps."""
        for _ in range(ROUNDS):
            if not self._round():
                return

    def kick(self, dice: random.Random) -> bool:
        """Exchange two neighbouring stretches if the rules allow it; return whether they did."""
        p, q, r = sorted(dice.sample(range(len(self.order) + 1), 3))
        front, back = self.order[p:q], self.order[q:r]
        inside = sum(1 << (c >> 1) for c in front)
        if any(self.needs[c >> 1] & inside for c in back):
            return False
        self.order = [*self.order[:p], *back, *front, *self.order[r:]]
        return True

    def _round(self) -> bool:
        """Try every move once, making each that helps; return whether any did."""
        helped = False
        for start in range(len(self.order)):
            for size in range(1, PIECE + 1):
                helped |= start + size <= len(self.order) and self._move(start, size)
            helped |= self._turn(start)
        return helped

    def _around(self, i: int) -> int | None:
        return self.order[i] if 0 <= i < len(self.order) else None

    def _move(self, start: int, size: int) -> bool:
        """Put the piece of ``size`` blocks from ``start`` where it saves most."""
        order = self.order
        piece = order[start : start + size]
        before, after = self._around(start - 1), self._around(start + size)
        freed = self._step(before, piece[0]) + self._step(piece[-1], after) - self._step(before, after)
        rest = order[:start] + order[start + size :]
        turned = [c ^ 1 for c in reversed(piece)] if self._turnable(piece) else piece
        best, where, how = SAME_PLACE, start, piece
        low, high = self._room(piece, rest, start)
        for k in range(low, high + 1):
            a, b = rest[k - 1] if k else None, rest[k] if k < len(rest) else None
            bare = self._step(a, b)
            for way in (piece, turned):
                saved = freed - (self._step(a, way[0]) + self._step(way[-1], b) - bare)
                if saved > best:
                    best, where, how = saved, k, way
        if how is piece and where == start:
            return False
        self.order = rest[:where] + how + rest[where:]
        return True

    def _room(self, piece: list[int], rest: list[int], start: int) -> tuple[int, int]:
        """Return the first and the last place in ``rest`` where the piece may stand."""
        inside = sum(1 << (c >> 1) for c in piece)
        wanted = 0
        for c in piece:
            wanted |= self.needs[c >> 1]
        low = start
        while low and not wanted >> (rest[low - 1] >> 1) & 1:
            low -= 1
        high = start
        while high < len(rest) and not self.needs[rest[high] >> 1] & inside:
            high += 1
        return low, high

    def _turnable(self, piece: list[int]) -> bool:
        """Whether no block of a piece must come before another of it."""
        seen = 0
        for c in piece:
            if self.needs[c >> 1] & seen:
                return False
            seen |= 1 << (c >> 1)
        return True

    def _turn(self, start: int) -> bool:
        """Turn round the stretch from ``start`` that saves most by it."""
        order = self.order
        before, seen = self._around(start - 1), 0
        inside = 0.0
        best, until = SAME_PLACE, start
        for end in range(start, len(order)):
            block = order[end] >> 1
            if self.needs[block] & seen:
                break
            seen |= 1 << block
            if end > start:
                inside += self.link[order[end] ^ 1][order[end - 1] ^ 1] - self.link[order[end - 1]][order[end]]
            after = self._around(end + 1)
            now = self._step(before, order[start]) + self._step(order[end], after)
            then = self._step(before, order[end] ^ 1) + self._step(order[start] ^ 1, after)
            if now - then - inside > best:
                best, until = now - then - inside, end + 1
        if until == start:
            return False
        self.order = [*order[:start], *(c ^ 1 for c in reversed(order[start:until])), *order[until:]]
        return True
