"""In which order the blocks between two halts are sewn, and from which end: few changes of colour, then little travel.

Only blocks that decorate may change places: grounds, seam stitches, letters, placed stitches; whatever builds the
work keeps its place, and nothing passes a halt. Grounds come before seam stitches, these before letters, letters before placed stitches, which keep their own order;
a block comes after the seams that it names (``Stitch.after``: those that end on its own) and after an earlier block of its kind
that it may touch, unless both are seam stitches of different seams.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hoopwright.core.types import Mm, Points
from hoopwright.needle.best_order import best_order, is_few
from hoopwright.needle.block_search import improved
from hoopwright.needle.shapes import Run, Step
from hoopwright.operations.vocabulary import DrawnStyle, LetteringStyle, Role, Stitch

RANK: Final = {Role.GROUND: 0, Role.ORNAMENT: 1, Role.LETTERING: 2, Role.PLACED: 3}
"""Roles of blocks that may change places, and which come first."""

COLOUR_CHANGE: Final[Mm] = 1e5
"""A change of colour outweighs any travel."""


def reordered(steps: Sequence[Step]) -> tuple[Step, ...]:
    """Return the steps of a hooping with the blocks between two halts in a better order, numbered anew.

    What the hands do stays before the same place: the halt comes before whichever block is first now. No colour is changed more
    often than before, and with as many changes travel is not longer.
    """
    done: list[Step] = []
    for group in _groups(steps):
        after = steps[len(done) + len(group)] if len(done) + len(group) < len(steps) else None
        done += _sorted(group, done[-1] if done else None, after) if len(group) > 1 else group
    return tuple(replace(step, index=k) for k, step in enumerate(done, 1))


def travel_of(steps: Sequence[Step]) -> Mm:
    """Return the length of all moves without sewing, within blocks and between them, mm."""
    runs = [run for step in steps for run in step.runs if run.count]
    return float(sum(math.dist(a.points[-1], b.points[0]) for a, b in pairwise(runs)))


def colour_changes(steps: Sequence[Step]) -> int:
    """Return how often the thread changes from one block to the next."""
    return sum(a.stitch.thread != b.stitch.thread for a, b in pairwise(steps))


def _groups(steps: Sequence[Step]) -> list[list[Step]]:
    """Part the steps where something must stay in place: at halts and around blocks that build the work."""
    groups: list[list[Step]] = []
    for step in steps:
        if groups and _movable(step) and not step.halt and _movable(groups[-1][-1]):
            groups[-1].append(step)
        else:
            groups.append([step])
    return groups


def _movable(step: Step) -> bool:
    return step.stitch.role in RANK and bool(step.runs)


def _sorted(group: list[Step], before: Step | None, after: Step | None) -> list[Step]:
    ends = np.array([(step.runs[0].points[0], step.runs[-1].points[-1]) for step in group])
    entries = ends.reshape(-1, 2)
    exits = ends[:, ::-1].reshape(-1, 2)
    threads = [step.stitch.thread for step in group for _ in (0, 1)]
    turnable = [not isinstance(step.stitch.style, DrawnStyle | LetteringStyle) for step in group]
    barred = np.where(np.repeat(turnable, 2) | (np.arange(len(threads)) % 2 == 0), 0.0, np.inf)
    link = _gaps(exits, entries) + _changes(threads, threads) + barred[None, :]
    first = _beside(before, entries, threads, at_end=True) + barred
    last = _beside(after, exits, threads, at_end=False)
    needs = _needs(group)
    if is_few(len(group), needs):
        choices = best_order(first, link, last, needs)
    else:
        choices = improved(first.tolist(), link.tolist(), last.tolist(), needs)
    hands = group[0].hands
    turned = [_turned(group[c >> 1]) if c & 1 else group[c >> 1] for c in choices]
    return [replace(step, hands=hands if k == 0 else ()) for k, step in enumerate(turned)]


def _gaps(one: NDArray[np.float64], other: NDArray[np.float64]) -> NDArray[np.float64]:
    steps = one[:, None] - other[None]
    return np.asarray(np.hypot(steps[..., 0], steps[..., 1]), dtype=np.float64)


def _changes(one: Sequence[str], other: Sequence[str]) -> NDArray[np.float64]:
    return np.array([[0.0 if a == b else COLOUR_CHANGE for b in other] for a in one])


def _beside(
    step: Step | None, places: NDArray[np.float64], threads: Sequence[str], *, at_end: bool
) -> NDArray[np.float64]:
    """Return what it costs to come from the step before, or to go on to the step after, with each choice."""
    if step is None or not step.runs:
        return np.zeros(len(places))
    spot: Points = step.runs[-1].points[-1:] if at_end else step.runs[0].points[:1]
    costs: NDArray[np.float64] = (_gaps(spot, places) + _changes([step.stitch.thread], threads))[0]
    return costs


def _needs(group: Sequence[Step]) -> list[int]:
    """Return for each block the blocks that must come before it, as the sum of their powers of two.

    All follow from the order given, so that they never contradict each other.
    """
    boxes = np.array([_box(step) for step in group])
    low, high = boxes[:, 0], boxes[:, 1]
    meet = np.all((low[:, None] <= high[None]) & (low[None] <= high[:, None]), axis=2)
    needs = [0] * len(group)
    for k, step in enumerate(group):
        for j in range(k):
            if _must_precede(group[j].stitch, step.stitch, touching=bool(meet[j, k])):
                needs[k] |= 1 << j
    return needs


def _must_precede(one: Stitch, other: Stitch, *, touching: bool) -> bool:
    if one.role is not other.role or one.role is Role.PLACED:
        return True  # what the maker brings is sewn in the order it came
    if one.role is not Role.ORNAMENT:
        return touching
    return one.seam in other.after or other.seam in one.after or one.seam == other.seam


def _box(step: Step) -> tuple[Points, Points]:
    """Return the lowest and the highest x and y of a block."""
    points = np.concatenate([run.points for run in step.runs])
    return points.min(axis=0), points.max(axis=0)


def _turned(step: Step) -> Step:
    """Return a block sewn from its other end."""
    return replace(step, runs=tuple(Run(run.points[::-1]) for run in reversed(step.runs)))
