"""Sections: piecing a panel that cannot be sewn on one foundation in groups that are joined like patches.

Words: a *full chord* of a set of pieces is a straight seam inside its union that runs from its boundary to its
boundary and parts it in two. A *plan* says how a set is made: what peels off it, and the chord at which the core is
joined from a *base*, which stays in the hoop, and an *other* side, pieced before as a section of its own.

docs/theory-order.md proves: whether a set can be made with sections does not depend on which chords are tried, and
single patches that peel off cost no section. Only the fewest number needs a search.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hoopwright.core.types import Mm, Mm2
from hoopwright.piecing.peeling import peel
from hoopwright.piecing.seam_net import SeamNet, members

SECTION_STEPS = 400_000
"""Pieces looked at while searching for fewer sections, after which the best found so far stands."""

CLEARLY_LARGER = 1.05
"""The base is the larger side; sides whose areas differ by less are told apart by how central they are."""


@dataclass(frozen=True, slots=True)
class FullChord:
    """A chord by its edges in the net, and the sets of pieces on its two sides."""

    edges: tuple[int, ...]
    left: int
    right: int


@dataclass(frozen=True, slots=True)
class SectionPlan:
    """How a set of pieces is made. ``sections`` counts foundations, ``members`` what is laid on the last one, ``largest``
    the most that is laid on any. ``base`` and ``other`` are None when the set is made on one foundation.
    """

    pieces: int
    sections: int
    members: int
    largest: int
    base: SectionPlan | None
    other: SectionPlan | None


@dataclass(frozen=True, slots=True)
class Sides:
    """What decides which side stays in the hoop: areas and distances from the middle by piece, and a wanted first piece."""

    areas: tuple[Mm2, ...]
    distances: tuple[Mm, ...]
    first: int | None = None


def full_chords(net: SeamNet, pieces: int) -> Iterator[FullChord]:
    """Yield the full chords of a connected set of pieces, in the order of the rows."""
    run: list[int] = []
    for number, edge in enumerate(net.edges):
        if not (pieces >> edge.left & 1 and pieces >> edge.right & 1):
            continue
        before, after = net.rows[edge.row].vertices[edge.place : edge.place + 2]
        if not net.whole(before, pieces):
            run = [number]
        elif run and net.edges[run[-1]].row == edge.row and net.edges[run[-1]].place == edge.place - 1:
            run.append(number)
        else:
            run = []
        if run and not net.whole(after, pieces):
            chord = _parted(net, pieces, tuple(run))
            run = []
            if chord is not None:
                yield chord


def _parted(net: SeamNet, pieces: int, edges: tuple[int, ...]) -> FullChord | None:
    """Return the chord with its two sides, or None when it does not part the set (a ring stays in one piece)."""
    barred = set(edges)
    start, goal = net.edges[edges[0]].left, net.edges[edges[0]].right
    side, queue = 1 << start, [start]
    while queue:
        piece = queue.pop()
        for e in net.edges_of[piece]:
            bit = 1 << net.other(e, piece)
            if e not in barred and bit & pieces and not bit & side:
                side |= bit
                queue.append(net.other(e, piece))
    return None if side >> goal & 1 else FullChord(edges, side, pieces & ~side)


def stuck_groups(net: SeamNet, pieces: int) -> tuple[int, ...]:
    """Return the groups of pieces that no straight full seam can part; empty when the set can be made with sections.

    The groups are what is left after peeling and parting as long as anything can be done; they do not depend on
    the choices made.
    """
    found, queue = [], [pieces]
    while queue:
        core = peel(net, queue.pop()).core
        if core & (core - 1):
            chord = next(full_chords(net, core), None)
            if chord is None:
                found.append(core)
            else:
                queue += [chord.left, chord.right]
    return tuple(sorted(found, key=lambda group: group & -group))


class SectionSearch:
    """A search with memory on sets of pieces; ``bounded`` tells whether the budget ended before the search did."""

    __slots__ = ("bounded", "known", "net", "sides", "steps")

    def __init__(self, net: SeamNet, sides: Sides, steps: int = SECTION_STEPS) -> None:
        self.net, self.sides, self.steps = net, sides, steps
        self.bounded = False
        self.known: dict[int, SectionPlan] = {}

    def plan(self, pieces: int) -> SectionPlan:
        """Return the best plan found for a set. Raises ValueError when the set cannot be made with sections."""
        core = peel(self.net, pieces).core
        self.steps -= pieces.bit_count()
        if not core & (core - 1):
            return SectionPlan(pieces, 1, pieces.bit_count(), pieces.bit_count(), None, None)
        if core not in self.known:
            self.known[core] = self.best_split(core)
        return _with_peeled(self.known[core], pieces)

    def best_split(self, core: int) -> SectionPlan:
        """Try the chords of a core, the most promising first, and return the plan with the fewest sections."""
        chords = sorted(full_chords(self.net, core), key=self.promise)
        if not chords:
            raise ValueError("these pieces cannot be parted by a straight full seam")
        self.steps -= core.bit_count() * len(chords)
        best = self.joined(core, chords[0])
        for chord in chords[1:]:
            if self.steps <= 0:
                self.bounded = True
                break
            best = min(best, self.joined(core, chord), key=_rank)
        return best

    def promise(self, chord: FullChord) -> tuple[int, int, tuple[int, ...]]:
        """Rank a chord: first those that part off most patches that can be made on one foundation, then even halves."""
        sizes = []
        for side in (chord.left, chord.right):
            core = peel(self.net, side).core
            self.steps -= side.bit_count()
            sizes.append(0 if core & (core - 1) else side.bit_count())
        uneven = abs(chord.left.bit_count() - chord.right.bit_count())
        return (-max(sizes), uneven, chord.edges)

    def joined(self, core: int, chord: FullChord) -> SectionPlan:
        """Return the plan that joins a core along a chord."""
        base, other = (self.plan(side) for side in self.base_first(chord))
        members_on = base.members + 1
        largest = max(members_on, base.largest, other.largest)
        return SectionPlan(core, base.sections + other.sections, members_on, largest, base, other)

    def base_first(self, chord: FullChord) -> tuple[int, int]:
        """Return the sides, the one that stays in the hoop first: with the wanted first, else larger, else more central."""
        one, two = chord.left, chord.right
        if self.sides.first is not None and (one | two) >> self.sides.first & 1:
            return (one, two) if one >> self.sides.first & 1 else (two, one)
        a, b = self.area(one), self.area(two)
        if max(a, b) > CLEARLY_LARGER * min(a, b):
            return (one, two) if a > b else (two, one)
        central = [min((round(self.sides.distances[p]), p) for p in members(s)) for s in (one, two)]
        return (one, two) if central[0] < central[1] else (two, one)

    def area(self, pieces: int) -> Mm2:
        """Return the area of a set."""
        return sum(self.sides.areas[p] for p in members(pieces))


def _rank(plan: SectionPlan) -> tuple[int, int, int]:
    return (plan.sections, plan.largest, plan.members)


def _with_peeled(core: SectionPlan, pieces: int) -> SectionPlan:
    """Return the plan of a core with the pieces that peel off it laid last."""
    on_it = core.members + pieces.bit_count() - core.pieces.bit_count()
    return SectionPlan(pieces, core.sections, on_it, max(on_it, core.largest), core.base, core.other)


@dataclass(frozen=True, slots=True)
class Group:
    """One foundation of a plan: single pieces laid on it, and the numbers of the groups joined to it, counted from 1."""

    number: int
    plain: int
    joined: tuple[int, ...]
    pieces: int


def groups_of(plan: SectionPlan) -> tuple[Group, ...]:
    """Return the foundations of a plan in the order in which they are made; the last one is the whole set."""
    done: list[Group] = []
    _make(plan, done)
    return tuple(done)


def _make(plan: SectionPlan, done: list[Group]) -> None:
    joined: list[int] = []
    at: SectionPlan | None = plan
    while at is not None:
        if at.other is not None:
            _make(at.other, done)
            joined.append(len(done))
        at = at.base
    brought = 0
    for number in joined:
        brought |= done[number - 1].pieces
    done.append(Group(len(done) + 1, plan.pieces & ~brought, tuple(sorted(joined)), plan.pieces))
