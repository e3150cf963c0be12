"""In which order, from which end, and from which place of a ring rows of stitches are sewn, so that the way between them is short.

Words: a *row* is sewn without a break; a *ring* is a row that ends where it begins, and may begin anywhere; a *leg* is a row as
it is sewn in a tour.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Point, Points
from hoopwright.needle.best_order import best_order, is_few
from hoopwright.needle.tour_search import NO_MATE, short_tour

KICKS: Final = 20
"""Kicks for each row."""
RING_ROUNDS: Final = 3
"""How often the places where rings begin, and then the order, are chosen anew."""
AT_ONCE: Final = 600
"""Rows that are ordered together; of more, those of one stretch of the plane come after those of another."""


@dataclass(frozen=True, slots=True)
class Leg:
    """A row by its number; sewn from its end when ``back``; a ring is begun at its place ``first``."""

    row: int
    back: bool = False
    first: int = 0


def in_short_order(rows: Sequence[Points], start: Point | None = None) -> list[Points]:
    """Return the rows in the order, the direction and, for rings, from the place that makes the way between them short.

    ``start`` is where the needle is before the first row (None: anywhere). Each row has shape (n, 2), mm.
    """
    return [sewn(rows[leg.row], leg) for leg in short_order(rows, start)]


def sewn(row: Points, leg: Leg) -> Points:
    """Return a row as its leg says."""
    turned = np.concatenate([row[leg.first : -1], row[: leg.first + 1]]) if leg.first else row
    return turned[::-1] if leg.back else turned


def travel(rows: Sequence[Points], start: Point | None = None) -> Mm:
    """Return the length of the way between rows sewn one after the other, in mm."""
    at = None if start is None else np.array(start)
    length = 0.0
    for row in rows:
        length += 0.0 if at is None else math.dist(at, row[0])
        at = row[-1]
    return length


def short_order(rows: Sequence[Points], start: Point | None = None) -> tuple[Leg, ...]:
    """Return the legs of a short tour; no longer than the order given, nor than going to the nearest row each time."""
    if not rows or (len(rows) == 1 and start is None):
        return tuple(Leg(i) for i in range(len(rows)))
    tries = [tuple(Leg(i) for i in range(len(rows))), _nearest_first(rows, start)]
    tries.append(_in_stretches(rows, start) if len(rows) > AT_ONCE else _toured(rows, start))
    lengths = [travel([sewn(rows[leg.row], leg) for leg in legs], start) for legs in tries]
    best = min(range(len(tries)), key=lambda k: (lengths[k] > min(lengths) + SAME_PLACE, k))
    return tries[best]


def is_ring(row: Points) -> bool:
    """Whether a row ends where it begins."""
    return len(row) > 3 and math.dist(row[0], row[-1]) <= SAME_PLACE


def _nearest_first(rows: Sequence[Points], start: Point | None) -> tuple[Leg, ...]:
    """Return legs that each go on to what is nearest; without a start the first row stays first."""
    legs = [] if start is not None else [Leg(0)]
    at = np.array(start) if start is not None else rows[0][-1]
    left = list(range(len(legs), len(rows)))
    ends = np.array([(row[0], row[-1]) for row in rows])
    while left:
        gaps = np.hypot(*(ends[left] - at).transpose(2, 0, 1))
        k, side = divmod(int(np.argmin(gaps)), 2)
        legs.append(Leg(left[k], back=bool(side)))
        at = ends[left.pop(k), 1 - side]
    return tuple(legs)


def _toured(rows: Sequence[Points], start: Point | None) -> tuple[Leg, ...]:
    firsts = [_facing(row, rows) if is_ring(row) else 0 for row in rows]
    best: tuple[Leg, ...] = ()
    least = math.inf
    for _ in range(RING_ROUNDS if any(map(is_ring, rows)) else 1):
        legs = _with_best_firsts(rows, _searched(rows, firsts, start), start)
        length = travel([sewn(rows[leg.row], leg) for leg in legs], start)
        if length >= least - SAME_PLACE:
            break
        best, least = legs, length
        for leg in legs:
            firsts[leg.row] = leg.first
    return best


def _facing(ring: Points, rows: Sequence[Points]) -> int:
    """Return the place of a ring that is nearest to the middle of everything."""
    middle = np.mean([row[0] for row in rows], axis=0)
    return int(np.argmin(np.hypot(*(ring[:-1] - middle).T)))


def _searched(rows: Sequence[Points], firsts: Sequence[int], start: Point | None) -> tuple[Leg, ...]:
    """Return the legs of a short tour with the rings begun at ``firsts``, the shortest where rows are few."""
    if is_few(len(rows)):
        return _shortest(rows, firsts, start)
    stops, owner, mates = _stops(rows, firsts)
    costs = np.hypot(*(stops[:, None] - stops[None]).transpose(2, 0, 1))
    here = np.zeros(len(stops)) if start is None else np.hypot(*(stops - np.array(start)).T)
    gates = 1 if start is None else 2
    costs = np.pad(costs, (0, gates))
    gate = len(stops)
    if start is not None:
        costs[gate + 1, :gate] = costs[:gate, gate + 1] = here
        mates = [*mates, gate + 1, gate]
    else:
        mates = [*mates, NO_MATE]
    tour = short_tour(costs, mates, KICKS * len(rows))
    return _legs(_opened(tour, gate, gates), owner, firsts)


def _shortest(rows: Sequence[Points], firsts: Sequence[int], start: Point | None) -> tuple[Leg, ...]:
    legs = [Leg(k, back, first) for k, first in enumerate(firsts) for back in (False, True)]
    ends = np.array([(way[0], way[-1]) for way in (sewn(rows[leg.row], leg) for leg in legs)])
    link = np.hypot(*(ends[:, None, 1] - ends[None, :, 0]).transpose(2, 0, 1))
    none = np.zeros(len(legs))
    first = none if start is None else np.hypot(*(ends[:, 0] - np.array(start)).T)
    return tuple(legs[choice] for choice in best_order(first, link, none))


def _stops(
    rows: Sequence[Points], firsts: Sequence[int]
) -> tuple[NDArray[np.float64], list[tuple[int, bool]], list[int]]:
    """Return the stops (both ends of a row, one place of a ring), whose they are and whether its end, and their mates."""
    stops: list[Points] = []
    owner: list[tuple[int, bool]] = []
    mates: list[int] = []
    for i, row in enumerate(rows):
        if is_ring(row) or len(row) == 1:
            stops.append(row[firsts[i]])
            owner.append((i, False))
            mates.append(NO_MATE)
        else:
            stops += [row[0], row[-1]]
            owner += [(i, False), (i, True)]
            mates += [len(mates) + 1, len(mates)]
    return np.array(stops), owner, mates


def _opened(tour: list[int], gate: int, gates: int) -> list[int]:
    """Return a closed tour opened at its gate; with two gates it begins at the second one's side."""
    k = tour.index(gate)
    turned = tour[k:] + tour[:k]
    if gates == 2 and turned[1] != gate + 1:
        turned = [turned[0], *turned[:0:-1]]
    return turned[gates:]


def _legs(stops: list[int], owner: list[tuple[int, bool]], firsts: Sequence[int]) -> tuple[Leg, ...]:
    legs: list[Leg] = []
    for stop in stops:
        row, end = owner[stop]
        if not legs or legs[-1].row != row:
            legs.append(Leg(row, back=end, first=firsts[row]))
    return tuple(legs)


def _with_best_firsts(rows: Sequence[Points], legs: tuple[Leg, ...], start: Point | None) -> tuple[Leg, ...]:
    """Return the legs with each ring begun where it lies best between its neighbours."""
    done = list(legs)
    for k, leg in enumerate(legs):
        ring = rows[leg.row]
        if not is_ring(ring):
            continue
        before = (
            np.array(start)
            if k == 0 and start is not None
            else None
            if k == 0
            else sewn(rows[done[k - 1].row], done[k - 1])[-1]
        )
        after = None if k + 1 == len(done) else sewn(rows[done[k + 1].row], done[k + 1])[0]
        way = sum((np.hypot(*(ring[:-1] - p).T) for p in (before, after) if p is not None), np.zeros(len(ring) - 1))
        done[k] = Leg(leg.row, leg.back, int(np.argmin(way)))
    return tuple(done)


def _in_stretches(rows: Sequence[Points], start: Point | None) -> tuple[Leg, ...]:
    """Return the legs of many rows: the plane is cut into stretches across its longer side, toured one after the other."""
    middles = np.array([(row[0] + row[-1]) / 2.0 for row in rows])
    long = int(np.argmax(np.ptp(middles, axis=0)))
    order = np.argsort(middles[:, long], kind="stable").tolist()
    legs: list[Leg] = []
    for chunk in (order[k : k + AT_ONCE] for k in range(0, len(order), AT_ONCE)):
        found = _toured([rows[i] for i in chunk], start)
        legs += [Leg(chunk[leg.row], leg.back, leg.first) for leg in found]
        last = sewn(rows[legs[-1].row], legs[-1])[-1]
        start = float(last[0]), float(last[1])
    return tuple(legs)
