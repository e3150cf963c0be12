"""Small changes of a drawing that might make it sewable.

Words: a *line* is a longest straight seam of the drawing by its two ends; a line *ends* at a vertex or runs *through* it; the
*stop* of a line drawn on is where it meets the next line or the outline. All places are mm in the frame of the map.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import combinations, pairwise
from typing import Final, TypeAlias

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Dot

from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm, Point
from hoopwright.plane.subdivision import OUTSIDE, Subdivision

Line: TypeAlias = tuple[Point, Point]

PAST: Final[Mm] = 12.7
"""An end that is moved past another one goes so far beyond it where there is room: two allowances (common practice)."""

STOPS: Final = 2
"""A line is drawn on to the first or the second line that it meets."""

LOSS: Final = 1.5
"""Taking a seam away changes the drawing by more than drawing one of the same length: a patch is lost."""


class Kind(StrEnum):
    """What a change does."""

    SHIFT = "shift"
    STRAIGHTEN = "straighten"
    THROUGH = "through"
    SWAP = "swap"
    AWAY = "away"


@dataclass(frozen=True, slots=True)
class Change:
    """One small change: the lines after it, how much it changes (mm), the patches that its sentence names, and by how far."""

    kind: Kind
    lines: tuple[Line, ...]
    cost: Mm
    letters: tuple[str, ...]
    by: Mm


class Drawing:
    """Lines with the faces they make, and who ends where. ``names[f]`` is what face f is called to the maker."""

    def __init__(self, outline: Polygon, plane: Subdivision, names: Sequence[str]) -> None:
        self.outline, self.plane, self.names = outline, plane, tuple(names)
        self.lines: tuple[Line, ...] = tuple(
            (plane.vertices[c.vertices[0]], plane.vertices[c.vertices[-1]]) for c in plane.chains
        )
        self.ends: dict[int, list[tuple[int, int]]] = {}
        self.through: dict[int, list[int]] = {}
        for number, chain in enumerate(plane.chains):
            for side in (0, -1):
                self.ends.setdefault(chain.vertices[side], []).append((number, side))
            for vertex in chain.vertices[1:-1]:
                self.through.setdefault(vertex, []).append(number)

    def inner_ends(self) -> Iterator[tuple[int, int, int]]:
        """Yield vertex, line and side (0 or -1) of every end that is not on the outline."""
        for vertex, found in sorted(self.ends.items()):
            if vertex not in self.plane.rim:
                for line, side in found:
                    yield vertex, line, side

    def beside(self, edge: int) -> tuple[str, ...]:
        """Return the names of the faces on both sides of an edge."""
        e = self.plane.edges[edge]
        return tuple(self.names[f] for f in (e.left, e.right) if f != OUTSIDE)

    def at_end(self, line: int, side: int) -> tuple[str, ...]:
        """Return the names of the faces on both sides of a line where it ends."""
        return self.beside(self.plane.chains[line].edges[side])

    def name_at(self, place: Point) -> str:
        """Return the name of the face at a place, "" outside."""
        dot = Dot(place)
        return next((n for n, f in zip(self.names, self.plane.faces, strict=True) if f.contains(dot)), "")


def changes(drawing: Drawing, letters: frozenset[str]) -> Iterator[Change]:
    """Yield small changes of lines that border one of the patches named, in no order of worth."""
    near = {
        number
        for number, chain in enumerate(drawing.plane.chains)
        if any(letters & set(drawing.beside(e)) for e in chain.edges)
    }
    for found in (_shifted(drawing), _straightened(drawing), _drawn_on(drawing), _taken(drawing)):
        yield from (change for line, change in found if line in near)


def _shifted(d: Drawing) -> Iterator[tuple[int, Change]]:
    """Slide an end along the line it lies on: to the next place where something meets that line, or past it."""
    for vertex, line, side in d.inner_ends():
        for rail in d.through.get(vertex, ()):
            row = d.plane.chains[rail].vertices
            here = row.index(vertex)
            for way in (row[here + 1 :], row[:here][::-1]):
                for target in _targets([d.plane.vertices[v] for v in way]):
                    moved = _with_ends(d, [(line, side)], target)
                    if moved is not None:
                        by = math.dist(d.plane.vertices[vertex], target)
                        yield line, Change(Kind.SHIFT, moved, by, d.at_end(line, side), by)


def _targets(way: Sequence[Point]) -> Iterator[Point]:
    """Yield the next place on a way that is not its end, and one beyond it."""
    for here, after in pairwise(way[:2]):
        yield here
        room = math.dist(here, after)
        yield _along(here, after, min(PAST, room / 2.0) / room)


def _straightened(d: Drawing) -> Iterator[tuple[int, Change]]:
    """Move a corner where lines end until two of them are one."""
    for vertex, found in sorted(d.ends.items()):
        if vertex in d.plane.rim or d.through.get(vertex) or len(found) < 2:
            continue
        place = d.plane.vertices[vertex]
        for (one, a), (two, b) in combinations(found, 2):
            far = LineString([d.lines[one][-1 - a], d.lines[two][-1 - b]])
            along = far.project(Dot(place))
            if not PAST < along < far.length - PAST:
                continue
            dot = far.interpolate(along)
            moved = _with_ends(d, found, (float(dot.x), float(dot.y)))
            if moved is not None:
                by = dot.distance(Dot(place))
                names = (*d.at_end(one, a), *d.at_end(two, b))
                yield one, Change(Kind.STRAIGHTEN, moved, by, names, by)


def _with_ends(d: Drawing, moved: Sequence[tuple[int, int]], target: Point) -> tuple[Line, ...] | None:
    """Return the lines with some ends at a vertex brought to ``target``; what ended on those lines ends on them still."""
    lines = list(d.lines)
    for line, side in moved:
        lines[line] = (target, lines[line][1]) if side == 0 else (lines[line][0], target)
    own = {line for line, _ in moved}
    for line in own:
        if math.dist(*lines[line]) <= PAST:
            return None
        for other_vertex in d.plane.chains[line].vertices[1:-1]:
            for other, side in d.ends.get(other_vertex, ()):
                met = None if other in own else _meeting(lines[other], lines[line])
                if met is None:
                    return None
                lines[other] = (met, lines[other][1]) if side == 0 else (lines[other][0], met)
    return tuple(lines)


def _meeting(line: Line, rail: Line) -> Point | None:
    """Return where a line, drawn on, meets the inside of a rail."""
    (ax, ay), (bx, by) = line
    (cx, cy), (dx, dy) = rail
    cross = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
    if abs(cross) < MERGE:
        return None
    s = ((cx - ax) * (by - ay) - (cy - ay) * (bx - ax)) / cross
    return _along(rail[0], rail[1], s) if 0.0 < s < 1.0 else None


def _drawn_on(d: Drawing) -> Iterator[tuple[int, Change]]:
    """Draw a line on past its end; or draw it on and let the line it ended on end there instead."""
    for vertex, line, side in d.inner_ends():
        here = d.plane.vertices[vertex]
        stops = _stops(d, line, side)
        crossed = [d.name_at(_along(a, b, 0.5)) for a, b in pairwise((here, *stops))]
        for count, stop in enumerate(stops):
            longer = (stop, d.lines[line][1]) if side == 0 else (d.lines[line][0], stop)
            lines = (*d.lines[:line], longer, *d.lines[line + 1 :])
            added = math.dist(here, stop)
            names = (*d.at_end(line, side), *crossed[: count + 1])
            on = Change(Kind.THROUGH, lines, added, names, added)
            yield line, on
            if count == 0:
                yield from ((line, swap) for swap in _swapped(d, vertex, on))


def _swapped(d: Drawing, vertex: int, on: Change) -> Iterator[Change]:
    here = d.plane.vertices[vertex]
    for rail in d.through.get(vertex, ()):
        row = d.plane.chains[rail]
        place = row.vertices.index(vertex)
        for kept, gone, edge in ((0, -1, row.edges[place]), (-1, 0, row.edges[place - 1])):
            end = d.lines[rail][kept]
            lost = math.dist(here, d.lines[rail][gone])
            lines = (*on.lines[:rail], (end, here), *on.lines[rail + 1 :])
            yield replace(
                on, kind=Kind.SWAP, lines=lines, cost=on.cost + LOSS * lost, letters=(*on.letters, *d.beside(edge))
            )


def _stops(d: Drawing, line: int, side: int) -> list[Point]:
    """Return the first places where a line meets another or the outline when it is drawn on."""
    here, back = d.lines[line][side], d.lines[line][-1 - side]
    left, low, right, high = d.outline.bounds
    far = math.hypot(right - left, high - low) / math.dist(here, back)
    ray = LineString([_along(back, here, 1.0 + MERGE / math.dist(here, back)), _along(back, here, 1.0 + far)])
    rails = [*(LineString(one) for i, one in enumerate(d.lines) if i != line), d.outline.exterior]
    hits = shapely.get_parts(shapely.intersection(ray, rails))
    spots = sorted({(h.distance(Dot(here)), h.coords[0][0], h.coords[0][1]) for h in hits if not h.is_empty})
    met = [(float(x), float(y)) for away, x, y in spots if away > MERGE]
    rim = next((i for i, p in enumerate(met) if d.outline.exterior.distance(Dot(p)) <= MERGE), len(met))
    return met[: min(STOPS, rim + 1)]


def _taken(d: Drawing) -> Iterator[tuple[int, Change]]:
    """Take away a line, or a stretch of it between two vertices."""
    for number, chain in enumerate(d.plane.chains):
        rest = (*d.lines[:number], *d.lines[number + 1 :])
        for place, edge in enumerate(chain.edges):
            a, b = (d.plane.vertices[v] for v in chain.vertices[place : place + 2])
            start, end = d.lines[number]
            kept = [p for p in ((start, a), (b, end)) if math.dist(*p) > MERGE]
            lost = math.dist(a, b)
            yield number, Change(Kind.AWAY, (*rest, *kept), LOSS * lost, d.beside(edge), lost)
        if len(chain.edges) > 1:
            lost = math.dist(*d.lines[number])
            names = tuple(dict.fromkeys(n for e in chain.edges for n in d.beside(e)))
            yield number, Change(Kind.AWAY, rest, LOSS * lost, names, lost)


def _along(a: Point, b: Point, t: float) -> Point:
    return (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)
