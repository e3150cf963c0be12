"""In which order the strokes of a letter are sewn, so that the thread is not cut and no travel shows.

Words: strokes that end on each other are *neighbours*; sewing follows a tree of them. A *visit* sews one stroke and all
that hang on it: the needle travels along the middle of strokes whose satin is still to come, so that the travel is their
underlay, sews what hangs on it, and lays the satin last, ending where the visit began.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

from hoopwright.needle.lettering.strokes import Stroke

AT_END: Final = 4
"""A stroke entered within so many spokes of its end is entered at the end."""


@dataclass(frozen=True, slots=True)
class Travel:
    """Sew along the middle of a stroke from one spoke to another."""

    stroke: int
    start: int
    stop: int


@dataclass(frozen=True, slots=True)
class Satin:
    """Lay the satin of a stroke from one spoke to another; round and a little further when it is closed."""

    stroke: int
    start: int
    stop: int


Leg: TypeAlias = Travel | Satin
Neighbours: TypeAlias = dict[int, list[tuple[int, int, int]]]
"""For each stroke: (own spoke, the neighbour, its spoke)."""


def tours(strokes: Sequence[Stroke]) -> Iterator[tuple[Leg, ...]]:
    """Return the legs of every connected part of a letter, each ending as far to the lower right as it can."""
    near = _neighbours(strokes)
    left = set(range(len(strokes)))
    while left:
        part = _part(near, min(left))
        left -= part
        root, stop = max(
            ((k, i) for k in sorted(part) for i in _exits(strokes[k])), key=lambda e: _wish(strokes[e[0]], e[1])
        )
        yield tuple(_visit(strokes, near, root, stop, stop, {root}))


def _neighbours(strokes: Sequence[Stroke]) -> Neighbours:
    near: Neighbours = {k: [] for k in range(len(strokes))}
    for k, stroke in enumerate(strokes):
        for meeting in stroke.meets:
            own = 0 if meeting.end == 0 else len(stroke.spokes) - 1
            near[k].append((own, meeting.other, meeting.at))
            near[meeting.other].append((meeting.at, k, own))
    return near


def _part(near: Neighbours, start: int) -> set[int]:
    found, todo = set[int](), [start]
    while todo:
        k = todo.pop()
        if k not in found:
            found.add(k)
            todo.extend(other for _, other, _ in near[k])
    return found


def _exits(stroke: Stroke) -> Iterator[int]:
    last = len(stroke.spokes) - 1
    if stroke.closed:
        yield max(range(len(stroke.spokes)), key=lambda i: _wish(stroke, i))
    else:
        taken = {m.end for m in stroke.meets}
        yield from (i for e, i in ((0, 0), (-1, last)) if e not in taken or len(taken) == 2)


def _wish(stroke: Stroke, at: int) -> float:
    """Return how well a tour would end at a spoke: to the right, and near the baseline."""
    x, y = stroke.spokes[at].mean(axis=0)
    return float(x) - 1.5 * abs(float(y))


def _visit(
    strokes: Sequence[Stroke], near: Neighbours, number: int, entry: int, stop: int, seen: set[int]
) -> Iterator[Leg]:
    """Return the legs that sew a stroke and all that hang on it, from spoke ``entry`` to spoke ``stop``."""
    stroke = strokes[number]
    last = len(stroke.spokes) - 1
    if not stroke.closed:
        entry, stop = (_snapped(i, last) for i in (entry, stop))
    hanging = [(own, other, there) for own, other, there in near[number] if other not in seen]
    hanging = list({other: (own, other, there) for own, other, there in hanging[::-1]}.values())
    seen |= {other for _, other, _ in hanging}

    def walk(start: int, end: int, sites: list[tuple[int, int, int]]) -> Iterator[Leg]:
        at = start
        for own, other, there in sorted(sites, key=lambda s: (abs(s[0] - start), s[1])):
            yield Travel(number, at, own)
            yield from _visit(strokes, near, other, there, there, seen)
            at = own
        yield Travel(number, at, end)

    if stroke.closed:
        turned = [((own - entry) % (last + 1), own, other, there) for own, other, there in hanging]
        at = entry
        for _, own, other, there in sorted(turned):
            yield Travel(number, at, own)
            yield from _visit(strokes, near, other, there, there, seen)
            at = own
        yield Travel(number, at, entry)
        yield Satin(number, entry, entry)
    elif stop in (0, last):
        far = last - stop
        behind = [s for s in hanging if (s[0] - entry) * (stop - entry) > 0]
        before = [s for s in hanging if s not in behind]
        if behind:
            turn = max((s[0] for s in behind), key=lambda i: abs(i - entry))
            yield from walk(entry, turn, behind)
            entry = turn
        yield from walk(entry, far, before)
        yield Satin(number, far, stop)
    else:
        for far in (0, last):
            yield from walk(stop, far, [s for s in hanging if (s[0] <= stop) == (far == 0)])
            yield Satin(number, far, stop)


def _snapped(at: int, last: int) -> int:
    if at <= AT_END:
        return 0
    return last if at >= last - AT_END else at
