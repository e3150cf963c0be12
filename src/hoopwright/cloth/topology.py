"""What stitches make of the sheets: components, boundary loops, Euler number of the glued thing.

Words: to *glue* is to make one place of the places that a needle hole joins; a *cell* is a part of a sheet between
lines of stitches; the *fringe* is the allowance beyond a seam: cells along a cut edge, narrower than ``fringe``. It is
left out, for what counts is the shell that hands can turn. An opening is drawn as a line along which the seam would run on; it parts
fringe from shell but glues nothing until it is closed.

Every sheet is laid out flat in its own frame. Vertices and edges of the lines of stitches are found there, and those
that a join holds together become one. Then, V and E counted before and after gluing,

    Euler number = sum over sheets (pieces - holes) - (V - V glued) + (E - E glued),

because the Euler number is additive. A surface with C components and L loops has the genus (2C - Euler number - L) / 2. A
thing without loops cannot be turned; nor can one with a handle (genus above 0) be turned through its loops.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.gluing import NEAR, Glue, glue_of, marks_of
from hoopwright.cloth.shapes import Held, Join, Region, Stack, region_of
from hoopwright.cloth.turning import SEAM_END, Opening
from hoopwright.core.tolerances import GRID, MERGE
from hoopwright.core.types import Mm, Points
from hoopwright.operations.vocabulary import Role

FRINGE: Final[Mm] = 10.0
"""Allowances are narrower than this, mm (a quarter inch is usual, common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Topology:
    """Numbers of components, boundary loops, and the Euler number of the glued sheets without their allowances."""

    components: int
    loops: int
    euler: int

    @property
    def genus(self) -> int:
        """Number of handles, when the thing is a surface with two sides."""
        return (2 * self.components - self.euler - self.loops) // 2

    @property
    def can_be_turned(self) -> bool:
        """Whether there is an opening to turn through and no handle that forbids it."""
        return self.loops >= self.components and self.genus == 0


def topology(
    stack: Stack,
    openings: Sequence[Opening] = (),
    *,
    closed: bool = False,
    roles: Collection[Role] | None = None,
    sheets: Collection[str] | None = None,
    fringe: Mm = FRINGE,
) -> Topology:
    """Return the topology of what the joins make of the sheets.

    ``openings`` are gaps left in the seams; they are sewn shut when ``closed``. ``roles`` names the joins that count (None:
    all), ``sheets`` the sheets that count (None: all but the foundation).
    """
    work = _laid_out(stack, openings, roles, sheets, fringe)
    return work.counted((True,) * len(openings) if closed else ())


def before_and_after(
    stack: Stack,
    openings: Sequence[Opening],
    shut: Sequence[bool],
    *,
    roles: Collection[Role] | None = None,
    sheets: Collection[str] | None = None,
    fringe: Mm = FRINGE,
) -> tuple[Topology, Topology]:
    """Return the topology with all openings, and with those closed that are ``shut``; see ``topology``."""
    work = _laid_out(stack, openings, roles, sheets, fringe)
    return work.counted(()), work.counted(shut)


@dataclass(frozen=True, slots=True, eq=False)
class _LaidOut:
    """The sheets that count, laid out flat without their fringes, and what joins them; ``marks`` for ``joins``, then ``gaps``."""

    shells: dict[str, Region]
    joins: tuple[Join, ...]
    gaps: tuple[Join, ...]
    marks: tuple[Points, ...]

    def counted(self, shut: Sequence[bool]) -> Topology:
        """Return the topology with those gaps closed that are ``shut``."""
        closed = [i for i, yes in enumerate(shut) if yes]
        joins = (*self.joins, *(self.gaps[i] for i in closed))
        marks = (*self.marks[: len(self.joins)], *(self.marks[len(self.joins) + i] for i in closed))
        return _counted(self.shells, glue_of(joins, self.shells, marks))


def _laid_out(
    stack: Stack,
    openings: Sequence[Opening],
    roles: Collection[Role] | None,
    sheets: Collection[str] | None,
    fringe: Mm,
) -> _LaidOut:
    wanted = set(sheets if sheets is not None else (p.sheet for p in stack.layers if not p.foundation))
    counted = (_only(j, wanted) for j in stack.joins if roles is None or j.role is None or j.role in roles)
    joins = tuple(j for j in counted if len(j.held) > 1)
    gaps = tuple(_gap(stack, replace(o, path=_reaching(o, joins)), wanted) for o in openings)
    every = (*joins, *gaps)
    shells = {sheet: _shell(_own_region(stack, sheet), _lines_of(every, sheet), fringe) for sheet in sorted(wanted)}
    shells = {sheet: shell for sheet, shell in shells.items() if not shell.is_empty}
    return _LaidOut(shells, joins, gaps, tuple(marks_of(every, shells)))


def _only(join: Join, sheets: set[str]) -> Join:
    held = tuple(h for h in join.held if h.sheet in sheets)
    return Join(join.name, join.role, join.piece, join.path, held, join.binds, join.step)


def _gap(stack: Stack, opening: Opening, sheets: set[str]) -> Join:
    """Return the join that closes an opening."""
    pair = {opening.below, opening.above} & sheets
    parts = [(p, shapely.intersection(opening.path, p.region)) for p in stack.layers if p.sheet in pair]
    held = tuple(Held(p.sheet, p.face, part.length, part, p.placing) for p, part in parts if part.length > MERGE)
    return Join("opening", None, None, opening.path, held)


def _reaching(opening: Opening, joins: Sequence[Join]) -> LineString:
    """Return the line of an opening, its ends moved to the ends of the seams it lies between when they are near."""
    pair = {opening.below, opening.above}
    ends = [shapely.get_coordinates(h.line.boundary) for j in joins for h in j.held if h.sheet in pair]
    places = np.concatenate([np.empty((0, 2)), *ends])
    line = shapely.get_coordinates(opening.path).copy()
    for end in (0, -1):
        away = np.hypot(*(places - line[end]).T)
        if len(places) and away.min() <= SEAM_END:
            line[end] = places[int(away.argmin())]
    return LineString(line)


def _own_region(stack: Stack, sheet: str) -> Region:
    """Return a sheet laid out flat in its own frame."""
    parts = [layer.placing.undone().shape(layer.region) for layer in stack.of(sheet)]
    return region_of(shapely.union_all(parts, grid_size=GRID))


def _lines_of(joins: Sequence[Join], sheet: str) -> list[BaseGeometry]:
    return [h.own_line for join in joins for h in join.held if h.sheet == sheet]


def _shell(region: Region, lines: Sequence[BaseGeometry], fringe: Mm) -> Region:
    """Return a sheet without its fringe; the whole sheet when nothing else is left."""
    rim = region.boundary
    net = shapely.union_all([rim, *lines], grid_size=GRID)
    cells = [c for c in shapely.get_parts(shapely.polygonize([net])) if region.contains(c.representative_point())]
    kept = [c for c in cells if not _is_fringe(c, rim, fringe)]
    return region_of(shapely.union_all(kept, grid_size=GRID)) if kept else region


def _is_fringe(cell: Polygon, rim: BaseGeometry, fringe: Mm) -> bool:
    along = shapely.intersection(cell.boundary, rim.buffer(MERGE))
    return bool(along.length > 10.0 * MERGE and shapely.buffer(cell, -fringe / 2.0).is_empty)


def _counted(shells: dict[str, Region], glue: Glue) -> Topology:
    euler = sum(1 - len(p.interiors) for r in shells.values() for p in shapely.get_parts(r))
    euler += glue.fewer_edges - glue.fewer_vertices
    return Topology(glue.components(shells), _loops(shells, glue), euler)


def _loops(shells: dict[str, Region], glue: Glue) -> int:
    """Count the loops of edges that are glued to nothing; loose ends meet where their places are one."""
    ends: list[tuple[int, int]] = []
    whole = 0
    for sheet, shell in shells.items():
        sewn = glue.sewn_edges(sheet)
        edge = (
            shell.boundary
            if sewn.is_empty
            else shapely.difference(shell.boundary, sewn.buffer(MERGE, cap_style="flat"))
        )
        for part in shapely.get_parts(shapely.line_merge(edge)):
            if part.is_ring:
                whole += 1
            elif part.length > 2.0 * NEAR:
                a, b = (glue.place(sheet, np.asarray(part.coords[k])) for k in (0, -1))
                ends.append((a, b))
    return whole + _circles(ends)


def _circles(ends: Sequence[tuple[int, int]]) -> int:
    """Count the connected groups of edges given by their ends."""
    group: dict[int, int] = {}

    def root(i: int) -> int:
        while group.setdefault(i, i) != i:
            i = group[i]
        return i

    for a, b in ends:
        group[root(a)] = root(b)
    return len({root(a) for a, _ in ends})
