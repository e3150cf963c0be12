"""Cures for a drawing that cannot be sewn as it is: small changes that make it sewable, the nearest to the drawing first.

Nothing is decided by rules of thumb: changes are tried one after the other, the smallest first, and each drawing that comes of
one is asked whether it can be sewn. When no single change is enough, a second one is tried on those that loosen the knot.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import count
from typing import Final

import shapely
from shapely.geometry import Polygon

from hoopwright.core.errors import GeometryError
from hoopwright.core.types import Mm
from hoopwright.core.words import listed
from hoopwright.piecing.cure_changes import Change, Drawing, Kind, Line, changes
from hoopwright.piecing.order import sewing_order
from hoopwright.piecing.patch_map_basics import map_of
from hoopwright.piecing.peeling import peel
from hoopwright.piecing.seam_net import members, net_of
from hoopwright.piecing.sections import stuck_groups
from hoopwright.piecing.shapes import PatchMap
from hoopwright.plane.pieces import mean_width
from hoopwright.plane.subdivision import Subdivision, bridges, dangles, subdivide
from hoopwright.project.lengths import Units, show_length

MOST_CURES: Final = 4
MOST_OF_A_KIND: Final = 2
"""So many cures of one kind are shown, so that there is a choice."""

MOST_WORK: Final = 6_000
"""Patches looked at in all drawings that are tried together."""

LEAST_WIDTH: Final[Mm] = 4.0
"""A change that makes a patch narrower than this on average (twice its area over its perimeter) is none; one of a seam
allowance on all sides has about six (by eye)."""


@dataclass(frozen=True, slots=True)
class Cure:
    """A way to make a drawing sewable: what is changed, in a sentence, and all lines after it (mm, the frame of the map)."""

    changes: tuple[Change, ...]
    sentence: str
    lines: tuple[Line, ...]

    @property
    def cost(self) -> Mm:
        """How much of the drawing is changed, in mm of line."""
        return sum(c.cost for c in self.changes)


@dataclass(frozen=True, slots=True, eq=False)
class _State:
    """A drawing that was tried: its lines and faces, which changes made it, and the faces that hold each other."""

    drawing: Drawing
    made_by: tuple[Change, ...]
    stuck: tuple[int, ...]


def cures(patch_map: PatchMap, units: Units = "mm", work: int = MOST_WORK) -> tuple[Cure, ...]:
    """Return at most MOST_CURES ways to make a panel sewable, the nearest to the drawing first.

    A panel that can only be sewn in sections is offered ways to be sewn on one foundation; one that can be sewn on one has no
    cures. ``work`` bounds the search, ``units`` are those of the sentences. The same map gives the same cures.
    """
    one = not stuck_groups(net_of(patch_map.plane), net_of(patch_map.plane).everything)
    search = _Search(patch_map, one, work)
    found: list[Cure] = []
    for state in search.solved():
        kinds = [c.changes[-1].kind for c in found]
        if kinds.count(state.made_by[-1].kind) < MOST_OF_A_KIND and _sews(patch_map.outline, state.drawing.plane, one):
            words = " ".join(_sentence(c, units) for c in state.made_by)
            found.append(Cure(state.made_by, words, state.made_by[-1].lines))
        if len(found) == MOST_CURES:
            break
    return tuple(found)


def _sews(outline: Polygon, plane: Subdivision, one: bool) -> bool:
    """Ask for the order itself."""
    order = sewing_order(map_of(outline, plane))
    return order.sewable and (len(order.sections) == 1 or not one)


class _Search:
    """Tries changes by what they cost, then second changes; yields what can be sewn."""

    def __init__(self, patch_map: PatchMap, one: bool, work: int) -> None:
        self.map, self.one, self.left = patch_map, one, work
        self.narrowest = min(LEAST_WIDTH, *(_width(f) for f in patch_map.plane.faces))
        self.seen: set[frozenset[frozenset[tuple[float, float]]]] = set()
        drawing = Drawing(patch_map.outline, patch_map.plane, patch_map.letters)
        self.begin = _State(drawing, (), self.held(patch_map.plane))

    def held(self, plane: Subdivision) -> tuple[int, ...]:
        """Return the faces that hold each other."""
        net = net_of(plane)
        if self.one:
            core = members(peel(net).core)
            return tuple(core) if len(core) > 1 else ()
        return tuple(f for group in stuck_groups(net, net.everything) for f in members(group))

    def solved(self) -> Iterator[_State]:
        """Yield drawings that can be sewn: those of one change by their cost, then those of two."""
        if not self.begin.stuck:
            return
        loosened: list[_State] = []
        for state in self.after(self.begin):
            if not state.stuck:
                yield state
            elif len(state.stuck) < len(self.begin.stuck):
                loosened.append(state)
        order = count()
        queue = [(len(s.stuck), s.made_by[-1].cost, next(order), s) for s in loosened]
        heapq.heapify(queue)
        while queue and self.left > 0:
            done = [s for s in self.after(heapq.heappop(queue)[3]) if not s.stuck]
            yield from done

    def after(self, state: _State) -> Iterator[_State]:
        """Yield the drawings that come of one change more, the smallest change first."""
        names = frozenset(state.drawing.names[f] for f in state.stuck)
        for change in sorted(changes(state.drawing, names), key=lambda c: (c.cost, c.kind, c.lines)):
            if self.left <= 0:
                return
            tried = self.tried(state, change)
            if tried is not None:
                yield tried

    def tried(self, state: _State, change: Change) -> _State | None:
        """Return the drawing after a change; None when it is none, or was tried before."""
        key = frozenset(frozenset((round(x, 3), round(y, 3)) for x, y in line) for line in change.lines)
        if key in self.seen:
            return None
        self.seen.add(key)
        self.left -= len(self.map.letters)
        plane = self.faces(change.lines)
        if plane is None:
            return None
        drawing = Drawing(self.map.outline, plane, _named(self.map, plane))
        return _State(drawing, (*state.made_by, change), self.held(plane))

    def faces(self, lines: Sequence[Line]) -> Subdivision | None:
        """Return the faces that lines make; None when one ends in the open or a patch is too narrow."""
        if bridges(self.map.outline, lines) or dangles(self.map.outline, lines):
            return None
        try:
            plane = subdivide(self.map.outline, lines)
        except GeometryError:
            return None
        return plane if all(_width(f) >= self.narrowest for f in plane.faces) else None


def _width(face: Polygon) -> Mm:
    return mean_width([(float(x), float(y)) for x, y in face.exterior.coords[:-1]])


def _named(patch_map: PatchMap, plane: Subdivision) -> tuple[str, ...]:
    """Name new faces after the patches of the drawing in which they lie."""
    points = shapely.point_on_surface(list(plane.faces))
    tree = shapely.STRtree(list(patch_map.plane.faces))
    nearest = tree.nearest(points)
    return tuple(patch_map.letters[int(i)] for i in nearest)


def _sentence(change: Change, units: Units) -> str:
    names, by = change.letters, show_length(change.by, units)
    match change.kind:
        case Kind.SHIFT:
            return f"Move the end of the seam between {listed(names)} along by {by}."
        case Kind.STRAIGHTEN:
            one, two = listed(names[:2]), listed(names[2:])
            return f"Move the corner by {by}, so that the seam between {one} runs straight on into that between {two}."
        case Kind.THROUGH:
            return f"Draw the seam between {names[0]} and {names[1]} on through {listed(names[2:])}, {by} farther."
        case Kind.SWAP:
            one, two, crossed, *ended = names
            return f"Draw the seam between {one} and {two} on through {crossed}, and end the one between {listed(ended)} there."
        case Kind.AWAY:
            return f"Take the seam between {listed(names)} away."
