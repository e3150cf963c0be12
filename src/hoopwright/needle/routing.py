"""Walks over a network of lines, with as little sewn twice as possible (route inspection).

Words: a *walk* covers every line of a connected network at least once; an *odd* place is one where an odd number of
lines meet: a walk can be drawn without lifting only when at most two places are odd, so odd places are paired and the
way between each pair is sewn twice. Instead, thread may be cut: two odd places that stay unpaired make one walk more.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra
from shapely.geometry import LineString

from hoopwright.core.types import Mm, Point
from hoopwright.needle.network import Network, Row, network_of, parts_of
from hoopwright.needle.pairing import FREE, MOST_EXACT, Pairs, pairing
from hoopwright.needle.transitions import Meeting, Transitions
from hoopwright.needle.twigs import Twigs, twigs_of

TRIM_WORTH: Final[Mm] = 150.0
"""A cut of the thread takes about as long as sewing this much of a line again: 0.1 minutes at 600 stitches of 2.5 mm a
minute (common practice, no source)."""

FEW_ODD: Final = 40
"""Between so few odd places all ways are looked for at once."""

FIRST_REACH: Final = 2.5
"""Ways are first looked for up to this many times the longest way from an odd place to its nearest."""


@dataclass(frozen=True, slots=True)
class WalkWish:
    """How a network is to be walked.

    ``start`` is where the first walk should begin (the nearest place of the network); ``closed``: each walk comes back to
    its start. ``trim_worth`` is the length in mm that may be sewn twice to save one cut of the thread; infinite: each
    connected part is one walk. ``meeting``: see Meeting.
    """

    start: Point | None = None
    closed: bool = False
    trim_worth: Mm = math.inf
    meeting: Meeting = "apart"


ONE_WALK: Final = WalkWish()


def one_walk(lines: Sequence[LineString], meeting: Meeting = "apart") -> tuple[LineString, ...]:
    """Return one line for each connected part of the network of ``lines``, covering all of it.

    The length sewn twice is the least possible, or near it where the network is very large or has countless routes of one
    length (decision 0064). Lines are noded where they touch. Where the lines meet, the walk does not
    cross itself, unless ``meeting`` is "straight".
    """
    return walks(lines, WalkWish(meeting=meeting))


def walks(lines: Sequence[LineString], wish: WalkWish = ONE_WALK) -> tuple[LineString, ...]:
    """Return lines that together cover the network of ``lines``, each sewn without a break.

    The length sewn twice, with ``trim_worth`` for each walk beyond one in a connected part, is the least possible (but see one_walk).
    A wished start is where the walk of the part nearest to it begins, which may lengthen what is sewn twice.
    """
    network = network_of(lines, () if wish.start is None else (wish.start,))
    parts = parts_of(network)
    begins = _begins(parts, wish.start)
    done = [line for part, start in zip(parts, begins, strict=True) for line in _walks(part, start, wish)]
    return tuple(done)


def _begins(parts: Sequence[Network], start: Point | None) -> list[int | None]:
    """Return for each part the place where its walk must begin: in the part nearest to the wished start only."""
    if start is None:
        return [None] * len(parts)
    near = [min((math.dist(p, start), i) for i, p in enumerate(part.places)) for part in parts]
    best = min(range(len(parts)), key=lambda k: near[k][0])
    return [near[k][1] if k == best else None for k in range(len(parts))]


def _walks(part: Network, start: int | None, wish: WalkWish) -> list[LineString]:
    part = _doubled(part, start, wish)
    trails = Transitions(part, wish.meeting).trails()
    if start is not None:
        trails = [_from(part, t, start) for t in trails]
        trails.sort(key=lambda t: part.at(t[0]) != start)
    return [_line(part, trail) for trail in trails]


def _from(part: Network, trail: list[int], start: int) -> list[int]:
    """Return a trail begun at ``start``: a circuit turned round to it, an open trail from whichever end lies there."""
    if part.at(trail[0]) == part.at(trail[-1] ^ 1):
        k = next((k for k, end in enumerate(trail) if part.at(end) == start), 0)
        return trail[k:] + trail[:k]
    return [end ^ 1 for end in reversed(trail)] if part.at(trail[-1] ^ 1) == start else trail


def _line(part: Network, trail: list[int]) -> LineString:
    coords: Row = []
    for end in trail:
        row = part.rows[end >> 1]
        row = row[::-1] if end & 1 else row
        coords.extend(row[1:] if coords else row)
    return LineString(coords)


def _doubled(part: Network, start: int | None, wish: WalkWish) -> Network:
    """Return the network with the stretches that are sewn twice there twice."""
    odd = [place for place, degree in enumerate(part.degrees) if degree % 2]
    free = 0 if wish.closed else FREE
    if start is not None and not wish.closed:
        odd = sorted(set(odd) ^ {start})
        free = 1
    if len(odd) <= free:
        return part
    twice = _retraced(part, odd, free, wish.trim_worth if free else math.inf)
    return Network(
        part.places,
        (*part.joins, *(part.joins[k] for k in twice)),
        (*part.lengths, *(part.lengths[k] for k in twice)),
        (*part.rows, *(part.rows[k] for k in twice)),
    )


def _retraced(part: Network, odd: list[int], free: int, price: Mm) -> list[int]:
    """Return the stretches that are sewn twice, each once.

    Where no pairing is proved the shortest, twigs are doubled first, and the shorter of both answers is taken.
    """
    if not math.isinf(price):
        return sorted(_between_pairs(part, odd, free, price)[0])
    twigs = twigs_of(part, odd)
    if not twigs.up:
        return sorted(_between_pairs(part, odd, free, price)[0])
    if free == 0:
        return sorted(_twigs_first(twigs, free))
    if len(odd) > MOST_EXACT:
        return sorted(_twigs_first(twigs, free))
    twice, proved = _between_pairs(part, odd, free, price)
    answers = [twice] if proved else [twice, _twigs_first(twigs, free)]
    return sorted(min(answers, key=lambda answer: math.fsum(part.lengths[k] for k in answer)))


def _twigs_first(twigs: Twigs, free: int) -> set[int]:
    """Return the stretches sewn twice when twigs are doubled and the rest is paired, each end of the walk out on a twig."""
    odd = list(twigs.odd)
    twice = set(twigs.twice)
    if not odd:
        return twice ^ twigs.between() if free == FREE else twice
    if len(odd) > free:
        pairs, before, _ = _paired(twigs.part, odd, free, math.inf)
        twice ^= _ways(twigs.part, odd, pairs, before)
        odd = [place for k, place in enumerate(odd) if not any(k in pair for pair in pairs)]
    for root in odd:
        twice ^= twigs.to_end(root)
    return twice


def _between_pairs(part: Network, odd: list[int], free: int, price: Mm) -> tuple[set[int], bool]:
    """Return the stretches on the ways between paired odd places, and whether they are proved the shortest."""
    pairs, before, proved = _paired(part, odd, free, price)
    return _ways(part, odd, pairs, before), proved


def _ways(part: Network, odd: list[int], pairs: Pairs, before: NDArray[np.int32]) -> set[int]:
    shortest = part.shortest()
    twice: set[int] = set()
    for a, b in pairs:
        at = odd[b]
        while at != odd[a]:
            back = int(before[a, at])
            twice ^= {shortest[min(at, back), max(at, back)]}
            at = back
    return twice


def _paired(part: Network, odd: list[int], free: int, price: Mm) -> tuple[Pairs, NDArray[np.int32], bool]:
    """Return the best pairs of odd places, as numbers in ``odd``, the table of the place before each on the way, and
    whether the pairs are proved the best.
    """
    table = part.lengths_table()
    reach = math.inf if len(odd) <= FEW_ODD else FIRST_REACH * _farthest_nearest(part, table, odd)
    whole = sum(part.lengths)
    while True:
        ways, before = dijkstra(table, directed=False, indices=odd, return_predecessors=True, limit=reach)
        found = pairing(ways[:, odd], free, price)
        if found is not None and (found.reach <= reach or reach > whole):
            return found.pairs, before, found.proved
        reach = 2.0 * reach if found is None else max(found.reach, 1.5 * reach)


def _farthest_nearest(part: Network, table: csr_array, odd: list[int]) -> Mm:
    """Return the longest of the ways from each odd place to its nearest fellow, or a bound above it.

    Each stretch between the regions of two odd places closes a way between them; the nearest fellow is among these.
    """
    far, _, home = dijkstra(table, directed=False, indices=odd, return_predecessors=True, min_only=True)
    nearest = dict.fromkeys(odd, math.inf)
    for (a, b), length in zip(part.joins, part.lengths, strict=True):
        one, other = int(home[a]), int(home[b])
        if one != other:
            way = float(far[a] + length + far[b])
            nearest[one], nearest[other] = min(nearest[one], way), min(nearest[other], way)
    return max(nearest.values())
