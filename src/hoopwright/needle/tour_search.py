"""Short closed tours through many stops, some of which must stay beside each other (local search with kicks).

Words: a *stop* is visited once; a *mate* of a stop must stay its neighbour (the other end of a row of stitches). A
*turn-round* takes two links out, turns the tour round between them and links it anew; a *shift* moves up to three stops
elsewhere; a *kick* exchanges two short neighbouring pieces of the tour, which no single turn-round can undo.

After the first descent every kick is followed by a descent around the places it touched, and taken back when the tour has not
become shorter. The number of kicks is the budget: no clock is asked, and the dice are seeded, so the same stops give the same tour.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm

Table: TypeAlias = list[list[float]]
"""The cost of the link between any two stops, symmetric."""

NO_MATE: Final = -1
NEIGHBOURS: Final = 8
"""How many of its nearest stops a stop may be linked to by a single move."""
KICK_REACH: Final = 50
"""A kick exchanges pieces within so many stops of the tour."""
SHIFTED: Final = 3
"""Most stops moved by one shift."""


def short_tour(costs: NDArray[np.float64], mates: Sequence[int], kicks: int, seed: int = 1) -> list[int]:
    """Return the stops in the order of a short closed tour.

    ``costs`` has shape (n, n) and is symmetric; ``mates[s]`` is the stop that must stay beside s, or NO_MATE.
    """
    count = len(costs)
    if count <= SHIFTED:
        return list(range(count))
    near = _near(costs, mates)
    search = _Search(costs.tolist(), near, list(mates), _first_tour(costs, near, mates))
    search.descend(list(search.tour))
    search.kick(kicks, random.Random(seed))
    return search.tour


def tour_length(costs: NDArray[np.float64], tour: Sequence[int]) -> Mm:
    """Return the length of a closed tour."""
    return float(sum(costs[a, b] for a, b in zip(tour, [*tour[1:], tour[0]], strict=True)))


def _near(costs: NDArray[np.float64], mates: Sequence[int]) -> list[list[int]]:
    """Return for each stop its nearest stops, nearest first, without itself and its mate."""
    barred = costs.copy()
    every = np.arange(len(costs))
    barred[every, every] = np.inf
    paired = np.array([s for s, mate in enumerate(mates) if mate != NO_MATE], dtype=np.intp)
    barred[paired, np.array(mates, dtype=np.intp)[paired]] = np.inf
    most = min(NEIGHBOURS, len(costs) - 1)
    rows = np.argsort(barred, axis=1, kind="stable")[:, :most]
    return [[int(b) for b in row if np.isfinite(barred[a, b])] for a, row in enumerate(rows)]


def _first_tour(costs: NDArray[np.float64], near: list[list[int]], mates: Sequence[int]) -> list[int]:
    """Return a tour made of the cheapest links first, mates linked beforehand."""
    count = len(costs)
    links: list[list[int]] = [[] for _ in range(count)]
    top = list(range(count))

    def find(a: int) -> int:
        while top[a] != a:
            top[a] = top[top[a]]
            a = top[a]
        return a

    wanted = sorted({(float(costs[a, b]), min(a, b), max(a, b)) for a in range(count) for b in near[a]})
    for _, a, b in [(0.0, a, b) for a, b in enumerate(mates) if a < b] + wanted:
        if len(links[a]) < 2 and len(links[b]) < 2 and find(a) != find(b):
            links[a].append(b)
            links[b].append(a)
            top[find(a)] = find(b)
    return _strung(costs, links)


def _strung(costs: NDArray[np.float64], links: list[list[int]]) -> list[int]:
    """Return the pieces of a tour put one behind the other, each beginning nearest to the end of the one before."""
    ends = np.array([len(row) < 2 for row in links])
    tour: list[int] = []
    at = int(np.argmax(ends))
    while True:
        ends[at] = False
        tour.append(at)
        before = NO_MATE
        while onward := [b for b in links[at] if b != before]:
            before, at = at, onward[0]
            tour.append(at)
        ends[at] = False
        left = np.flatnonzero(ends)
        if not len(left):
            return tour
        at = int(left[np.argmin(costs[at, left])])


class _Search:
    """A tour with the place of each stop in it, and what was done to it since the last kick."""

    def __init__(self, costs: Table, near: list[list[int]], mates: list[int], tour: list[int]) -> None:
        self.costs, self.near, self.mates, self.tour = costs, near, mates, tour
        self.count = len(tour)
        self.place = [0] * self.count
        for i, stop in enumerate(tour):
            self.place[stop] = i
        self.done: list[tuple[int, ...]] = []

    def descend(self, stops: list[int]) -> Mm:
        """Improve around ``stops``, and around whatever that touches, until nothing helps; return what was saved."""
        waiting = stops[::-1]
        listed = set(waiting)
        saved = 0.0
        while waiting:
            stop = waiting.pop()
            listed.discard(stop)
            while (gain := self._improve(stop, waiting, listed)) > 0.0:
                saved += gain
        return saved

    def kick(self, kicks: int, dice: random.Random) -> None:
        """Kick and descend so many times, keeping what is no longer than before."""
        reach = min(KICK_REACH, self.count - 1)
        if reach < 3:
            return
        for _ in range(kicks):
            start = dice.randrange(self.count - reach)
            cuts = sorted({start + dice.randrange(reach) for _ in range(3)})
            tour, mates = self.tour, self.mates
            if len(cuts) < 3 or any(mates[tour[k]] == tour[k + 1] for k in cuts):
                continue
            self.done.clear()
            touched = [stop for k in cuts for stop in (tour[k], tour[k + 1])]
            lost = self._exchange(*cuts)
            if self.descend(touched) < lost - SAME_PLACE:
                self._take_back()

    def _exchange(self, p: int, q: int, r: int) -> Mm:
        """Exchange the pieces after p up to q, and after q up to r; return what that lengthens."""
        tour, place, costs = self.tour, self.place, self.costs
        a, b, c, d, e, f = tour[p], tour[p + 1], tour[q], tour[q + 1], tour[r], tour[r + 1]
        tour[p + 1 : r + 1] = tour[q + 1 : r + 1] + tour[p + 1 : q + 1]
        for k in range(p + 1, r + 1):
            place[tour[k]] = k
        self.done.append((p, p + r - q, r))
        return costs[a][d] + costs[e][b] + costs[c][f] - costs[a][b] - costs[c][d] - costs[e][f]

    def _take_back(self) -> None:
        for move in reversed(list(self.done)):
            if len(move) == 3:
                self._exchange(*move)
            else:
                self._reverse(*move)
        self.done.clear()

    def _reverse(self, i: int, j: int) -> None:
        """Reverse the tour from place i on to place j, or all the rest, whichever is less."""
        count, tour, place = self.count, self.tour, self.place
        inside = (j - i) % count + 1
        if 2 * inside > count:
            i, j, inside = (j + 1) % count, (i - 1) % count, count - inside
        self.done.append((i, j))
        if i <= j:
            tour[i : j + 1] = tour[i : j + 1][::-1]
            for k in range(i, j + 1):
                place[tour[k]] = k
            return
        for _ in range(inside // 2):
            a, b = tour[i], tour[j]
            tour[i], tour[j] = b, a
            place[a], place[b] = j, i
            i = i + 1 if i + 1 < count else 0
            j = j - 1 if j else count - 1

    def _turn(self, a: int, b: int, c: int, d: int) -> None:
        """Take the links a-b and c-d out and put a-c and b-d in; b follows a as d follows c, in either direction."""
        place = self.place
        if self.tour[(place[a] + 1) % self.count] == b:
            self._reverse(place[b], place[c])
        else:
            self._reverse(place[a], place[d])

    def _improve(self, a: int, waiting: list[int], listed: set[int]) -> Mm:
        """Make the first move found that takes out a link of ``a`` and shortens the tour; return what it saves, or 0."""
        tour, place, costs, mates, count = self.tour, self.place, self.costs, self.mates, self.count
        row, mate, at = costs[a], mates[a], place[a]
        for step in (1, -1):
            b = tour[(at + step) % count]
            if b == mate:
                continue
            link = row[b]
            for c in self.near[a]:
                gain = link - row[c]
                if gain <= SAME_PLACE:
                    break
                spot = place[c]
                d = tour[(spot + step) % count]
                if mates[c] != d:
                    saved = gain + costs[c][d] - costs[b][d]
                    if saved > SAME_PLACE:
                        self._turn(a, b, c, d)
                        self._wake((a, b, c, d), waiting, listed)
                        return saved
                saved = self._shift(a, b, c, step, gain, waiting, listed)
                if saved > 0.0:
                    return saved
        return 0.0

    def _shift(self, a: int, b: int, c: int, step: int, gain: Mm, waiting: list[int], listed: set[int]) -> Mm:
        """Move ``a`` and up to two stops beyond it, seen from ``b``, to ``c``, if that shortens the tour; return what it saves."""
        tour, place, costs, mates, count = self.tour, self.place, self.costs, self.mates, self.count
        at, spot = place[a], place[c]
        away = ((at - spot) * step) % count
        fore, back = tour[(spot - step) % count], tour[(spot + step) % count]
        for k in range(min(SHIFTED, away, count - 2)):
            last = tour[(at - step * k) % count]
            end = tour[(at - step * (k + 1)) % count]
            if mates[last] == end:
                continue
            saved = gain + costs[last][end] - costs[b][end]
            for side in (fore, back):
                if mates[c] == side or side in (last, a):
                    continue
                more = saved + costs[c][side] - costs[last][side]
                if more > SAME_PLACE:
                    self._move(a, b, last, end, c, side, forward=side == fore)
                    self._wake((a, b, last, end, c, side), waiting, listed)
                    return more
        return 0.0

    def _move(self, a: int, b: int, last: int, end: int, c: int, side: int, *, forward: bool) -> None:
        """Put the stops from a to last between c and side, a beside c."""
        near, far = (c, side) if forward else (side, c)
        self._turn(b, a, near, far)
        if near != end:
            self._turn(b, near, end, last)
        if forward:
            self._turn(c, last, a, side)

    def _wake(self, stops: tuple[int, ...], waiting: list[int], listed: set[int]) -> None:
        for stop in stops:
            if stop not in listed:
                listed.add(stop)
                waiting.append(stop)
