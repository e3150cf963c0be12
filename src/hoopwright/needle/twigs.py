"""Twigs of a network, sewn there and back before anything else is paired.

Words: a *twig* is a part of a network that hangs on the rest by one place, its *root*: a stretch with a free end, or a tree of
such; the *core* is what remains without twigs; a *gain* is the length saved when a walk begins or ends out on a twig.

Why this is no loss: only one stretch leaves a free end, so whatever the free end is paired with, the way there leads through
its root. Hence which stretches of a twig are sewn twice does not depend on the core, but for the two ends of the walk.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.sparse.csgraph import dijkstra

from hoopwright.core.types import Mm
from hoopwright.needle.network import Network

Ends = tuple[int, int]


@dataclass(frozen=True, slots=True, eq=False)
class Twigs:
    """The twigs of a network whose odd places are known.

    ``twice`` are their stretches that a closed walk sews twice, ``odd`` the places of the core that are then odd, ``up`` the
    stretch towards the root from each place on a twig. ``gains`` has for each root the best gain and the place it is had at;
    ``both`` is the best gain of two ends that lie on one twig, or on twigs of one root, and these ends.
    """

    part: Network
    twice: frozenset[int]
    odd: tuple[int, ...]
    up: dict[int, int]
    gains: dict[int, tuple[Mm, int]]
    both: tuple[Mm, Ends]

    def to_end(self, root: int) -> set[int]:
        """Return the stretches between a root and the end on its twigs that gains most."""
        at, way = self.gains.get(root, (0.0, root))[1], set()
        while at != root:
            way.add(self.up[at])
            at = _other(self.part, self.up[at], at)
        return way

    def between(self) -> set[int]:
        """Return the stretches between the two ends that gain most, where all else is even; none where none gain."""
        gain, ends = self.both
        way = self._up_from(ends[0]) ^ self._up_from(ends[1])
        roots = sorted(root for root, (least, _) in self.gains.items() if least > 0.0)
        if len(roots) < 2:
            return way
        worth = np.array([self.gains[root][0] for root in roots])
        far, before = dijkstra(
            self.part.lengths_table(),
            directed=False,
            indices=roots,
            return_predecessors=True,
            limit=2.0 * float(worth.max()),
        )
        gained = worth[:, None] + worth[None, :] - far[:, roots]
        np.fill_diagonal(gained, -math.inf)
        a, b = divmod(int(gained.argmax()), len(roots))
        if gained[a, b] <= gain:
            return way
        way = self.to_end(roots[a]) | self.to_end(roots[b])
        shortest, at = self.part.shortest(), roots[b]
        while at != roots[a]:
            back = int(before[a, at])
            way.add(shortest[min(at, back), max(at, back)])
            at = back
        return way

    def _up_from(self, at: int) -> set[int]:
        way = set()
        while at in self.up:
            way.add(self.up[at])
            at = _other(self.part, self.up[at], at)
        return way


def twigs_of(part: Network, odd: Sequence[int]) -> Twigs:
    """Return the twigs of a connected network, cut off one stretch after the other from the free ends inwards."""
    meeting: list[set[int]] = [set() for _ in part.places]
    for k, (a, b) in enumerate(part.joins):
        meeting[a].add(k)
        meeting[b].add(k)
    loops = {a for a, b in part.joins if a == b}
    free = [p for p, ways in enumerate(meeting) if len(ways) == 1 and p not in loops]
    left, twice, up = set(odd), set(), {}
    gains: dict[int, tuple[Mm, int]] = {}
    both: tuple[Mm, Ends] = (0.0, (0, 0))
    while free:
        at = free.pop()
        if len(meeting[at]) != 1:
            continue
        (way,) = meeting[at]
        root = _other(part, way, at)
        gain, end = gains.pop(at, (0.0, at))
        if at in left:
            left ^= {at, root}
            twice.add(way)
            gain += part.lengths[way]
        else:
            gain -= part.lengths[way]
        up[at] = way
        meeting[at].clear()
        meeting[root].discard(way)
        best = gains.get(root, (0.0, root))
        both = max(both, (gain + best[0], (end, best[1])), key=lambda pair: pair[0])
        gains[root] = max(best, (gain, end), key=lambda pair: pair[0])
        if len(meeting[root]) == 1 and root not in loops:
            free.append(root)
    return Twigs(part, frozenset(twice), tuple(sorted(left)), up, gains, both)


def _other(part: Network, way: int, at: int) -> int:
    a, b = part.joins[way]
    return b if at == a else a
