"""How a line goes on where several stretches meet: without crossing itself, and as straight as that allows.

Words: a *transition* joins two ends of stretches at a place; a *loose* end is one where a trail begins or ends; a *trail*
runs along stretches from transition to transition, a *circuit* is a trail without loose ends.

Why it always works: ends around a place are joined so that no two transitions cross (two of them cross when their ends
lie alternately around the place). If more than the wished trails come of it, two of them meet at some place, and then two
of their ends lie side by side there, b of transition (a, b) and c of (c, d). Joining (b, c) and (a, d) makes one of the
two trails; nothing lies between b and c, and no third transition parts a from d that did not part a from b or c from d, so
still nothing crosses. A connected network so ends in one circuit, or in as many trails as it has pairs of loose ends.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence
from typing import Final, Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from hoopwright.core.types import Mm, Point
from hoopwright.needle.network import Network, Row

Meeting: TypeAlias = Literal["apart", "smooth", "straight"]
"""At a meeting of lines the sewn line keeps "apart" from itself; or keeps "smooth", crossing itself only where it would
fold back otherwise; or goes "straight" on, even across itself."""

LOOSE: Final = -1
LOOK: Final[Mm] = 1.0
"""The direction of a stretch is taken this far along it, so that a small hook at its end does not count."""
SHARP: Final = math.radians(150.0)
"""A turn beyond this folds the thread back on itself."""
SHARP_COST: Final = 100.0
"""What such a turn costs, where a turn by one radian costs 1."""
MOST_TRIED: Final = 6
"""Up to so many ends at a place every way of joining them is tried where they may cross."""
FOUR: Final = 4
"""Most places of a ground are crossings of two lines."""
CROSSING_COST: Final = 20.0
"""What a crossing costs where the line is to keep smooth."""


class Transitions:
    """The transitions of a connected network, chosen when made; ``partner`` gives for each end the one it goes on with."""

    def __init__(self, network: Network, meeting: Meeting = "apart") -> None:
        self.network = network
        self.meeting = meeting
        self.around, self.away = _around(network)
        self.partner = [LOOSE] * (2 * len(network.joins))
        self._join_fours()
        for ends in self.around:
            if len(ends) != FOUR:
                self._join(ends)
        self._unite()

    def _join_fours(self) -> None:
        """Join the ends at all places of four at once, as ``_of_four`` does at one."""
        fours = [ends for ends in self.around if len(ends) == FOUR]
        if not fours:
            return
        ways = np.array(self.away)[np.array(fours)]
        pairs = ((0, 1), (2, 3)), ((1, 2), (0, 3)), ((0, 2), (1, 3))
        ways_on = pairs if self.meeting == "straight" else pairs[:2]
        costs = np.array([sum(_costs(ways[:, i], ways[:, j]) for i, j in way) for way in ways_on])
        for ends, best in zip(fours, np.argmin(costs, axis=0).tolist(), strict=True):
            for i, j in ways_on[best]:
                self.partner[ends[i]], self.partner[ends[j]] = ends[j], ends[i]

    def _turn(self, a: int, b: int) -> float:
        """Return what going from end ``a`` to end ``b`` costs: the square of the turn, more when it is sharp."""
        gap = abs(self.away[a] - self.away[b]) % (2.0 * math.pi)
        turn = abs(math.pi - gap)
        return turn * turn + (SHARP_COST if turn > SHARP else 0.0)

    def _join(self, ends: Sequence[int]) -> None:
        for a, b in self._straightest(ends) if self.meeting == "straight" else self._best(ends):
            self.partner[a], self.partner[b] = b, a

    def _best(self, ends: Sequence[int]) -> list[tuple[int, int]]:
        """Return the pairs around a place that do not cross and turn least together; one of an odd number stays loose."""
        count = len(ends)
        if count < 2:
            return []
        if count == 2:
            return [(ends[0], ends[1])]
        if count == 4:
            return self._of_four(*ends)
        turns = [[self._turn(a, b) for b in ends] for a in ends]
        table = _spans(turns)
        if count % 2 == 0:
            return [(ends[i], ends[j]) for i, j in _unfold(table, 0, count)]
        loose = min(range(count), key=lambda k: (table[(k + 1) % count, count - 1][0], ends[k]))
        return [(ends[i], ends[j]) for i, j in _unfold(table, (loose + 1) % count, count - 1)]

    def _of_four(self, a: int, b: int, c: int, d: int) -> list[tuple[int, int]]:
        """Return the best way in which four ends go on; where they must keep apart, the better of two."""
        turn = self._turn
        best, pairs = turn(a, b) + turn(c, d), [(a, b), (c, d)]
        if (other := turn(b, c) + turn(a, d)) < best:
            best, pairs = other, [(b, c), (a, d)]
        if self.meeting == "straight" and turn(a, c) + turn(b, d) < best:
            return [(a, c), (b, d)]
        return pairs

    def _straightest(self, ends: Sequence[int]) -> list[tuple[int, int]]:
        """Return the pairs that turn least together, whether they cross or not; of many ends, the straightest pairs first."""
        if len(ends) == 4:
            return self._of_four(*ends)
        if len(ends) <= MOST_TRIED:
            return list(self._any(tuple(ends))[1])
        left, pairs = set(ends), []
        for _, a, b in sorted((self._turn(a, b), a, b) for a in ends for b in ends if a < b):
            if a in left and b in left:
                pairs.append((a, b))
                left -= {a, b}
        return pairs

    def _any(self, ends: tuple[int, ...]) -> tuple[float, tuple[tuple[int, int], ...]]:
        """Return the least cost of joining ends in pairs, one of an odd number staying loose, and the pairs."""
        if len(ends) < 2:
            return 0.0, ()
        first, rest = ends[0], ends[1:]
        tries = [(self._any(rest[:k] + rest[k + 1 :]), (first, other)) for k, other in enumerate(rest)]
        joined = [(cost + self._turn(*pair), (pair, *pairs)) for (cost, pairs), pair in tries]
        return min([*joined, self._any(rest)] if len(ends) % 2 else joined)

    def _unite(self) -> None:
        """Unite trails at the places where that costs the least turning, until none can be united."""
        trails = _Trails(self.partner)
        if not trails.wanting:
            return
        swaps = (swap for ends in self.around for swap in self._swaps(ends) if trails.may_unite(*swap))
        heap = [(self._gain(*swap), *swap) for swap in swaps]
        heapq.heapify(heap)
        while heap and trails.wanting:
            gain, b, c = heapq.heappop(heap)
            if not trails.may_unite(b, c):
                continue
            now = self._gain(b, c)
            if now > gain:
                heapq.heappush(heap, (now, b, c))
                continue
            trails.unite(b, c)
            self._swap(b, c)

    def _swaps(self, ends: Sequence[int]) -> list[tuple[int, int]]:
        """Return the pairs of ends that may be joined instead of going on with their partners."""
        if len(ends) < 3:
            return []
        if self.meeting == "apart":
            beside = [(ends[i - 1], ends[i]) for i in range(len(ends)) if self.partner[ends[i]] != ends[i - 1]]
            return beside[:1] if len(ends) == 4 else beside
        if len(ends) == 4:
            first = ends[0]
            return [(first, b) for b in ends[1:] if self.partner[first] != b]
        return [(a, b) for a in ends for b in ends if a < b and self.partner[a] != b]

    def _gain(self, b: int, c: int) -> float:
        """Return what joining two ends, and their partners with each other, costs more than it saves."""
        a, d = self.partner[b], self.partner[c]
        before = (self._turn(a, b) if a >= 0 else 0.0) + (self._turn(c, d) if d >= 0 else 0.0)
        after = self._turn(b, c) + (self._turn(a, d) if a >= 0 and d >= 0 else 0.0)
        crossing = CROSSING_COST * self._crossings(a, b, c, d) if self.meeting == "smooth" else 0.0
        return after - before + crossing

    def _crossings(self, a: int, b: int, c: int, d: int) -> int:
        """Return how many crossings joining b with c and a with d instead of a with b and c with d adds at their place."""
        spot = {end: i for i, end in enumerate(self.around[self.network.at(b)])}
        others = [(e, p) for e in spot if (p := self.partner[e]) > e and e not in (a, b, c, d)]

        def count(pairs: list[tuple[int, int]]) -> int:
            whole = [(spot[e], spot[f]) for e, f in pairs if e >= 0 and f >= 0]
            fixed = [(spot[e], spot[f]) for e, f in others]
            among = len(whole) == 2 and _alternate(whole[0], whole[1])
            return among + sum(_alternate(p, q) for p in whole for q in fixed)

        return count([(b, c), (a, d)]) - count([(a, b), (c, d)])

    def _swap(self, b: int, c: int) -> None:
        a, d = self.partner[b], self.partner[c]
        self.partner[b], self.partner[c] = c, b
        if a >= 0:
            self.partner[a] = d
        if d >= 0:
            self.partner[d] = a

    def trails(self) -> list[list[int]]:
        """Return the trails as the ends at which they enter their stretches; without loose ends the one circuit."""
        loose = [e for e, other in enumerate(self.partner) if other == LOOSE]
        trails, seen = [], set()
        for start in loose or [0]:
            if start in seen:
                continue
            trail = _follow(self.partner, start)
            seen.add(trail[-1] ^ 1)
            trails.append(trail)
        return trails


def _costs(one: NDArray[np.float64], other: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return what going from one direction to the other costs, for many at once; see ``Transitions._turn``."""
    turns = np.abs(math.pi - np.abs(one - other) % (2.0 * math.pi))
    return np.asarray(turns * turns + np.where(turns > SHARP, SHARP_COST, 0.0))


def _alternate(one: tuple[int, int], other: tuple[int, int]) -> bool:
    """Whether two pairs of positions around a place lie alternately."""
    low, high = min(one), max(one)
    return (low < other[0] < high) != (low < other[1] < high)


class _Trails:
    """Which trail each end belongs to, and whether that trail is a circuit."""

    def __init__(self, partner: list[int]) -> None:
        self.above = [LOOSE] * len(partner)
        self.open = [False] * len(partner)
        circuits = paths = 0
        for start in (*(e for e, p in enumerate(partner) if p == LOOSE), *range(len(partner))):
            if self.above[start] != LOOSE:
                continue
            trail = _follow(partner, start)
            for end in trail:
                self.above[end] = self.above[end ^ 1] = start
            self.open[start] = partner[start] == LOOSE
            paths += self.open[start]
            circuits += not self.open[start]
        self.wanting = circuits - (0 if paths else 1)

    def _top(self, end: int) -> int:
        while self.above[end] != end:
            self.above[end] = self.above[self.above[end]]
            end = self.above[end]
        return end

    def may_unite(self, b: int, c: int) -> bool:
        """Whether two ends belong to different trails, at least one of them a circuit."""
        one, other = self._top(b), self._top(c)
        return one != other and not (self.open[one] and self.open[other])

    def unite(self, b: int, c: int) -> None:
        """Make one trail of the two."""
        one, other = self._top(b), self._top(c)
        self.above[other] = one
        self.open[one] |= self.open[other]
        self.wanting -= 1


def _follow(partner: list[int], start: int) -> list[int]:
    """Return the ends at which stretches are entered, from ``start`` to a loose end or round to it."""
    trail = [start]
    at = partner[start ^ 1]
    while at not in (LOOSE, start):
        trail.append(at)
        at = partner[at ^ 1]
    return trail


def _around(network: Network) -> tuple[list[list[int]], list[float]]:
    """Return for each place the ends there, counter-clockwise, and for each end its direction a little farther on, radians.

    Stretches sewn twice lie on each other; their copies count as side by side, in opposite orders at their two ends.
    """
    around: list[list[tuple[float, int, int]]] = [[] for _ in network.places]
    away: list[float] = []
    rows = network.rows
    begins = [math.atan2(row[1][1] - row[0][1], row[1][0] - row[0][0]) for row in rows]
    finishes = [math.atan2(row[-2][1] - row[-1][1], row[-2][0] - row[-1][0]) for row in rows]
    for stretch, (a, b) in enumerate(network.joins):
        row = rows[stretch]
        around[a].append((begins[stretch], stretch, 2 * stretch))
        around[b].append((finishes[stretch], -stretch, 2 * stretch + 1))
        if len(row) == 2:
            away += (begins[stretch], finishes[stretch])
        else:
            reach = min(LOOK, network.lengths[stretch] / 2.0)
            away += (_direction(row[0], _along(row, reach)), _direction(row[-1], _along(row[::-1], reach)))
    return [[end for _, _, end in sorted(ends)] for ends in around], away


def _direction(here: Point, there: Point) -> float:
    return math.atan2(there[1] - here[1], there[0] - here[0])


def _along(row: Row, reach: Mm) -> Point:
    here = row[0]
    for point in row[1:]:
        step = math.dist(here, point)
        if step >= reach:
            t = reach / step
            return here[0] + (point[0] - here[0]) * t, here[1] + (point[1] - here[1]) * t
        reach -= step
        here = point
    return here


_Table: TypeAlias = dict[tuple[int, int], tuple[float, int]]


def _spans(turns: list[list[float]]) -> _Table:
    """Return for each span of ends (first, even number) around a place the least cost of joining them without a crossing.

    The second value is how far on the partner of the first one lies.
    """
    count = len(turns)
    table: _Table = {(i, 0): (0.0, 0) for i in range(count)}
    for width in range(2, count + 1, 2):
        for i in range(count):
            table[i, width] = min(
                (
                    turns[i][(i + k) % count]
                    + table[(i + 1) % count, k - 1][0]
                    + table[(i + k + 1) % count, width - k - 1][0],
                    k,
                )
                for k in range(1, width, 2)
            )
    return table


def _unfold(table: _Table, first: int, width: int) -> list[tuple[int, int]]:
    """Return the pairs behind the least cost of a span, as positions around the place."""
    count = 1 + max(i for i, _ in table)
    pairs, spans = [], [(first, width)]
    while spans:
        i, wide = spans.pop()
        if wide:
            k = table[i, wide][1]
            pairs.append((i, (i + k) % count))
            spans += [((i + 1) % count, k - 1), ((i + k + 1) % count, wide - k - 1)]
    return pairs
