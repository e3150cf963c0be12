"""Pairing places so that the ways between the pairs are shortest together, some places staying free.

Few places are paired by trying all pairings that can still be best. Many are paired by a linear programme over the
nearer ways, in which every odd set of places must send a way out (the sets are added as they are found wanting); if that
does not end in whole ways, by the same programme in whole numbers. Ways left out are then priced: none may be
shorter than what its two places would pay for it, or the programme is asked again with it. So the length is the least
there is, whatever was left out. Where countless pairings are alike, or branches are too many, places are paired nearest
first and pairs change partners while that helps. More than MOST_EXACT places are paired nearest first, and then anew around
one place after another; what that costs is measured in docs/performance.md.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final, TypeAlias

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import LinearConstraint, linprog, milp
from scipy.sparse import csr_array
from scipy.sparse.csgraph import connected_components

from hoopwright.core.tolerances import MERGE, SAME_PLACE
from hoopwright.core.types import Mm

Ways: TypeAlias = NDArray[np.float64]
"""Lengths of the ways between all places, shape (n, n), symmetric, mm; infinite where there is none, or none was looked for."""

_Table: TypeAlias = Any
"""A sparse table; what is known of the solver's types speaks of dense ones only."""

Pairs: TypeAlias = tuple[tuple[int, int], ...]

MOST_EXACT: Final = 300
"""Most places whose pairing is proved to be the shortest."""

WINDOW: Final = 40
"""Where there are more, so many places around one place are paired anew together, with their partners."""

MOST_TRIED: Final = 1000
"""Pairings begun before the search is given up for the programme, which takes about as long."""

FREE: Final = 2
"""A walk begins at one odd place and ends at another: these two need no partner."""

NEAREST: Final = 8
"""Ways from each place that the programme begins with."""

MANY: Final = 60
"""From more places on, countless pairings of one length are not searched for the best: the solver would not end."""

ALIKE: Final = 0.33
"""So few different lengths among the ways mean countless pairings of one length."""

MOST_NODES: Final = 200
"""Branches of the programme in whole numbers before it is given up for a good pairing."""

MOST_ROUNDS: Final = 20
"""Times all pairs are let change partners with one another."""

LIMIT_REACHED: Final = 1
"""The solver's word for a search that was given up."""

ROUNDS: Final = 4
"""Rounds of odd sets before the programme is solved in whole numbers."""

WHOLE: Final = 1e-6
"""A share this near to none or to one is whole (the solver's own precision)."""

LEVELS: Final = (WHOLE, 0.3, 0.49, 0.66)
"""Shares above which ways join places to sets, when odd sets are looked for."""


@dataclass(frozen=True, slots=True)
class Pairing:
    """The pairs, each (lower, higher), in order, and how long a way that was not looked at must at least be to be of no use.

    ``proved``: no other pairing is shorter.
    """

    pairs: Pairs
    reach: Mm
    proved: bool = True


def least_pairs(ways: Ways, free: int = FREE, price: Mm = np.inf) -> Pairs:
    """Return the pairs of all places but ``free`` whose ways are shortest together, each (lower, higher), in order.

    With a finite ``price`` (mm) more than ``free`` places may stay free where each two of them save more than the price.
    """
    found = pairing(ways, free, price)
    assert found is not None
    return found.pairs


def pairing(ways: Ways, free: int = FREE, price: Mm = np.inf) -> Pairing | None:
    """Return the best pairing as ``least_pairs`` does, with its reach; None when the ways given do not allow one."""
    count = len(ways)
    if count <= free:
        return Pairing((), 0.0)
    if np.isinf(price) and np.isfinite(ways).all():
        search = _Search(ways, free)
        if search.run():
            return Pairing(search.best, 0.0)
    return _Programme(ways, free, price).run() if count <= MOST_EXACT else _by_windows(ways, free, price)


def _by_windows(ways: Ways, free: int, price: Mm) -> Pairing | None:
    """Pair many places nearest first, then pair anew, as well as can be, what lies around one place after another."""
    count = len(ways)
    partner = _nearest_first(ways, free)
    if partner is None:
        return None
    near = np.argsort(ways, axis=1, kind="stable")[:, :WINDOW]
    for middle in [*range(0, count, WINDOW // 4), *range(WINDOW // 8, count, WINDOW // 4)]:
        around = near[middle][np.isfinite(ways[middle, near[middle]])]
        inside = np.unique(np.concatenate([around, partner[around][partner[around] < count]]))
        loose = int((partner[inside] == count).sum())
        found = pairing(ways[np.ix_(inside, inside)], loose if np.isinf(price) else loose % 2, price)
        if found is not None:
            partner[inside] = count
            for a, b in found.pairs:
                partner[inside[a]], partner[inside[b]] = inside[b], inside[a]
    pairs = [(a, b) for a, b in enumerate(partner.tolist()) if a < b < count]
    if count - 2 * len(pairs) < free:
        pairs.remove(max(pairs, key=lambda pair: (float(ways[pair]), pair)))
    return Pairing(tuple(pairs), 0.0, proved=False)


def _nearest_first(ways: Ways, free: int) -> NDArray[np.intp] | None:
    """Return the partner of each place, or the number of places for the free ones; None when the ways do not suffice."""
    count = len(ways)
    partner = np.full(count, count)
    one, other = np.nonzero(np.triu(np.isfinite(ways), 1))
    left = count
    for k in np.argsort(ways[one, other], kind="stable").tolist():
        a, b = one[k], other[k]
        if left > free and partner[a] == partner[b] == count:
            partner[a], partner[b] = b, a
            left -= 2
    return partner if left == free else None


def _exchanged(ways: Ways, free: int) -> Pairing | None:
    """Pair nearest first, then let two pairs change partners as long as that makes both ways together shorter."""
    partner = _nearest_first(ways, free)
    if partner is None:
        return None
    count = len(ways)
    pairs = [(a, b) for a, b in enumerate(partner.tolist()) if a < b < count]
    rows: list[list[float]] = ways.tolist()
    for _ in range(MOST_ROUNDS):
        better = False
        for i in range(len(pairs)):
            for j in range(i):
                (a, b), (c, d) = pairs[i], pairs[j]
                now = rows[a][b] + rows[c][d]
                least, one, other = min((rows[a][c] + rows[b][d], c, d), (rows[a][d] + rows[b][c], d, c))
                if least < now - SAME_PLACE:
                    pairs[i], pairs[j] = (min(a, one), max(a, one)), (min(b, other), max(b, other))
                    better = True
        if not better:
            break
    return Pairing(tuple(sorted(pairs)), 0.0, proved=False)


class _Search:
    """A depth-first search with a bound: every place still to be paired costs at least half its shortest way."""

    def __init__(self, ways: Ways, free: int) -> None:
        self.rows: list[list[float]] = ways.tolist()
        self.free = free
        count = len(self.rows)
        self.near = [
            sorted((b for b in range(count) if b != a), key=lambda b: (row[b], b)) for a, row in enumerate(self.rows)
        ]
        self.half = [self.rows[a][self.near[a][0]] / 2.0 for a in range(count)]
        self.most = max(self.half)
        self.tried = 0
        self.least = float("inf")
        self.best: Pairs = ()

    def run(self) -> bool:
        """Return whether the search came to its end."""
        self._go(tuple(range(len(self.rows))), self.free, 0.0, ())
        return self.tried <= MOST_TRIED

    def _go(self, left: tuple[int, ...], free: int, length: Mm, pairs: Pairs) -> None:
        self.tried += 1
        if self.tried > MOST_TRIED:
            return
        if len(left) == free:
            if length < self.least - SAME_PLACE:
                self.least, self.best = length, tuple(sorted(pairs))
            return
        if length + sum(self.half[a] for a in left) - free * self.most >= self.least - SAME_PLACE:
            return
        first, others = left[0], set(left[1:])
        for other in self.near[first]:
            if other in others:
                rest = tuple(a for a in left[1:] if a != other)
                self._go(rest, free, length + self.rows[first][other], (*pairs, (first, other)))
        if free:
            self._go(left[1:], free - 1, length, pairs)


class _Programme:
    """The linear programme: a share for each way and, where places may stay free, one for each place's freedom."""

    def __init__(self, ways: Ways, free: int, price: Mm) -> None:
        self.ways, self.free, self.price = ways, free, price
        self.count = len(ways)
        self.may_stay = free > 0 or bool(np.isfinite(price))
        self.gave_up = False
        self.sets: list[NDArray[np.bool_]] = []
        near = np.argsort(ways + np.diag(np.full(self.count, np.inf)), axis=1, kind="stable")[:, :NEAREST]
        wanted = np.zeros((self.count, self.count), dtype=bool)
        np.put_along_axis(wanted, near, values=True, axis=1)
        self.known = np.triu((wanted | wanted.T) & np.isfinite(ways), 1)

    def run(self) -> Pairing | None:
        """Solve, and solve again with the ways that could still be of use, until there are none.

        Where very many pairings are alike, as in combs, or branches are too many, the programme is given up for a good
        pairing.
        """
        while True:
            answer = self._solve()
            if self.gave_up:
                return _exchanged(self.ways, self.free)
            if answer is None:
                useful = np.triu(np.isfinite(self.ways), 1) & ~self.known
                if not useful.any():
                    return None
            else:
                pairs, pays, gap = answer
                worth = pays[:, None] + pays[None, :] + gap - 2.0 * SAME_PLACE
                useful = np.triu(self.ways < worth, 1) & ~self.known
                if not useful.any():
                    return Pairing(pairs, float(np.sort(pays)[-2:].sum()) + gap)
            self.known |= useful

    def _solve(self) -> tuple[Pairs, NDArray[np.float64], Mm] | None:
        """Return the pairs, what each place would pay for a way, and how far the payments fall short of the length."""
        one, other = np.nonzero(self.known)
        form = _form(self, one, other)
        for _ in range(ROUNDS):
            cuts, most = self._limits(one, other)
            relaxed = linprog(form.costs, A_ub=cuts, b_ub=most, A_eq=form.each, b_eq=form.one, method="highs-ds")
            if relaxed.x is None:
                return None
            least = float(relaxed.fun or 0.0)
            shares = relaxed.x[: len(one)]
            whole = bool((np.minimum(shares, 1.0 - shares) < WHOLE).all())
            if whole or not self._add_odd_sets(one, other, shares):
                break
        pays, gap = relaxed.eqlin.marginals[: self.count], 0.0
        if not whole and self._alike():
            self.gave_up = True
            return None
        if not whole:
            exact = self._in_whole_numbers(form, one, other)
            if exact is None:
                return None
            shares, gap = exact[0], max(0.0, exact[1] - least)
        chosen = shares > 0.5
        return tuple(zip(one[chosen].tolist(), other[chosen].tolist(), strict=True)), pays, gap

    def _in_whole_numbers(
        self, form: _Form, one: NDArray[np.intp], other: NDArray[np.intp]
    ) -> tuple[NDArray[np.float64], Mm] | None:
        cuts, most = self._limits(one, other)
        rules = [LinearConstraint(form.each, form.one, form.one), LinearConstraint(cuts, -np.inf, most)]
        whole = np.ones(len(form.costs), dtype=np.int64)
        solved = milp(
            form.costs, integrality=whole, constraints=rules, options={"mip_rel_gap": 0.0, "node_limit": MOST_NODES}
        )
        self.gave_up = solved.status == LIMIT_REACHED
        return None if solved.x is None or self.gave_up else (solved.x[: len(one)], float(solved.fun))

    def _alike(self) -> bool:
        """Whether so many ways are of one length that there are countless best pairings, as in a comb."""
        lengths = self.ways[self.known]
        different = len(np.unique(np.round(lengths / MERGE)))
        return self.count > MANY and different < ALIKE * len(lengths)

    def _limits(self, one: NDArray[np.intp], other: NDArray[np.intp]) -> tuple[_Table, NDArray[np.float64]]:
        """Return what must not be exceeded: of an odd set, at most (n - 1) / 2 ways lie inside; and the least freedom."""
        inner = [np.flatnonzero(members[one] & members[other]) for members in self.sets]
        most = [(float(members.sum()) - 1.0) / 2.0 for members in self.sets]
        shares = [np.ones(len(inside)) for inside in inner]
        freedom = self.count if self.may_stay else 0
        if np.isfinite(self.price):
            inner.append(len(one) + np.arange(freedom))
            shares.append(np.full(freedom, -1.0))
            most.append(-float(self.free))
        rows = np.repeat(np.arange(len(inner)), [len(inside) for inside in inner])
        shape = (len(inner), len(one) + freedom)
        if not inner:
            return csr_array(shape), np.array(most)
        return csr_array((np.concatenate(shares), (rows, np.concatenate(inner))), shape=shape), np.array(most)

    def _add_odd_sets(self, one: NDArray[np.intp], other: NDArray[np.intp], shares: NDArray[np.float64]) -> bool:
        """Remember odd sets of places that keep too many ways inside; return whether there were any."""
        for level in LEVELS:
            strong = shares > level
            links = csr_array((np.ones(strong.sum()), (one[strong], other[strong])), shape=(self.count, self.count))
            number, which = connected_components(links, directed=False)
            sizes = np.bincount(which, minlength=number)
            inside = which[one] == which[other]
            held = np.bincount(which[one[inside]], weights=shares[inside], minlength=number)
            wanting = np.flatnonzero((sizes % 2 == 1) & (held > (sizes - 1) / 2 + WHOLE))
            self.sets.extend(which == k for k in wanting)
            if len(wanting):
                return True
        return False


@dataclass(frozen=True, slots=True, eq=False)
class _Form:
    """The programme's fixed part: costs, and that the shares of each place come to one."""

    costs: NDArray[np.float64]
    each: _Table
    one: NDArray[np.float64]


def _form(asked: _Programme, one: NDArray[np.intp], other: NDArray[np.intp]) -> _Form:
    """Return the fixed part; ways of one length differ by less than a needle hole, so that there is one answer only."""
    count, ways = asked.count, len(one)
    apart = SAME_PLACE * ((one * 7919 + other * 104729) % 1009) / 1009.0
    costs = asked.ways[one, other] + apart
    places, columns = np.concatenate([one, other]), np.concatenate([np.arange(ways), np.arange(ways)])
    totals = np.ones(count)
    rows = count
    if asked.may_stay:
        priced = np.isfinite(asked.price)
        costs = np.concatenate([costs, np.full(count, asked.price / 2.0 if priced else 0.0)])
        places = np.concatenate([places, np.arange(count)])
        columns = np.concatenate([columns, ways + np.arange(count)])
        if not priced:
            places = np.concatenate([places, np.full(count, count)])
            columns = np.concatenate([columns, ways + np.arange(count)])
            totals = np.append(totals, float(asked.free))
            rows += 1
    each = csr_array((np.ones(len(places)), (places, columns)), shape=(rows, len(costs)))
    return _Form(costs, each, totals)
