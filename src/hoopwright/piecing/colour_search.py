"""Giving cloths to patches so that neighbours differ as much as they can.

Words: a *choice* gives each patch (by index) a cloth (by index); a *fence* is a least difference that all neighbours
must keep. For a fence the search is exact: it always takes the patch with the fewest cloths left, tries the cloths used
least so far first, and goes back when a patch has none. It counts its work; at the bound it gives up that fence.
The highest fence that can be kept is found by halving the sorted differences, since a choice that keeps a fence keeps every
lower one. Inside that fence the cloths are then used evenly: a *cap* is how often each cloth may be used, and the lowest
cap that can be kept is looked for in the same way.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

WORK: Final = 400_000
"""Work of one search before it gives up a fence; a step costs as much as there are patches."""


EVENING: Final = 4
"""A search under a cap may do this part of the work of a search without one; evenness matters less than difference."""

MOST_CAPS: Final = 3
"""So many caps are tried, from the lowest on, before the use of cloths is left as it came."""


@dataclass(frozen=True, slots=True)
class Task:
    """What to choose for: neighbours of each patch, difference of each pair of cloths, the choices already made (None: free)."""

    neighbours: tuple[tuple[int, ...], ...]
    differences: tuple[tuple[float, ...], ...]
    given: tuple[int | None, ...]

    @property
    def cloths(self) -> int:
        """Number of cloths."""
        return len(self.differences)

    def pairs(self) -> tuple[tuple[int, int], ...]:
        """Return neighbouring patches as pairs, the lower index first."""
        return tuple((i, j) for i, near in enumerate(self.neighbours) for j in near if i < j)


@dataclass(slots=True)
class _State:
    """A search under way: choice so far, number of patches that use each cloth, cloths left to each patch as bits."""

    choice: list[int | None]
    used: list[int]
    left: list[int]


def best_choice(task: Task, enough: float) -> tuple[tuple[int, ...], bool]:
    """Return a choice that keeps the highest fence, and whether the search was complete.

    Differences of ``enough`` and more count as equally good, so that the cloths can be used evenly. When not even
    different cloths can be given to all neighbours, as few neighbours as a greedy choice can manage share one.
    """
    values = {min(d, enough) for i, row in enumerate(task.differences) for d in row[:i]}
    fences = sorted(v for v in values if v > 0.0)
    best, complete = None, True
    low, high = 0, len(fences)
    while low < high:
        middle = (low + high) // 2
        found, finished = _within(task, fences[middle])
        complete = complete and finished
        if found is None:
            high = middle
        else:
            best, low = (found, fences[middle]), middle + 1
    if best is None:
        return _greedy(task), complete
    return _evened(task, *_capped(task, *best)), complete


def _capped(task: Task, choice: tuple[int, ...], fence: float) -> tuple[tuple[int, ...], float]:
    """Return a choice inside the fence whose most used cloth is used as little as can be, as far as it is found."""
    least = -(-len(choice) // task.cloths)
    given = [task.given.count(c) for c in range(task.cloths)]
    for cap in range(least, min(least + MOST_CAPS, max(choice.count(c) for c in choice))):
        found, _ = _within(task, fence, tuple(max(cap, g) for g in given), WORK // EVENING)
        if found is not None:
            return found, fence
    return choice, fence


def _start(task: Task) -> _State:
    used = [0] * task.cloths
    for cloth in task.given:
        if cloth is not None:
            used[cloth] += 1
    return _State(list(task.given), used, [])


def _within(
    task: Task, fence: float, caps: tuple[int, ...] | None = None, work: int | None = None
) -> tuple[tuple[int, ...] | None, bool]:
    """Return a choice that keeps ``fence`` or None, and whether the search ended by itself.

    ``caps`` says how often each cloth may be used at most; missing, as often as there are patches.
    """
    state = _start(task)
    beside = tuple(sum(1 << o for o, d in enumerate(row) if d >= fence) for row in task.differences)
    state.left = [_left(task, beside, state, i) for i in range(len(task.given))]
    caps = caps or (len(task.given),) * task.cloths
    steps = max(1, (WORK if work is None else work) // max(1, len(task.given)))
    stack: list[tuple[int, list[int]]] = []
    while (following := _tightest(task, state, caps)) is not None:
        stack.append(following)
        steps -= 1
        if not _advance(task, beside, state, stack):
            return None, True
        if steps == 0:
            return None, False
    return tuple(c for c in state.choice if c is not None), True


def _left(task: Task, beside: tuple[int, ...], state: _State, patch: int) -> int:
    """Return the cloths a patch may have beside its neighbours' cloths, as bits."""
    bits = (1 << task.cloths) - 1
    for near in task.neighbours[patch]:
        cloth = state.choice[near]
        if cloth is not None:
            bits &= beside[cloth]
    return bits


def _tightest(task: Task, state: _State, caps: tuple[int, ...]) -> tuple[int, list[int]] | None:
    """Return the free patch with the fewest cloths left (then most neighbours, then lowest index) and those cloths."""
    free = [i for i, c in enumerate(state.choice) if c is None]
    if not free:
        return None
    patch = min(free, key=lambda i: (state.left[i].bit_count(), -len(task.neighbours[i]), i))
    options = [c for c in range(task.cloths) if state.left[patch] >> c & 1 and state.used[c] < caps[c]]
    return patch, sorted(options, key=lambda c: (state.used[c], c))


def _advance(task: Task, beside: tuple[int, ...], state: _State, stack: list[tuple[int, list[int]]]) -> bool:
    """Give the last patch on the stack its next cloth, going back over patches that have none left; False at the end."""
    while stack:
        patch, options = stack[-1]
        old = state.choice[patch]
        if old is not None:
            state.used[old] -= 1
            state.choice[patch] = None
            for near in task.neighbours[patch]:
                state.left[near] = _left(task, beside, state, near)
        if options:
            cloth = options.pop(0)
            state.choice[patch] = cloth
            state.used[cloth] += 1
            for near in task.neighbours[patch]:
                state.left[near] &= beside[cloth]
            return True
        stack.pop()
    return False


def _greedy(task: Task) -> tuple[int, ...]:
    """Return a choice patch by patch: fewest neighbours in the same cloth, then largest difference, then least used."""
    state = _start(task)
    order = sorted(range(len(task.given)), key=lambda i: (-len(task.neighbours[i]), i))
    for patch in order:
        if state.choice[patch] is None:
            cloth = min(range(task.cloths), key=lambda c, p=patch: _regret(task, state, p, c))  # type: ignore[misc]
            state.choice[patch] = cloth
            state.used[cloth] += 1
    return tuple(c for c in state.choice if c is not None)


def _regret(task: Task, state: _State, patch: int, cloth: int) -> tuple[int, float, int, int]:
    near = [c for n in task.neighbours[patch] if (c := state.choice[n]) is not None]
    least = min((task.differences[cloth][o] for o in near), default=0.0)
    return near.count(cloth), -least, state.used[cloth], cloth


def _allowed(task: Task, fence: float, choice: Sequence[int], patch: int) -> list[int]:
    """Return the cloths a patch may have beside its neighbours' cloths."""
    near = {choice[n] for n in task.neighbours[patch]}
    return [c for c in range(task.cloths) if all(task.differences[c][o] >= fence for o in near)]


def _evened(task: Task, choice: tuple[int, ...], fence: float) -> tuple[int, ...]:
    """Return the choice with free patches moved from cloths used much to cloths used little, inside the fence."""
    now: list[int] = list(choice)
    used = [now.count(c) for c in range(task.cloths)]
    free = [i for i, g in enumerate(task.given) if g is None]
    moved = True
    while moved:
        moved = False
        for patch in free:
            options = _allowed(task, fence, now, patch)
            best = min(options, key=lambda c: (used[c], c), default=now[patch])
            if used[best] + 1 < used[now[patch]]:
                used[now[patch]] -= 1
                used[best] += 1
                now[patch] = best
                moved = True
    return tuple(now)
