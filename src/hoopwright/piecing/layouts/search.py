"""Searching a layout: propose, judge, change a little, keep what is better. Steps are counted, never timed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeAlias

import numpy as np

from hoopwright.piecing.layouts.judging import Promises, fault
from hoopwright.piecing.layouts.slicing import MarkedRing, Measures, SliceLine, measure, slices

Numbers: TypeAlias = tuple[float, ...]

SPARE: Final = 0.02
"""The search asks for this much more than is promised."""

PLAIN: Final = 3
"""The calmest look of ways whose seeds choose one; 0 is the liveliest."""

BROKEN: Final = 1000.0
"""Points against each line that is not a chord at all."""

PROMISE: Final = 50.0
"""Points against a promise missed altogether."""

HOPELESS: Final = 0.4
"""A search ends where the best start misses more than this many promises a patch: half of that has never been mended."""

FEW: Final = 8
"""So few patches are always searched for to the end."""

DEAR: Final = 50
"""The work of one careful start, in judgings of the layout it makes."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A way to lay out patches, steered by a row of numbers.

    ``start`` draws a row of numbers, ``lines`` makes slice lines of it, ``scales`` says how far each number is moved
    at a time, ``taste`` gives the points against the finished patches (last one: the first patch sewn). ``careful``
    says that starts are dear and good, so that fewer are made.
    """

    start: Callable[[np.random.Generator], Numbers]
    lines: Callable[[Numbers], Sequence[SliceLine]]
    scales: Callable[[Numbers], Numbers]
    taste: Callable[[Sequence[Measures], Sequence[SliceLine]], float]
    careful: bool = False


@dataclass(frozen=True, slots=True)
class Found:
    """The best layout that was met: its lines in slicing order, its points, whether every promise is kept.

    ``missed`` is by how much they are missed, in promises; ``work`` is what the search took, in patches judged.
    """

    lines: tuple[SliceLine, ...]
    points: float
    kept: bool
    missed: float = 0.0
    work: int = 0


def search(
    rule: Rule, ring: MarkedRing, promises: Promises, seed: Sequence[int], steps: int, *, hurried: bool = False
) -> Found:
    """Return the best layout met in about ``steps`` judgings; ``hurried``, the first that keeps every promise.

    The same arguments give the same layout.
    """
    rng = np.random.Generator(np.random.PCG64(np.random.SeedSequence(list(seed))))
    asked = promises.with_spare(SPARE)
    best: tuple[Found, Numbers] | None = None
    starts = max(4, steps // (120 if rule.careful else 8))
    work = 0
    for _ in range(starts):
        best = _better(best, _judged(rule, ring, asked, rule.start(rng)))
        work += DEAR if rule.careful else 1
    assert best is not None  # at least four starts were made
    if best[0].missed > HOPELESS * (len(best[0].lines) + 1) > HOPELESS * FEW:
        steps = starts
    for step in range(steps - starts):
        if hurried and best[0].kept:
            break
        best = _better(best, _judged(rule, ring, asked, _moved(rule, best[1], rng, 1.0 - 0.8 * step / steps)))
        work += 1
    return replace(best[0], work=work * (len(best[0].lines) + 1))


def keeps(ring: MarkedRing, lines: Sequence[SliceLine], promises: Promises) -> bool:
    """Return whether the patches of these slice lines keep the promises."""
    made = slices(ring, lines)
    patches = [measure(s.off) for s in made]
    patches.append(measure(made[-1].rest if made else ring))
    return len(made) == len(lines) and not any(fault(p, promises) for p in patches)


def _better(old: tuple[Found, Numbers] | None, new: tuple[Found, Numbers]) -> tuple[Found, Numbers]:
    return new if old is None or new[0].points < old[0].points else old


def _moved(rule: Rule, numbers: Numbers, rng: np.random.Generator, size: float) -> Numbers:
    """Move one or two of the numbers a little."""
    scales = rule.scales(numbers)
    moved = list(numbers)
    for _ in range(int(rng.integers(1, 3))):
        i = int(rng.integers(0, len(moved)))
        moved[i] += scales[i] * size * float(rng.standard_normal())
    return tuple(moved)


def _judged(rule: Rule, ring: MarkedRing, promises: Promises, numbers: Numbers) -> tuple[Found, Numbers]:
    lines = tuple(rule.lines(numbers))
    made = slices(ring, lines)
    if len(made) < len(lines):
        short = len(lines) - len(made)
        return Found(lines, BROKEN * short, False, short), numbers
    patches = [measure(s.off) for s in made]
    patches.append(measure(made[-1].rest if made else ring))
    missed = sum(fault(p, promises) for p in patches)
    points = PROMISE * missed + rule.taste(patches, lines)
    return Found(lines, points, missed == 0.0, missed), numbers
