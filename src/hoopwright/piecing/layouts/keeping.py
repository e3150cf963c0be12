"""Pieces by a rule round pieces that stay: what the maker likes is kept, the rest is drawn anew."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, TypeAlias

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.polygon import orient

from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import GRID
from hoopwright.core.types import Mm, Mm2, Point
from hoopwright.piecing.layouts.generate import generate
from hoopwright.piecing.seam_net import net_of
from hoopwright.piecing.sections import stuck_groups
from hoopwright.piecing.shapes import PatchMap
from hoopwright.plane.pieces import mean_width
from hoopwright.plane.subdivision import OUTSIDE, subdivide
from hoopwright.project.schema import GeneratedPatchwork

Line: TypeAlias = tuple[Point, Point]

MOST_SEEDS: Final = 8
"""So many seeds from the wished one on are tried until one gives a drawing that can be sewn."""

STEP: Final = 1000
"""Seeds that are tried after the wished one lie so far apart, so that no two wishes share them."""


LEAST_LEFT: Final[Mm2] = 1.0
"""Less area than this (mm2) beside the pieces that stay is nothing."""

ROUND_SIDE: Final[Mm] = 3.0
"""Sides shorter than this only follow a round edge; nothing is parted along them."""

TURNED_AWAY: Final[Mm] = 0.1
"""A line that runs farther than this inside a piece crosses it."""

LEAST_WIDTH: Final[Mm] = 5.0
"""No region is parted so that one narrower than this on average (twice its area over its perimeter) is left (by eye)."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A drawing with the chosen pieces as they were: all its lines (mm, the frame of the map), and how many seeds were tried."""

    lines: tuple[Line, ...]
    tried: int


@dataclass(frozen=True, slots=True)
class _Parts:
    """Regions in which nothing is kept, and the chords that part them from what is."""

    free: tuple[Polygon, ...]
    chords: tuple[Line, ...]


def keeping(patch_map: PatchMap, letters: Collection[str], wish: GeneratedPatchwork) -> Kept | None:
    """Return the drawing in which ``letters`` stay and all other pieces are drawn anew by a rule; None when none can be sewn.

    The panel is parted along sides of the pieces that stay, from edge to edge of what is left each time, so that every part can
    be joined with one straight seam; the seed says in which order. The rule then fills the parts. ``wish.patches`` counts the
    new pieces; each part has at least one. Raises GeometryError when nothing is left to be drawn. The same arguments give the
    same drawing.
    """
    if len(letters) == len(patch_map.letters):
        raise GeometryError("With these pieces kept, nothing is left to be drawn", "Keep fewer pieces")
    kept = [patch_map.polygon(n) for n in patch_map.letters if n in letters]
    inner = tuple(_between(patch_map, frozenset(letters)))
    for tried in range(MOST_SEEDS):
        seed = wish.seed + STEP * tried
        parts = _parted(patch_map.outline, kept, np.random.Generator(np.random.PCG64(seed)))
        lines = None if parts is None else _filled(patch_map.outline, parts, inner, wish, seed)
        if lines is not None:
            return Kept(lines, tried + 1)
    return None


def _filled(
    outline: Polygon, parts: _Parts, inner: tuple[Line, ...], wish: GeneratedPatchwork, seed: int
) -> tuple[Line, ...] | None:
    """Return all lines when the drawing can be sewn."""
    counts = _shares([r.area for r in parts.free], wish.patches)
    wishes = (wish.model_copy(update={"seed": seed + i, "patches": n}) for i, n in enumerate(counts))
    made = [generate(r, w)[0] for r, w in zip(parts.free, wishes, strict=True)]
    lines = (*inner, *parts.chords, *((s.start, s.end) for m in made for s in m.seams))
    net = net_of(subdivide(outline, lines))
    return None if stuck_groups(net, net.everything) else lines


def _between(patch_map: PatchMap, letters: frozenset[str]) -> Iterator[Line]:
    """Yield the seams between pieces that stay."""
    plane, names = patch_map.plane, patch_map.letters
    for chain in plane.chains:
        for place, edge in enumerate(chain.edges):
            e = plane.edges[edge]
            if OUTSIDE not in (e.left, e.right) and {names[e.left], names[e.right]} <= letters:
                yield plane.vertices[chain.vertices[place]], plane.vertices[chain.vertices[place + 1]]


def _parted(region: Polygon, kept: Sequence[Polygon], rng: np.random.Generator) -> _Parts | None:
    """Part a region until each part holds pieces that stay and nothing else, or none of them; None when it cannot be done."""
    held = [k for k in kept if region.contains(k.representative_point())]
    if not held:
        return _Parts((orient(region),), ())
    if region.area - sum(k.area for k in held) < LEAST_LEFT:
        return _Parts((), ())
    for chord, parts in _splits(region, held, rng):
        found = [_parted(p, held, rng) for p in parts]
        if all(f is not None for f in found):
            free = tuple(r for f in found if f is not None for r in f.free)
            return _Parts(free, (chord, *(c for f in found if f is not None for c in f.chords)))
    return None


def _splits(
    region: Polygon, held: Sequence[Polygon], rng: np.random.Generator
) -> Iterator[tuple[Line, tuple[Polygon, ...]]]:
    """Yield chords of a region along sides of pieces that cross none of them, with the two parts, in an order of chance."""
    sides = [s for k in held for s in _sides(k) if not _on_rim(region, s)]
    solid = shapely.union_all([k.buffer(-TURNED_AWAY / 2.0) for k in held])
    for i in rng.permutation(len(sides)):
        chord = _chord(region, sides[int(i)])
        if chord is None or chord.intersection(solid).length > TURNED_AWAY:
            continue
        work = shapely.union_all([region.boundary, chord], grid_size=GRID)
        parts = tuple(
            p for p in shapely.get_parts(shapely.polygonize([work])) if region.contains(p.representative_point())
        )
        if len(parts) == 2 and all(_width(p) >= LEAST_WIDTH for p in parts):
            yield _ends(chord), parts


def _sides(piece: Polygon) -> Iterator[Line]:
    corners = [(float(x), float(y)) for x, y in piece.exterior.coords]
    yield from pairwise(corners)


def _ends(chord: LineString) -> Line:
    (ax, ay), (bx, by) = chord.coords[0], chord.coords[-1]
    return (float(ax), float(ay)), (float(bx), float(by))


def _on_rim(region: Polygon, side: Line) -> bool:
    line = LineString(side)
    return line.length < ROUND_SIDE or bool(
        region.exterior.distance(line.interpolate(0.5, normalized=True)) < TURNED_AWAY
    )


def _chord(region: Polygon, side: Line) -> LineString | None:
    """Return the stretch of the endless line along a side that runs through a region and holds the side."""
    (ax, ay), (bx, by) = side
    left, low, right, high = region.bounds
    t = math.hypot(right - left, high - low) / math.hypot(bx - ax, by - ay)
    line = LineString([(ax - (bx - ax) * t, ay - (by - ay) * t), (bx + (bx - ax) * t, by + (by - ay) * t)])
    middle = LineString(side).interpolate(0.5, normalized=True)
    parts = [p for p in shapely.get_parts(region.intersection(line)) if isinstance(p, LineString)]
    return next((p for p in parts if p.distance(middle) < GRID), None)


def _width(face: Polygon) -> Mm:
    return mean_width([(float(x), float(y)) for x, y in face.exterior.coords[:-1]])


def _shares(areas: Sequence[Mm2], patches: int) -> list[int]:
    """Share out pieces by area, at least one to each region."""
    counts = [1] * len(areas)
    for _ in range(patches - len(areas)):
        most = max(range(len(areas)), key=lambda i: (areas[i] / counts[i], -i))
        counts[most] += 1
    return counts
