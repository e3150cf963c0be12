"""From the wishes for a layout to a patch map that keeps its promises."""

from __future__ import annotations

import math
import zlib
from typing import Final

from shapely.geometry import Polygon

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import ARC_CHORD, GRID
from hoopwright.core.types import Point
from hoopwright.piecing.layouts import crazy_centre, crazy_cuts, fan, rounds, strips
from hoopwright.piecing.layouts.judging import Promises
from hoopwright.piecing.layouts.search import PLAIN, Found, Rule, keeps, search
from hoopwright.piecing.layouts.slicing import MarkedRing, SliceLine, marked, slice_off
from hoopwright.piecing.patch_map_basics import letter
from hoopwright.piecing.seam_lines import chain_numbers, map_with
from hoopwright.piecing.shapes import PatchMap
from hoopwright.plane.pieces import Ring, split, with_vertex
from hoopwright.plane.subdivision import subdivision_of
from hoopwright.project.schema import GeneratedPatchwork

MOST_WORK: Final = 15_000
"""Patches judged in one search."""

MOST_ATTEMPTS: Final = 4
"""Searches for one number of patches before it is taken not to fit; fewer for many patches."""

EASY: Final = 8
"""With each further row of so many patches, one attempt less is made."""

LIVELY: Final = ("strips", "fan")
"""Ways whose seeds also choose the look; each further search tries a calmer one, before the plain one is searched as often as other ways are."""

LEAST_ROOM: Final = 0.8
"""A patch takes at least this part of the square of its shortest side, a bound for what can fit."""


def generate(
    outline: Polygon, wish: GeneratedPatchwork, path: str = "panel.patchwork"
) -> tuple[PatchMap, tuple[Finding, ...]]:
    """Return a patch map by the rule of ``wish.way``; the same outline and wish give the same map.

    Every patch keeps the least area, edge and angle asked for, as far as the outline's own corners allow. When so many
    patches do not fit, as many as were found to fit are made and a finding says so. A is sewn first, then B, and so
    on; seam n joins the patch after it.
    """
    ring = marked(_rim(outline))
    rough = marked(_rim(Polygon(outline.exterior.simplify(ARC_CHORD).coords)))
    promises = Promises(wish.least_area, wish.least_edge, wish.least_angle)
    found = _most(wish, rough, ring, promises, outline.area)
    patches = _map(outline, ring, found.lines)
    count = len(patches.letters)
    return patches, () if count == wish.patches else (_fewer(wish, count, path),)


def _rim(outline: Polygon) -> Ring:
    return tuple((float(x), float(y)) for x, y in outline.exterior.coords[:-1])


def _fewer(wish: GeneratedPatchwork, count: int, path: str) -> Finding:
    return Finding(
        "HW270",
        Severity.WARNS,
        f"Only {count} of {wish.patches} patches were found to fit when each has at least {wish.least_area:g} mm², "
        f"sides of {wish.least_edge:g} mm and corners of {wish.least_angle:g} degrees",
        "Ask for fewer patches, a larger outline, or smaller least sizes",
        Where(path=f"{path}.patches"),
    )


def _most(wish: GeneratedPatchwork, rough: MarkedRing, ring: MarkedRing, promises: Promises, area: float) -> Found:
    """Return a layout with the wished number of patches, or with the most that were found to fit."""
    room = max(promises.area, LEAST_ROOM * promises.edge**2, GRID)
    good, bad = 1, min(wish.patches, max(1, math.floor(area / room))) + 1
    best = Found((), 0.0, True)
    count = bad - 1
    while count > good:
        found = _attempts(wish, rough, ring, promises, count)
        if found.kept:
            good, best = count, found
        else:
            bad = count
        count = (good + bad) // 2 if bad - good > 1 else good
    return best


def _steps(patches: int) -> int:
    """Return the budget of one search: more for more patches, until their number makes each step dear."""
    return max(60, min(250 + 50 * patches, MOST_WORK // patches))


def _attempts(wish: GeneratedPatchwork, rough: MarkedRing, ring: MarkedRing, promises: Promises, patches: int) -> Found:
    """Search a few times over: bad luck must not look like want of room. The true outline has the last word."""
    way = zlib.crc32(wish.way.encode())
    found = Found((), math.inf, False)
    attempts = max(1, MOST_ATTEMPTS - patches // EASY)
    lively = min(attempts, PLAIN) if wish.way in LIVELY else 0
    for attempt in range(lively + attempts):
        rule = _rule(wish, rough, patches, promises, min(attempt, PLAIN) if attempt < lively else PLAIN)
        found = search(rule, rough, promises, (wish.seed, patches, way, attempt), _steps(patches))
        if found.kept and keeps(ring, found.lines, promises):
            return found
    return Found(found.lines, found.points, False)


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
