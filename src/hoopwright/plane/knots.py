"""Tying the ends of strokes into knots and finding what the knots lie on. See healing for the words."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Dot

from hoopwright.core.tolerances import STRAIGHTENED_DEGREES
from hoopwright.core.types import Degrees, Mm, Point
from hoopwright.plane.strokes import Stroke, off_line, turn

Cells: TypeAlias = dict[tuple[int, int], list[int]]
"""Knots by the square of the plane they were first put in."""


@dataclass(slots=True)
class Knots:
    """The state of tying.

    ``places`` of the knots, the first ``corners`` of them fixed; ``ends_at`` the drawn ends tied into each; ``strokes``
    their two knots, ``shapes`` as drawn; ``lines`` through lines as rows of knots; ``on_lines`` the through lines a
    knot lies on (not as an end); ``on_rim``, ``on_curves`` knots on the rim or on a curve; ``repeated`` places of
    lines drawn twice.
    """

    corners: int
    places: list[Point] = field(default_factory=list)
    ends_at: list[list[Point]] = field(default_factory=list)
    strokes: list[tuple[int, int]] = field(default_factory=list)
    shapes: list[Stroke] = field(default_factory=list)
    lines: list[tuple[int, ...]] = field(default_factory=list)
    on_lines: list[set[int]] = field(default_factory=list)
    on_rim: set[int] = field(default_factory=set)
    on_curves: set[int] = field(default_factory=set)
    repeated: list[int] = field(default_factory=list)

    def ends(self) -> Iterator[tuple[int, int]]:
        """Yield the two end knots of every through line."""
        return ((line[0], line[-1]) for line in self.lines)

    def curves(self) -> Iterator[int]:
        """Yield the numbers of the strokes that are curves."""
        return (i for i, shape in enumerate(self.shapes) if not shape.straight)

    def inner(self, knot: int) -> bool:
        """Return whether a through line runs on through this knot as it was drawn."""
        return any(knot in line[1:-1] for line in self.lines)

    def moved(self) -> list[Mm]:
        """Return how far the farthest end tied into each knot was moved."""
        return [
            max((math.dist(place, end) for end in ends), default=0.0)
            for place, ends in zip(self.places, self.ends_at, strict=True)
        ]

    def loose(self) -> list[int]:
        """Return the knots where one line or curve ends and nothing else is."""
        meeting = [0] * len(self.places)
        for a, b in (*self.ends(), *(self.strokes[i] for i in self.curves())):
            meeting[a] += 1
            meeting[b] += 1
        held = self.on_rim | self.on_curves | set(range(self.corners))
        return [k for k, n in enumerate(meeting) if n == 1 and k not in held and not self.on_lines[k]]

    def other_end(self, knot: int) -> int:
        """Return the knot from which the line or curve comes that ends at a loose knot."""
        rows = [*self.ends(), *(self.strokes[i] for i in self.curves())]
        a, b = next(row for row in rows if knot in row)
        return b if a == knot else a


def tie(region: Polygon, corners: Sequence[Point], strokes: Sequence[Stroke], gap: Mm) -> Knots:
    """Tie ends nearer than ``gap`` (mm) together, and say which knots lie on lines, curves and the rim."""
    knots = Knots(len(corners), list(corners), [[] for _ in corners])
    _gather(knots, strokes, gap)
    _drop_repeated(knots)
    _merge_overlaps(knots, gap)
    _chain(knots, gap)
    knots.on_lines = _touching(knots, gap)
    _drop_contained(knots)
    knots.on_rim = _near(knots, [region.exterior], gap) - set(range(knots.corners))
    knots.on_curves = _near(knots, [LineString(knots.shapes[i].points) for i in knots.curves()], gap)
    return knots


def _gather(knots: Knots, strokes: Sequence[Stroke], gap: Mm) -> None:
    """Tie each end to the nearest knot within the gap, or make it a new one; put knots amid their ends; join knots."""
    cells: Cells = {}
    for k, place in enumerate(knots.places):
        cells.setdefault(_cell(place, gap), []).append(k)
    for stroke in strokes:
        pair = [_knot(knots, cells, p, gap) for p in (stroke.points[0], stroke.points[-1])]
        knots.strokes.append((pair[0], pair[1]))
        knots.shapes.append(stroke)
    for k in range(knots.corners, len(knots.places)):
        knots.places[k] = _amid(knots.ends_at[k])
    new = _joined(knots, gap)
    pairs = [(new[a], new[b]) for a, b in knots.strokes]
    kept = [i for i, (a, b) in enumerate(pairs) if a != b or not knots.shapes[i].straight]
    knots.strokes, knots.shapes = [pairs[i] for i in kept], [knots.shapes[i] for i in kept]


def _cell(place: Point, gap: Mm) -> tuple[int, int]:
    return (math.floor(place[0] / gap), math.floor(place[1] / gap))


def _knot(knots: Knots, cells: Cells, end: Point, gap: Mm) -> int:
    """Return the knot for an end; the first end tied into a knot is its place for the time being."""
    i, j = _cell(end, gap)
    near = [k for a in (-1, 0, 1) for b in (-1, 0, 1) for k in cells.get((i + a, j + b), ())]
    far, k = min(((math.dist(knots.places[k], end), k) for k in near), default=(math.inf, 0))
    if far > gap:
        k = len(knots.places)
        knots.places.append(end)
        knots.ends_at.append([])
        cells.setdefault((i, j), []).append(k)
    knots.ends_at[k].append(end)
    return k


def _amid(ends: Sequence[Point]) -> Point:
    return (math.fsum(p[0] for p in ends) / len(ends), math.fsum(p[1] for p in ends) / len(ends))


def _joined(knots: Knots, gap: Mm) -> list[int]:
    """Join knots that came to lie within the gap of one another, and return for each knot the one it is now part of."""
    new = list(range(len(knots.places)))
    dots = [Dot(p) for p in knots.places]
    first, second = shapely.STRtree(dots).query(dots, predicate="dwithin", distance=gap)
    pairs = sorted((int(p), int(q)) for p, q in zip(first, second, strict=True) if p < q)
    for a, b in pairs:
        a, b = new[a], new[b]
        if a != b and b >= knots.corners and math.dist(knots.places[a], knots.places[b]) <= gap:
            knots.ends_at[a] += knots.ends_at[b]
            knots.ends_at[b] = []
            knots.places[a] = knots.places[a] if a < knots.corners else _amid(knots.ends_at[a])
            new = [a if n == b else n for n in new]
    return new


def _drop_repeated(knots: Knots) -> None:
    """Keep one of several straight strokes between the same knots."""
    seen: set[frozenset[int]] = set()
    kept = []
    for i, pair in enumerate(knots.strokes):
        if knots.shapes[i].straight and frozenset(pair) in seen:
            knots.repeated.append(pair[0])
            continue
        if knots.shapes[i].straight:
            seen.add(frozenset(pair))
        kept.append(i)
    knots.strokes, knots.shapes = [knots.strokes[i] for i in kept], [knots.shapes[i] for i in kept]


def _straight(knots: Knots) -> list[int]:
    return [i for i, shape in enumerate(knots.shapes) if shape.straight]


def _merge_overlaps(knots: Knots, gap: Mm) -> None:
    """Make one stroke of two that lie on each other for a part of their lengths, again and again."""
    while (found := _overlap(knots, gap)) is not None:
        i, j, ends = found
        knots.repeated.append(ends[0])
        knots.strokes[i] = ends
        knots.shapes[i] = Stroke((knots.places[ends[0]], knots.places[ends[1]]))
        del knots.strokes[j], knots.shapes[j]
        _drop_repeated(knots)


def _overlap(knots: Knots, gap: Mm) -> tuple[int, int, tuple[int, int]] | None:
    """Return two overlapping strokes and the outer ends of both together."""
    index = _straight(knots)
    shapes = [LineString([knots.places[k] for k in knots.strokes[i]]) for i in index]
    if not shapes:
        return None
    first, second = shapely.STRtree(shapes).query(shapes, predicate="dwithin", distance=gap)
    for a, b in sorted((int(p), int(q)) for p, q in zip(first, second, strict=True) if p < q):
        ends = _outer_ends(knots, knots.strokes[index[a]], knots.strokes[index[b]], gap)
        if ends is not None:
            return index[a], index[b], ends
    return None


def _outer_ends(knots: Knots, p: tuple[int, int], q: tuple[int, int], gap: Mm) -> tuple[int, int] | None:
    places = knots.places
    if _angle_between(places, p, q) > STRAIGHTENED_DEGREES:
        return None
    every = sorted({*p, *q})
    a, b = max(
        ((u, v) for i, u in enumerate(every) for v in every[i + 1 :]),
        key=lambda uv: math.dist(places[uv[0]], places[uv[1]]),
    )
    if any(off_line(places[k], places[a], places[b]) > gap for k in every):
        return None
    both = math.dist(places[p[0]], places[p[1]]) + math.dist(places[q[0]], places[q[1]])
    return (a, b) if both > math.dist(places[a], places[b]) + gap else None


def _angle_between(places: Sequence[Point], p: tuple[int, int], q: tuple[int, int]) -> Degrees:
    bend = turn(places[p[0]], places[p[1]], _plus(places[p[1]], places[q[0]], places[q[1]]))
    return min(bend, 180.0 - bend)


def _plus(at: Point, a: Point, b: Point) -> Point:
    return (at[0] + b[0] - a[0], at[1] + b[1] - a[1])


def _chain(knots: Knots, gap: Mm) -> None:
    """Join straight strokes that run on in one line into through lines."""
    straight = _straight(knots)
    follows = _partners(knots, straight, gap)
    done: set[int] = set()
    for i in straight:
        if i not in done:
            row, used = _row(knots, follows, i)
            done |= used
            knots.lines += _straight_parts(knots.places, row, gap)


def _partners(knots: Knots, straight: Sequence[int], gap: Mm) -> dict[tuple[int, int], int]:
    """Return, for a stroke and one of its knots, the stroke that runs on straight there."""
    at: dict[int, list[int]] = {}
    for i in straight:
        for k in knots.strokes[i]:
            at.setdefault(k, []).append(i)
    found: dict[tuple[int, int], int] = {}
    for k, meeting in at.items():
        pairs = sorted((_bend(knots, k, i, j), i, j) for n, i in enumerate(meeting) for j in meeting[n + 1 :])
        for bend, i, j in pairs:
            if bend <= STRAIGHTENED_DEGREES and (i, k) not in found and (j, k) not in found:
                a, b = _far(knots, i, k), _far(knots, j, k)
                if off_line(knots.places[k], knots.places[a], knots.places[b]) <= gap:
                    found[(i, k)], found[(j, k)] = j, i
    return found


def _far(knots: Knots, stroke: int, knot: int) -> int:
    a, b = knots.strokes[stroke]
    return b if a == knot else a


def _bend(knots: Knots, knot: int, i: int, j: int) -> Degrees:
    return turn(knots.places[_far(knots, i, knot)], knots.places[knot], knots.places[_far(knots, j, knot)])


def _row(knots: Knots, follows: dict[tuple[int, int], int], first: int) -> tuple[list[int], set[int]]:
    """Return the knots of the through line of a stroke, in order, and its strokes."""
    row, used = list(knots.strokes[first]), {first}
    for _ in range(2):
        stroke, knot = first, row[-1]
        while (stroke, knot) in follows and follows[(stroke, knot)] not in used:
            stroke = follows[(stroke, knot)]
            used.add(stroke)
            knot = _far(knots, stroke, knot)
            row.append(knot)
        row.reverse()
    return row, used


def _straight_parts(places: Sequence[Point], row: Sequence[int], gap: Mm) -> list[tuple[int, ...]]:
    """Break a row where it leaves the line between its ends by more than the gap."""
    off = [off_line(places[k], places[row[0]], places[row[-1]]) for k in row]
    worst = max(range(len(row)), key=lambda i: (off[i], -i))
    if off[worst] <= gap or worst in (0, len(row) - 1):
        return [tuple(row)]
    return [*_straight_parts(places, row[: worst + 1], gap), *_straight_parts(places, row[worst:], gap)]


def _touching(knots: Knots, gap: Mm) -> list[set[int]]:
    """Return for each knot the through lines it lies on without being their end."""
    found: list[set[int]] = [set() for _ in knots.places]
    for n, line in enumerate(knots.lines):
        for k in line[1:-1]:
            found[k].add(n)
    if not knots.lines:
        return found
    shapes = [LineString([knots.places[a], knots.places[b]]) for a, b in knots.ends()]
    dots = shapely.points(np.array(knots.places))
    for k, n in zip(*shapely.STRtree(shapes).query(dots, predicate="dwithin", distance=gap), strict=True):
        if int(k) not in knots.lines[int(n)] and int(k) >= knots.corners:
            found[int(k)].add(int(n))
    return found


def _drop_contained(knots: Knots) -> None:
    """Drop through lines both of whose ends lie on one other through line."""
    gone = {
        n
        for n, (a, b) in enumerate(knots.ends())
        if any(
            m != n and _on_line(knots, a, m) and _on_line(knots, b, m) for m in knots.on_lines[a] | knots.on_lines[b]
        )
    }
    if not gone:
        return
    kept = [n for n in range(len(knots.lines)) if n not in gone]
    number = {n: i for i, n in enumerate(kept)}
    knots.repeated += [knots.lines[n][0] for n in sorted(gone)]
    knots.lines = [knots.lines[n] for n in kept]
    knots.on_lines = [{number[n] for n in lines if n in number} for lines in knots.on_lines]


def _on_line(knots: Knots, knot: int, line: int) -> bool:
    return line in knots.on_lines[knot] or knot in knots.lines[line]


def _near(knots: Knots, shapes: Sequence[LineString], gap: Mm) -> set[int]:
    """Return the knots near a shape whose ends they are not."""
    found = set()
    for shape in shapes:
        ends = [] if shape.is_ring else [shape.coords[0], shape.coords[-1]]
        for k, place in enumerate(knots.places):
            own = any(tuple(e) in {tuple(p) for p in knots.ends_at[k]} for e in ends)
            if not own and shape.distance(Dot(place)) <= gap:
                found.add(k)
    return found
