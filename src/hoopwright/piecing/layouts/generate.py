"""From the wishes for a layout to a patch map that keeps its promises."""

from __future__ import annotations

import math
import zlib
from dataclasses import dataclass, replace
from typing import Final

from shapely.geometry import Polygon

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import ARC_CHORD, GRID
from hoopwright.core.types import Mm2, Point
from hoopwright.piecing.layouts import crazy_centre, crazy_cuts, fan, rounds, strips
from hoopwright.piecing.layouts.judging import Promises
from hoopwright.piecing.layouts.search import PLAIN, Found, Rule, keeps, search
from hoopwright.piecing.layouts.slicing import MarkedRing, SliceLine, marked, slice_off
from hoopwright.piecing.patch_map_basics import letter
from hoopwright.piecing.seam_lines import chain_numbers, map_with
from hoopwright.piecing.shapes import PatchMap
from hoopwright.plane.pieces import Ring, split, with_vertex
from hoopwright.plane.subdivision import subdivision_of
from hoopwright.project.lengths import Units, show_length
from hoopwright.project.schema import GeneratedPatchwork

MOST_WORK: Final = 15_000
"""Patches judged in one search."""

MOST_WORK_IN_ALL: Final = 48_000
"""Patches judged in all searches together: about one and a half seconds on a machine of 2020."""

SHARE: Final = 3
"""No search takes more than one of so many parts of the work that is left."""

LEAST_STEPS: Final = 20
"""Searches of fewer steps are not worth their starts."""

FIRST_TRIED: Final = 24
"""Of more patches than this the number that fits is felt for from here upwards: hopeless numbers are dear."""

MOST_ATTEMPTS: Final = 4
"""Searches for one number of patches before it is taken not to fit; fewer for many patches."""

EASY: Final = 8
"""With each further row of so many patches, one attempt less is made."""

LIVELY: Final = ("strips", "fan")
"""Ways whose seeds also choose the look; each further search tries a calmer one, before the plain one is searched as often as other ways are."""

LEAST_ROOM: Final = 0.8
"""A patch takes at least this part of the square of its shortest side, a bound for what can fit."""


def generate(
    outline: Polygon, wish: GeneratedPatchwork, path: str = "panel.patchwork", units: Units = "mm"
) -> tuple[PatchMap, tuple[Finding, ...]]:
    """Return a patch map by the rule of ``wish.way``; the same outline and wish give the same map.

    Every patch keeps the least area, edge and angle asked for, as far as the outline's own corners allow. When so many
    patches do not fit, as many as were found to fit are made and a finding says so. A is sewn first, then B, and so
    on; seam n joins the patch after it.
    """
    ring = marked(_rim(outline))
    rough = marked(_rim(Polygon(outline.exterior.simplify(ARC_CHORD).coords)))
    promises = Promises(wish.least_area, wish.least_edge, wish.least_angle)
    found = _most(_Task(wish, rough, ring, promises), outline.area)
    patches = _map(outline, ring, found.lines)
    count = len(patches.letters)
    return patches, () if count == wish.patches else (_fewer(wish, count, path, units),)


def _rim(outline: Polygon) -> Ring:
    return tuple((float(x), float(y)) for x, y in outline.exterior.coords[:-1])


def _fewer(wish: GeneratedPatchwork, count: int, path: str, units: Units) -> Finding:
    return Finding(
        "HW270",
        Severity.WARNS,
        f"Only {count} of {wish.patches} patches were found to fit when each has at least {wish.least_area:g} mm², "
        f"sides of {show_length(wish.least_edge, units)} and corners of {wish.least_angle:g} degrees",
        "Ask for fewer patches, a larger outline, or smaller least sizes",
        Where(path=f"{path}.patches"),
    )


@dataclass(frozen=True, slots=True)
class _Task:
    """What is the same in all searches: the wish, the outline drawn coarsely and truly, the promises."""

    wish: GeneratedPatchwork
    rough: MarkedRing
    ring: MarkedRing
    promises: Promises


def _most(task: _Task, area: Mm2) -> Found:
    """Return a layout with the wished number of patches, or with the most that were found to fit.

    All searches together do MOST_WORK_IN_ALL, so that every wish is answered soon; numbers beyond FIRST_TRIED are
    tried by doubling, then halving the gap. What was found in a hurry is searched once more at leisure.
    """
    room = max(task.promises.area, LEAST_ROOM * task.promises.edge**2, GRID)
    most = min(task.wish.patches, max(1, math.floor(area / room)))
    good, bad, left = 1, most + 1, MOST_WORK_IN_ALL
    best, lucky = Found((), 0.0, True), 0
    count = min(most, FIRST_TRIED)
    while bad - good > 1:
        found, attempt = _attempts(task, count, left)
        left -= found.work
        if found.kept:
            good, best, lucky = count, found, attempt
        else:
            bad = count
        count = min(most, 2 * good) if bad > most else (good + bad) // 2
    return best if good in (1, task.wish.patches) else _at_leisure(task, good, lucky, best)


def _steps(patches: int) -> int:
    """Return the budget of one search: more for more patches, until their number makes each step dear."""
    return max(60, min(250 + 50 * patches, MOST_WORK // patches))


def _attempts(task: _Task, patches: int, left: int) -> tuple[Found, int]:
    """Search a few times over: bad luck must not look like want of room. The true outline has the last word.

    Returns the layout with the work of all searches, and which of them found it. No search takes more than a part of
    the work ``left``. A number smaller than the wished one is only tried, so the first layout found will do.
    """
    attempts = _searches(task.wish, patches)
    lively = _lively(task.wish, attempts)
    found, work = Found((), math.inf, False, math.inf), 0
    for attempt in range(lively + attempts):
        steps = min(_steps(patches), (left - work) // (SHARE * patches))
        if steps < LEAST_STEPS:
            break
        found = _searched(task, patches, attempt, steps, hurried=patches < task.wish.patches)
        work += found.work
        if found.kept:
            return replace(found, work=work), attempt
    return replace(found, kept=False, work=work), 0


def _searches(wish: GeneratedPatchwork, patches: int) -> int:
    """Return how many searches a number of patches is worth: one where many are only tried."""
    return 1 if EASY < patches < wish.patches else max(1, MOST_ATTEMPTS - patches // EASY)


def _lively(wish: GeneratedPatchwork, attempts: int) -> int:
    return min(attempts, PLAIN) if wish.way in LIVELY else 0


def _searched(task: _Task, patches: int, attempt: int, steps: int, *, hurried: bool) -> Found:
    """Return what one search finds; ``kept`` says whether the true outline's patches keep the promises too."""
    wish = task.wish
    lively = _lively(wish, _searches(wish, patches))
    rule = _rule(wish, task.rough, patches, task.promises, min(attempt, PLAIN) if attempt < lively else PLAIN)
    seed = (wish.seed, patches, zlib.crc32(wish.way.encode()), attempt)
    found = search(rule, task.rough, task.promises, seed, steps, hurried=hurried)
    return replace(found, kept=found.kept and keeps(task.ring, found.lines, task.promises))


def _at_leisure(task: _Task, patches: int, attempt: int, best: Found) -> Found:
    """Search the largest number that fits once more, for looks; return ``best`` where that finds nothing."""
    found = _searched(task, patches, attempt, _steps(patches), hurried=False)
    return found if found.kept else best


def _rule(wish: GeneratedPatchwork, ring: MarkedRing, patches: int, promises: Promises, calm: int) -> Rule:
    match wish.way:
        case "crazy-centre":
            return crazy_centre.rule(ring, patches, promises)
        case "crazy-cuts":
            return crazy_cuts.rule(ring, patches, promises)
        case "strips":
            return strips.rule(ring, patches, wish.angle, wish.seed, calm)
        case "fan":
            return fan.rule(ring, patches, wish.angle, wish.seed, calm)
        case "rounds":
            return rounds.rule(ring, patches, wish.angle)


def _map(outline: Polygon, ring: MarkedRing, lines: tuple[SliceLine, ...]) -> PatchMap:
    """Slice the true outline; the remainder is always the first piece."""
    rings: tuple[Ring, ...] = (tuple(p[:2] for p in ring),)
    chords: list[tuple[Point, Point]] = []
    for line in lines:
        made = slice_off(marked(rings[0]), line)
        if made is None:
            break
        rings, start = with_vertex(rings, 0, made.start, GRID)
        rings, end = with_vertex(rings, 0, made.end, GRID)
        left, right = split(rings[0], start, end)
        rings = (left, *rings[1:], right)
        chords.append((start, end))
    sewn = (rings[0], *rings[:0:-1])
    plane = subdivision_of([Polygon(r) for r in sewn])
    numbers = chain_numbers(plane, [(i, a, b) for i, (a, b) in enumerate(chords[::-1])])
    return map_with(outline, plane, [letter(i) for i in range(len(sewn))], numbers)
