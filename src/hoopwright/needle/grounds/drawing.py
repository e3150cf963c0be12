"""A ground that repeats the maker's own motif, and what she should know about the motif.

Words: a *figure* is the motif fitted into its cell; a *bridge* is a line the drawing does not have: it joins parts of the
figure that do not touch, or one figure to the next in its row.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import ARC_CHORD, FLAT, GRID, MERGE
from hoopwright.core.types import Mm, Points
from hoopwright.needle.grounds.along_edge import joined_along_edge
from hoopwright.needle.grounds.frame import Frame, clipped, frame_of, middles
from hoopwright.needle.grounds.shapes import Ground, GroundWish
from hoopwright.project.lengths import Units, show_measure

GAP: Final = 0.14
"""Room between neighbouring figures as part of the spacing (by eye)."""

LEAST_ROW: Final = 0.4
"""Rows of flat figures lie at least this part of the spacing apart."""

CROWDED: Final[Mm] = 1.5
"""Area of a cell over the length of its lines: below this the cloth grows stiff (common practice, no source)."""

MUCH: Final = 1.0 / 3.0
"""So much of a motif that ends free, and is sewn there and back, is worth a word."""

BOAT: Final = (
    LineString([(-0.5, 0), (-6, 0), (-5, -1.6), (-3.4, -2.7), (3.6, -2.7), (5.2, -1.6), (6.4, 0), (0.7, 0), (-0.5, 0)]),
    LineString([(-0.5, 0), (-0.5, 8.2), (-2.2, 4.4), (-4.9, 1.2), (-0.5, 0)]),
    LineString([(0.7, 0), (0.7, 9.4), (3.0, 6.6), (4.8, 3.6), (5.6, 1.0), (0.7, 0)]),
)
"""A little boat, repeated where no motif is given, as on the sheet of all grounds."""


@dataclass(frozen=True, slots=True, eq=False)
class Figure:
    """A motif fitted into its cell, its middle at the origin: lines, bridges inside, width, height of a row, and the bridge
    from its right end to the left end of the next figure; None where the figures run on into each other.
    """

    lines: tuple[LineString, ...]
    bridges: tuple[LineString, ...]
    width: Mm
    height: Mm
    link: LineString | None

    @property
    def whole(self) -> tuple[LineString, ...]:
        """All lines of one repeat."""
        return (*self.lines, *self.bridges, *([self.link] if self.link else []))


@lru_cache(maxsize=32)
def figure_of(motif: tuple[LineString, ...], spacing: Mm) -> Figure:
    """Return the motif fitted into a cell whose longer side is ``spacing``. ``motif`` holds at least one line."""
    left, low, right, high = shapely.total_bounds(motif)
    scale = (1.0 - GAP) * spacing / max(right - left, high - low, MERGE)
    middle = np.array([(left + right) / 2.0, (low + high) / 2.0])
    moved = shapely.transform(np.asarray(motif, dtype=np.object_), lambda points: (points - middle) * scale)
    lines = [line for line in shapely.simplify(moved, ARC_CHORD).tolist() if line.length > MERGE]
    width = float(right - left) * scale + (0.0 if _runs_on(lines) else GAP * spacing)
    height = max(float(high - low) * scale + GAP * spacing, LEAST_ROW * spacing)
    return Figure(tuple(lines), _bridges(lines), width, height, _link(lines, width))


def _bridges(lines: list[LineString]) -> tuple[LineString, ...]:
    """Return the shortest lines that join parts which do not touch."""
    row = np.asarray(lines, dtype=np.object_)
    one, other = shapely.STRtree(row).query(row, predicate="dwithin", distance=MERGE / 4.0)
    graph = coo_array((np.ones(len(one), dtype=np.int8), (one, other)), shape=(len(row), len(row)))
    count, names = connected_components(graph, directed=False)
    parts = [shapely.multilinestrings(row[names == k]) for k in range(count)]
    found: list[LineString] = []
    joined, waiting = [parts[0]], parts[1:]
    while waiting:
        away = [(float(shapely.distance(p, q)), i, j) for i, p in enumerate(joined) for j, q in enumerate(waiting)]
        _, i, j = min(away)
        found.append(shapely.shortest_line(joined[i], waiting[j]))
        joined.append(waiting.pop(j))
    return tuple(found)


def _runs_on(lines: list[LineString]) -> bool:
    """Return whether a figure comes in at its left and goes out at its right at one height, both free ends of lines."""
    points = shapely.get_coordinates(np.asarray(lines, dtype=np.object_))
    ends = np.concatenate([shapely.get_coordinates(line)[[0, -1]] for line in lines])
    places = [_outermost(points, side) for side in (1.0, -1.0)]
    free = all(int((np.hypot(*(ends - place).T) < MERGE).sum()) == 1 for place in places)
    return free and abs(float(places[0][1] - places[1][1])) < FLAT


def _link(lines: list[LineString], width: Mm) -> LineString | None:
    """Return a soft line from the rightmost place of a figure to the leftmost one of the next."""
    points = shapely.get_coordinates(np.asarray(lines, dtype=np.object_))
    start, end = _outermost(points, 1.0), _outermost(points - (-width, 0.0), -1.0)
    if end[0] - start[0] < MERGE:
        return None
    t = np.linspace(0.0, 1.0, 9)
    rise = t * t * (3.0 - 2.0 * t)
    return LineString(np.stack([start[0] + (end[0] - start[0]) * t, start[1] + (end[1] - start[1]) * rise], axis=-1))


def _outermost(points: Points, side: float) -> Points:
    """Return the place farthest to one side; of several the one nearest to the middle height."""
    reach = side * points[:, 0]
    far = points[reach >= reach.max() - MERGE]
    return np.array(far[np.argmin(np.abs(far[:, 1]))])


def drawing(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Rows of the maker's motif, of a boat where there is none, each row moved by half a figure."""
    return _repeated(part, wish, 0.5)


def drawing_rows(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Rows of the maker's motif, of a boat where there is none, one straight above the other."""
    return _repeated(part, wish, 0.0)


def _repeated(part: Polygon, wish: GroundWish, drop: float) -> tuple[LineString, ...]:
    figure = figure_of(wish.motif or BOAT, wish.spacing)
    frame = frame_of(part, wish.angle)
    places = _places(frame, figure, drop)
    copies = [frame.lines(np.asarray(line.coords)[None, :, :2] + places[:, None]) for line in figure.whole]
    return joined_along_edge(clipped(np.concatenate(copies), part, wish.spacing / 2.0), part)


def _places(frame: Frame, figure: Figure, drop: float) -> Points:
    """Return the middles of all figures that may show in a frame."""
    heights = middles(frame.half_height, figure.height, past=figure.height / 2.0)
    along = middles(frame.half_length, figure.width, past=2.0 * figure.width)
    rows = [
        np.stack([along + (k % 2) * drop * figure.width, np.full(len(along), v)], axis=-1)
        for k, v in enumerate(heights)
    ]
    return np.concatenate(rows)


def drawing_findings(region: BaseGeometry, wish: GroundWish, where: Where, units: Units = "mm") -> tuple[Finding, ...]:
    """Return what the maker should know about her motif as a ground of ``region``, its margin taken off."""
    if not wish.motif:
        return ()
    return tuple(_said(region, wish, where, units))


def _said(region: BaseGeometry, wish: GroundWish, where: Where, units: Units) -> Iterator[Finding]:
    figure = figure_of(wish.motif, wish.spacing)
    shown = show_measure(wish.spacing, units)
    room = figure.width * figure.height / sum(line.length for line in figure.whole)
    if room < CROWDED:
        message = f"Fitted into a cell of {shown}, the lines of your motif lie so close that the quilting grows stiff"
        yield Finding("HW350", Severity.WARNS, message, "A larger spacing, or a simpler drawing", where)
    if figure.bridges:
        count = len(figure.bridges)
        message = f"Your motif has {count + 1} parts that do not touch; short lines between them are sewn too"
        yield Finding("HW351", Severity.NOTES, message, "Draw it as lines that touch if you do not want them", where)
    again = _sewn_twice(figure)
    if again > MUCH:
        message = f"About {100 * again:.0f} % of your motif's lines end free and are sewn there and back"
        cure = "Draw it as one line that comes in at the left and goes out at the right, or as closed lines that touch"
        yield Finding("HW352", Severity.NOTES, message, cure, where)
    if not _shows(region, figure):
        message = f"No whole figure of your motif, {shown} in size, has room in the region: it only shows in pieces"
        yield Finding("HW353", Severity.WARNS, message, "A smaller spacing", where)


def _sewn_twice(figure: Figure) -> float:
    """Return which share of a repeat ends free, so that it is sewn there and back."""
    entry = _outermost(shapely.get_coordinates(np.asarray(figure.lines, dtype=np.object_)), -1.0)
    pieces = shapely.get_parts(shapely.line_merge(shapely.union_all(list(figure.whole), grid_size=GRID)))
    ends = shapely.get_coordinates(shapely.get_point(np.repeat(pieces, 2), np.tile([0, -1], len(pieces))))
    leaves_cell = np.hypot(*(ends - entry - (figure.width, 0.0)).T) < MERGE
    places = np.where(leaves_cell[:, None], entry, ends)
    met = (np.abs(places[:, None] - places[None]) < MERGE).all(axis=-1).sum(axis=1)
    lengths = shapely.length(pieces)
    return float(lengths[(met.reshape(-1, 2) == 1).any(axis=1)].sum() / lengths.sum())


def _shows(region: BaseGeometry, figure: Figure) -> bool:
    """Return whether a circle about a whole figure has room somewhere in a region."""
    corner = shapely.total_bounds(figure.lines)
    circle = float(np.hypot(corner[2] - corner[0], corner[3] - corner[1])) / 2.0
    parts: NDArray[np.object_] = shapely.get_parts(region)
    return any(
        shapely.length(shapely.maximum_inscribed_circle(p, tolerance=circle / 20.0)) >= 0.8 * circle for p in parts
    )


GROUNDS = (
    Ground(
        "drawing",
        "Own motif",
        "A motif of your own from an SVG drawing, in rows moved by half a figure.",
        20.0,
        8.0,
        0.0,
        drawing,
        network=True,
    ),
    Ground(
        "drawing-rows",
        "Own motif in rows",
        "A motif of your own from an SVG drawing, one row straight above the other.",
        20.0,
        8.0,
        0.0,
        drawing_rows,
        network=True,
    ),
)
