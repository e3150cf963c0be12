"""How well an order meets each wish, told with the panel's own patches and seams."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from hoopwright.core.words import listed
from hoopwright.piecing.order_search import Step
from hoopwright.piecing.order_strips import strip_of
from hoopwright.piecing.order_words import Foundation, capital, several
from hoopwright.piecing.seam_net import Chord, members
from hoopwright.piecing.shapes import WishResult
from hoopwright.piecing.wishes import WISHES, Pricing

SHOWN = 3
"""So many examples are named, or one more; the rest is counted."""


@dataclass(frozen=True, slots=True, eq=False)
class Sewn:
    """One foundation with its prices and its steps in sewing order."""

    base: Foundation
    pricing: Pricing
    steps: tuple[Step, ...]

    def amounts(self) -> list[tuple[float, ...]]:
        """Return for each step what it does against each of WISHES."""
        found, strips = [], 0
        after: Chord | None = None
        for step in reversed(self.steps):
            turns = step.chord is not None and after is not None and self.pricing.turns(step.chord.row, after.row)
            found.append(self.pricing.amounts(step.piece, step.chord, step.pieces, strips, turns))
            after = step.chord
            strips |= 1 << strip_of(after) if after is not None else 0
        return found[::-1]

    def cost(self) -> int:
        """Return the weighted cost of the order."""
        return sum(self.pricing.price(amounts) for amounts in self.amounts())

    def seam(self, row: int) -> int:
        """Return the seam number of a row."""
        return self.base.seam_numbers[row]

    def plain(self) -> list[int]:
        """Return the pieces that are single patches."""
        return members(self.base.plain())


def wish_results(sewn: Sequence[Sewn], lightness_known: bool) -> tuple[WishResult, ...]:
    """Return one result for each wish that has weight, over all foundations of the panel."""
    amounts = [s.amounts() for s in sewn]
    results = []
    for i, wish in enumerate(WISHES):
        weight = sewn[0].pricing.weights[i]
        if weight > 0 and (wish != "light_over_dark" or lightness_known):
            total = sum(step[i] for steps in amounts for step in steps)
            full = sum(s.pricing.full[i] for s in sewn)
            results.append(WishResult(wish, weight, round(total / full, 4), _TELL[wish](sewn)))
    return tuple(results)


def _centre(sewn: Sequence[Sewn]) -> str:
    start = sewn[-1].steps[0].piece
    pricing, name = sewn[-1].pricing, sewn[-1].base.name
    middle = min(sewn[-1].plain(), key=lambda p: (pricing.distance[p], p))
    is_middle = not pricing.nearer[start]
    begin = (
        f"{name(start)} at the centre is laid first"
        if is_middle
        else f"{name(start)} is laid first; {name(middle)} is nearest to the centre"
    )
    return capital(f"{begin}. {_pairs(sewn, [s.pricing.nearer for s in sewn], 'outer before inner')}")


def _large(sewn: Sequence[Sewn]) -> str:
    pricing, steps, name = sewn[-1].pricing, sewn[-1].steps, sewn[-1].base.name
    largest = max(sewn[-1].plain(), key=lambda p: (pricing.area[p], -p))
    place = next(i for i, s in enumerate(steps, 1) if s.piece == largest)
    begin = f"the largest patch, {name(largest)} ({pricing.area[largest]:.0f} mm²), is number {place} of {len(steps)}"
    return capital(f"{begin}. {_pairs(sewn, [s.pricing.larger for s in sewn], 'smaller before larger')}")


def _pairs(sewn: Sequence[Sewn], sets: Sequence[Sequence[int]], what: str) -> str:
    """Count the pairs in the wrong order and name some."""
    wrong, total = [], 0
    for s, better in zip(sewn, sets, strict=True):
        total += math.comb(len(s.plain()), 2)
        for i, step in enumerate(s.steps):
            later = [t.piece for t in s.steps[i + 1 :] if better[step.piece] >> t.piece & 1]
            wrong += [f"{s.base.name(step.piece)} before {s.base.name(q)}" for q in later]
    if not wrong:
        return f"No patch is sewn {what}."
    return f"{len(wrong)} of {several(total, 'pair')} {_is(len(wrong))} sewn {what}: {_some(wrong)}."


def _is(number: int) -> str:
    return "is" if number == 1 else "are"


def _some(words: Sequence[str]) -> str:
    more = len(words) - SHOWN
    return listed([*words[:SHOWN], f"{more} more"] if more > 1 else words)


def _turns(sewn: Sequence[Sewn]) -> str:
    after, chances = [], 0
    for s in sewn:
        seams = [(step.piece, step.chord.row) for step in s.steps if step.chord is not None]
        chances += max(0, len(seams) - 1)
        pairs = pairwise(seams)
        after += [s.base.name(p) for (p, one), (_, two) in pairs if s.pricing.turns(one, two)]
    if not chances:
        return "There are too few seams for the hands to turn."
    if not after:
        return "All seams run in one direction: your hands need not turn."
    times = "once" if len(after) == 1 else f"{len(after)} times"
    return f"From one seam to the next the direction changes {times} out of {chances}: after {_some(after)}."


def _layers(sewn: Sequence[Sewn]) -> str:
    piles = []
    for s in sewn:
        strips = sorted(strip_of(step.chord) for step in s.steps if step.chord is not None)
        for strip in strips:
            pairs = [
                (area, strip, other) for other, area in s.pricing.overlaps[strip] if other > strip and other in strips
            ]
            piles += [(area, *sorted((s.seam(a // 2), s.seam(b // 2)))) for area, a, b in pairs]
    if not piles:
        return "No two seams have their allowances pressed onto the same spot."
    area, one, two = max(piles)
    total = sum(pile[0] for pile in piles)
    most = (
        f", most ({area:.0f} mm²) where seams {one} and {two} are near each other"
        if len(piles) > 1
        else f" between seams {one} and {two}"
    )
    return f"Allowances of two seams lie on each other on {total:.0f} mm² of the panel{most}."


def _light(sewn: Sequence[Sewn]) -> str:
    over = []
    for s in sewn:
        for step in s.steps:
            if step.chord is not None and s.pricing.shown(step.piece, step.pieces) > 0:
                over.append(f"{s.base.name(step.piece)} on seam {s.seam(step.chord.row)}")
    if not over:
        return "No light patch is flipped over the allowance of a darker one."
    return f"A darker allowance may show through {several(len(over), 'lighter patch')}: {_some(over)}."


def _clear(sewn: Sequence[Sewn]) -> str:
    unclear = []
    for s in sewn:
        for step in s.steps:
            if step.chord is not None:
                unclear += _lies_on(s, step)
    if not unclear:
        return "No allowance comes to lie on a finished patch."
    return f"Some allowance must be cut away: {_some(unclear)}."


def _lies_on(s: Sewn, step: Step) -> list[str]:
    assert step.chord is not None
    covered = s.pricing.reach.covered(step.piece, step.chord, step.pieces)
    name = s.base.name
    found = [f"{name(step.piece)} would cover part of {listed(name(q) for q in members(covered))}"] if covered else []
    if s.pricing.reach.crosses(step.piece, step.chord):
        found.append(
            f"{name(step.piece)} reaches over the line of its seam {s.seam(step.chord.row)}, so its inner corner must be clipped"
        )
    return found


_TELL: dict[str, Callable[[Sequence[Sewn]], str]] = {
    "centre_outwards": _centre,
    "few_turns": _turns,
    "few_layers": _layers,
    "light_over_dark": _light,
    "large_first": _large,
    "clear_of_patches": _clear,
}
