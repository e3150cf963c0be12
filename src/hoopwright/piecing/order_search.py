"""The best order under the wishes.

Orders are built from the end. The sets that can be left are walked level by level; for each set, and each direction of
the seam sewn next, only the cheapest way is kept, which is exact as long as no set is dropped. When a level
holds more sets than the budget bears, the cheapest are kept. Equal costs are decided by face numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.piecing.order_strips import strip_of
from hoopwright.piecing.peeling import all_that_can_be_last, chord_of, last_after, look_costs, peel
from hoopwright.piecing.seam_net import Chord, SeamNet, members
from hoopwright.piecing.wishes import Pricing

SEARCH_LOOKS = 600_000
"""Seam edges looked at after which only the most promising sets are followed."""

WIDEST_SHARE = 4
"""One level may use up to one part in this many of the looks that are left."""

LEAST_MOVES = 6
"""So many pieces of a set are always tried."""


@dataclass(frozen=True, slots=True)
class Step:
    """A piece, its seam (None for the first), and the set it completes."""

    piece: int
    chord: Chord | None
    pieces: int


@dataclass(frozen=True, slots=True)
class BestOrder:
    """Steps in sewing order, and whether no better order exists."""

    steps: tuple[Step, ...]
    cost: int
    proven: bool


@dataclass(frozen=True, slots=True)
class _Way:
    """The cheapest known way to leave a set: cost, strips of the pieces taken off, the last one taken off."""

    cost: int
    strips: int
    step: Step | None
    later: _Way | None


_Level = dict[tuple[int, int], _Way]


def steps_of(net: SeamNet, order: Sequence[int]) -> tuple[Step, ...]:
    """Return the steps of an order that can be sewn. Raises ValueError when it cannot."""
    steps, pieces = [], 0
    for place, piece in enumerate(order):
        pieces |= 1 << piece
        steps.append(Step(piece, chord_of(net, piece, pieces) if place else None, pieces))
    return tuple(steps)


def possible_firsts(net: SeamNet, among: int) -> int:
    """Return the set of the pieces of ``among`` that can be sewn first."""
    found = 0
    for piece in members(among):
        if peel(net, keep=1 << piece).core == 1 << piece:
            found |= 1 << piece
    return found


def best_order(pricing: Pricing, firsts: int | None = None, looks: int = SEARCH_LOOKS) -> BestOrder | None:
    """Return the cheapest order that begins with a piece of ``firsts`` (any when None); None when there is none.

    ``firsts`` must hold only pieces that can be first.
    """
    net = pricing.net
    allowed = net.everything if firsts is None else firsts
    core = peel(net).core
    if not core or core & (core - 1) or not allowed:
        return None
    search = _Search(pricing, allowed, looks)
    level: _Level = {(net.everything, -1): _Way(0, 0, None, None)}
    for size in range(net.count, 1, -1):
        level = search.next_level(level, size)
    return search.finish(level)


class _Search:
    """One search: what can be last in each set of the present level, and what is left of the budget."""

    __slots__ = ("alike", "allowed", "budget", "costs", "last", "net", "pricing", "proven", "rank", "turn", "turning")

    def __init__(self, pricing: Pricing, allowed: int, looks: int) -> None:
        self.pricing, self.net = pricing, pricing.net
        self.allowed, self.budget, self.proven = allowed, looks, True
        self.costs = look_costs(self.net)
        self.last = {self.net.everything: all_that_can_be_last(self.net, self.net.everything)}
        known: dict[float, int] = {}
        self.alike = [known.setdefault(degrees, row) for row, degrees in enumerate(pricing.direction)]
        self.turn = pricing.part(1, 1.0)
        self.turning: dict[tuple[int, int], bool] = {}
        inner = [
            pricing.price((n.bit_count(), 0, 0, 0, b.bit_count(), 0))
            for n, b in zip(pricing.nearer, pricing.larger, strict=True)
        ]
        self.rank = sorted(range(self.net.count), key=lambda p: (-inner[p], -p))

    def next_level(self, level: _Level, size: int) -> _Level:
        share = max(self.budget // (size - 1), self.budget // WIDEST_SHARE, 0)
        kept = self.cheapest(level, share)
        found: _Level = {}
        last: dict[int, int] = {}
        moves_of: dict[int, list[tuple[Step, int]]] = {}
        for (pieces, direction), way in kept:
            if pieces not in moves_of:
                moves_of[pieces] = self.moves(pieces, way.strips, share // len(kept))
            for step, cost in moves_of[pieces]:
                self.follow(found, way, direction, step, cost)
                rest = pieces & ~(1 << step.piece)
                if rest not in last:
                    last[rest] = last_after(self.net, step.piece, rest, self.last[pieces])
        self.last = last
        return found

    def cheapest(self, level: _Level, share: int) -> list[tuple[tuple[int, int], _Way]]:
        """Return the ways that the share of the budget bears, cheapest first."""
        ranked = sorted(level.items(), key=lambda entry: (entry[1].cost, entry[0]))
        looks = sum(self.cost_of(self.last[pieces]) for pieces, _ in level)
        if looks <= share or len(ranked) == 1:
            return ranked
        room = max(1, share * len(ranked) // looks)
        self.proven = self.proven and room >= len(ranked)
        return ranked[:room]

    def cost_of(self, pieces: int) -> int:
        return sum([self.costs[p] for p in members(pieces)])

    def moves(self, pieces: int, strips: int, share: int) -> list[tuple[Step, int]]:
        """Price the pieces that can be taken off a set, leaving one that may be first; only some if they cost too much."""
        can = self.unblocked(pieces, self.last[pieces])
        tried = members(can)
        cost = self.cost_of(can)
        if cost > share and len(tried) > LEAST_MOVES:
            self.proven = False
            tried = [p for p in self.rank if can >> p & 1][: max(LEAST_MOVES, share * len(tried) // cost)]
        self.budget -= sum([self.costs[p] for p in tried])
        steps = [Step(p, chord_of(self.net, p, pieces), pieces) for p in sorted(tried, reverse=True)]
        return [(s, self.pricing.step_price(s.piece, s.chord, pieces, strips)) for s in steps]

    def unblocked(self, pieces: int, can: int) -> int:
        """Leave out a piece that is the only one left that may be first."""
        firsts = pieces & self.allowed
        return can & ~firsts if not firsts & (firsts - 1) else can

    def follow(self, found: _Level, way: _Way, direction: int, step: Step, cost: int) -> None:
        """Enter the way on over ``step`` if it is the cheapest to its set."""
        chord = step.chord
        assert chord is not None
        onward = self.alike[chord.row]
        if direction >= 0 and self.turns(direction, onward):
            cost += self.turn
        key = (step.pieces & ~(1 << step.piece), onward)
        known = found.get(key)
        if known is None or way.cost + cost < known.cost:
            found[key] = _Way(way.cost + cost, way.strips | 1 << strip_of(chord), step, way)

    def turns(self, one: int, two: int) -> bool:
        key = (one, two)
        if key not in self.turning:
            self.turning[key] = self.pricing.turns(one, two)
        return self.turning[key]

    def finish(self, level: _Level) -> BestOrder:
        """Price the first pieces and read the cheapest way back."""
        ends = []
        for (pieces, direction), way in level.items():
            piece = pieces.bit_length() - 1
            cost = way.cost + self.pricing.step_price(piece, None, pieces, way.strips)
            ends.append((cost, piece, direction, way))
        cost, piece, _, way = min(ends, key=lambda end: end[:3])
        steps = [Step(piece, None, 1 << piece)]
        at: _Way | None = way
        while at is not None and at.step is not None:
            steps.append(at.step)
            at = at.later
        return BestOrder(tuple(steps), cost, self.proven)
