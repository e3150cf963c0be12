"""A motif of the maker's own, fitted into its cell and made ready to be repeated in rows.

Words: a *figure* is the motif fitted into its cell; a *bridge* is a line the drawing does not have: it joins parts of the
figure that do not touch; a *link* leads from one figure to the next in its row; a *twig* is what ends free: it must be
sewn there and back, so it becomes a *hairpin*, two lines a hair apart.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree
from shapely.affinity import translate
from shapely.geometry import LineString

from hoopwright.core.tolerances import ARC_CHORD, FLAT, GRID, MERGE
from hoopwright.core.types import Mm, Points

GAP: Final = 0.14
"""Room between neighbouring figures as part of the spacing (by eye)."""

LEAST_ROW: Final = 0.4
"""Rows of flat figures lie at least this part of the spacing apart."""

HAIR: Final[Mm] = 0.04
"""Distance between the two lines of a hairpin: less than a step of the machine."""


@dataclass(frozen=True, slots=True, eq=False)
class Figure:
    """A motif fitted into its cell, its middle at the origin: its lines, bridges, and what is sewn for one repeat.

    ``width`` is from figure to figure in a row, ``height`` from row to row. ``link`` is None where figures run on into each
    other. ``free`` is the share of a repeat that ends free.
    """

    lines: tuple[LineString, ...]
    bridges: tuple[LineString, ...]
    link: LineString | None
    width: Mm
    height: Mm
    sewn: tuple[LineString, ...]
    free: float


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
    bridges, link = _bridges(lines), _link(lines, width)
    sewn, free = _sewn([*lines, *bridges], link, width)
    return Figure(tuple(lines), bridges, link, width, height, sewn, free)


def _bridges(lines: list[LineString]) -> tuple[LineString, ...]:
    """Return the shortest lines that join parts which do not touch (the nearest part is joined first)."""
    row = np.asarray(lines, dtype=np.object_)
    one, other = shapely.STRtree(row).query(row, predicate="dwithin", distance=MERGE / 4.0)
    count, names = connected_components(coo_array((np.ones(len(one)), (one, other)), shape=(len(row), len(row))))
    parts = np.array([shapely.multilinestrings(row[names == k]) for k in range(count)], dtype=np.object_)
    found: list[LineString] = []
    away = np.asarray(shapely.distance(parts, parts[0]))
    nearest = np.zeros(count, dtype=np.intp)
    away[0] = np.inf
    while np.isfinite(away).any():
        k = int(np.argmin(away))
        found.append(shapely.shortest_line(parts[nearest[k]], parts[k]))
        waiting = np.isfinite(away)
        to_new = np.where(waiting, shapely.distance(parts, parts[k]), np.inf)
        nearest[to_new < away] = k
        away = np.minimum(away, to_new)
        away[k] = np.inf
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


def _sewn(lines: list[LineString], link: LineString | None, width: Mm) -> tuple[tuple[LineString, ...], float]:
    """Return what is sewn for one repeat, twigs as hairpins, and the share of it that they are.

    The link is sewn twice where that spares a walk round half the figure: where it joins two odd places.
    """
    links = [link, translate(link, -width)] if link else []
    pieces = shapely.get_parts(shapely.union_all([*lines, *links], grid_size=GRID))
    if links:
        pieces = pieces[~_same(pieces, links[1])]
    joins = _joins(pieces, _outermost(shapely.get_coordinates(np.asarray(lines, dtype=np.object_)), -1.0), width)
    twice = _twigs(joins)
    lengths = shapely.length(pieces)
    free = float(lengths[twice].sum() / lengths.sum())
    meet = np.bincount(joins[~twice].ravel(), minlength=int(joins.max()) + 1)
    if link is not None:
        twice |= _same(pieces, link) & (meet[joins] % 2 == 1).all(axis=1)
    return tuple(_hairpin(p) if again else p for p, again in zip(pieces.tolist(), twice, strict=True)), free


def _same(pieces: NDArray[np.object_], line: LineString) -> NDArray[np.bool_]:
    """Return which pieces are this line, in whichever direction."""
    return np.asarray(shapely.equals_exact(shapely.normalize(pieces), shapely.normalize(line), MERGE), dtype=np.bool_)


def _joins(pieces: NDArray[np.object_], entry: Points, width: Mm) -> NDArray[np.intp]:
    """Return the numbers of the two places each piece joins; where a figure ends its neighbour begins."""
    index = np.repeat(pieces, 2)
    ends = shapely.get_coordinates(shapely.get_point(index, np.tile([0, -1], len(pieces))))
    goes_out = np.hypot(ends[:, 0] - entry[0] - width, ends[:, 1] - entry[1]) < 2.0 * MERGE
    ends[goes_out] = entry
    near = cKDTree(ends).query_pairs(MERGE, p=np.inf, output_type="ndarray")
    table = coo_array((np.ones(len(near)), (near[:, 0], near[:, 1])), shape=(len(ends), len(ends)))
    return np.asarray(connected_components(table)[1], dtype=np.intp).reshape(-1, 2)


def _twigs(joins: NDArray[np.intp]) -> NDArray[np.bool_]:
    """Return which pieces lead to nothing but a free end."""
    twig = np.zeros(len(joins), dtype=np.bool_)
    while True:
        meet = np.bincount(joins[~twig].ravel(), minlength=int(joins.max()) + 1)
        more = ~twig & (meet[joins] == 1).any(axis=1)
        if not more.any():
            return twig
        twig |= more


def _hairpin(line: LineString) -> LineString:
    """Return a line there and back, the way back a hair to the side."""
    there = np.asarray(line.coords)[:, :2]
    if len(there) == 2:
        there = np.array([there[0], there.mean(axis=0), there[1]])
    along = np.gradient(there, axis=0)
    aside = np.stack([-along[:, 1], along[:, 0]], axis=-1) / np.maximum(np.hypot(*along.T), MERGE)[:, None]
    aside[[0, -1]] = 0.0
    return LineString(np.vstack([there, (there + HAIR * aside)[-2::-1]]))
