"""From a drawn motif to one continuous run: net, ribs, rim."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Final

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry import LineString, Point

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Points, frozen_points
from hoopwright.core.types import Point as Place
from hoopwright.needle.accents.columns import FINE, column
from hoopwright.needle.accents.edges import part_of
from hoopwright.needle.accents.lattice import along_rim, to_and_fro
from hoopwright.needle.accents.shapes import SPACING, Accent, AccentWish, Growth, Rib
from hoopwright.needle.accents.table import MOTIFS
from hoopwright.needle.lines import even_stitches

RUN: Final[Mm] = 2.0
"""Stitches of the net and of the runs below columns, mm (common practice, 2.0 to 2.5)."""

PASSES: Final = 2
"""How often each family of the net is sewn, in turn with the other: first over, then under the same threads."""

PAST_START: Final[Mm] = 3.0
"""How far the rim is sewn on past its start, mm, so that it cannot open (common practice, no source); half as dense, for it
lies on itself."""

LAPPED: Final[Mm] = 0.5
"""How far the column of a rib reaches under the rim, mm: enough for some of its stitches to be crossed, no lump (by eye)."""

SIZING: Final = 4
"""So many times a motif is drawn until its size is the wished one."""

DOT: Final[Mm] = 1.2
"""Radius of a knotted dot, mm (by eye)."""


@lru_cache(maxsize=256)
def sewn_accent(wish: AccentWish, shortest: Mm = 1.0) -> Accent:
    """Return an accent sewn as one continuous run, in its own frame."""
    growth = grown(wish)
    points = accent_points(growth, shortest)
    return Accent(wish, points, growth.outline, growth.spine)


@lru_cache(maxsize=256)
def grown(wish: AccentWish) -> Growth:
    """Return the motif drawn so that its outer edge has the wished size."""
    motif = MOTIFS[wish.motif]
    scale = wish.size
    for _ in range(SIZING):
        drawn = motif.draw(wish, scale)
        scale *= wish.size / extent(drawn)
    return centred(motif.draw(wish, scale))


def extent(growth: Growth) -> Mm:
    """Return the longest extent of a motif, mm."""
    left, low, right, high = growth.outline.bounds
    return max(right - left, high - low)


def centred(growth: Growth) -> Growth:
    """Return a motif moved so that the middle of its bounds is the origin."""
    left, low, right, high = growth.outline.bounds
    dx, dy = -(left + right) / 2.0, -(low + high) / 2.0

    def moved(line: LineString) -> LineString:
        return affinity.translate(line, dx, dy)

    def rib(one: Rib) -> Rib:
        return Rib(
            moved(one.line),
            one.root,
            one.tip,
            tuple((at, rib(c)) for at, c in one.children),
            tuple((at, rib(c)) for at, c in one.late),
            tuple((x + dx, y + dy) for x, y in one.dots),
        )

    nets = tuple(tuple(moved(line) for line in net) for net in growth.nets)
    return Growth(affinity.translate(growth.rim, dx, dy), rib(growth.tree), nets, moved(growth.spine), growth.width)


def accent_points(growth: Growth, shortest: Mm) -> Points:
    """Return the needle positions of a motif: its net, its ribs from the tree's root and back, its rim."""
    rim = LineString(growth.rim.exterior.coords)
    root = rim.project(Point(growth.tree.line.coords[0]))
    start = clear_place(growth, rim, root)
    rows = [
        *net_rows(growth, rim, root, shortest),
        *rib_rows(growth.tree, rim, growth.width, shortest),
        run(LineString(along_rim(rim, root, start)), shortest),
        *rim_rows(growth, rim, start, shortest),
    ]
    return joined(rows, shortest)


def clear_place(growth: Growth, rim: LineString, root: Mm) -> Mm:
    """Return where on the rim its column begins and runs over its own start: clear of ribs and bends, not far from the root."""
    tips = np.array([rim.project(Point(r.line.coords[k])) for r in ribs_of(growth.tree) for k in (0, -1)])
    offs = np.array([rim.distance(Point(r.line.coords[k])) for r in ribs_of(growth.tree) for k in (0, -1)])
    tips = tips[offs < 0.1]
    best, found = -np.inf, root
    for at in np.linspace(0.0, rim.length, 240, endpoint=False).tolist():
        ahead = (tips - at - PAST_START / 2.0) % rim.length
        clear = float(np.minimum(ahead, rim.length - ahead).min())
        bend = bend_of(rim, at, PAST_START)
        away = min((at - root) % rim.length, (root - at) % rim.length)
        worth = min(clear, 6.0) - 6.0 * bend - 0.05 * away
        if worth > best + 1e-6:
            best, found = worth, at
    return found


def bend_of(rim: LineString, start: Mm, by: Mm) -> float:
    """Return how much longer the rim is than the straight way, over ``by`` mm from a place: 0 for a straight one."""
    row = along_rim(rim, start, start + by)
    return float(np.hypot(*np.diff(row, axis=0).T).sum() / max(math.dist(row[0], row[-1]), SAME_PLACE) - 1.0)


def ribs_of(rib: Rib) -> list[Rib]:
    """Return a rib and all that grow from it."""
    return [rib, *(r for _, child in (*rib.children, *rib.late) for r in ribs_of(child))]


def net_rows(growth: Growth, rim: LineString, root: Mm, shortest: Mm) -> list[Points]:
    """Return the net: every family PASSES times, in turn, beginning and ending at ``root``."""
    rows, at = [], root
    for _ in range(PASSES):
        for net in growth.nets:
            row, at = to_and_fro(rim, net, at)
            rows.append(row)
    rows.append(along_rim(rim, at, root))
    return [run(LineString(np.vstack([r for r in rows if len(r)])), shortest)]


def rib_rows(rib: Rib, rim: LineString, width: Mm, shortest: Mm) -> list[Points]:
    """Return a rib with all that grows from it: along its middle to the tip, then the column back to the root.

    Where it meets the rim, ``width`` mm wide, its column only reaches LAPPED under it.
    """
    rows, at = [], 0.0
    for place, child in sorted(rib.children, key=lambda c: c[0]):
        rows += [*stretch(rib.line, at, place, shortest), *rib_rows(child, rim, width, shortest)]
        at = place
    rows += stretch(rib.line, at, rib.line.length, shortest)
    rows += [dot(p) for p in rib.dots]
    at = rib.line.length
    for place, child in rib.late:
        rows += [*stretch(rib.line, at, place, shortest), *rib_rows(child, rim, width, shortest)]
        at = place
    first, last = lapped(rib.line, at, rim, width / 2.0 - LAPPED)
    wide, slim = (rib.root + (rib.tip - rib.root) * s / rib.line.length for s in (last, first))
    rows += stretch(rib.line, at, last, shortest)
    return [*rows, column(part_of(rib.line, last, first), wide, slim), *stretch(rib.line, first, 0.0, shortest)]


def lapped(line: LineString, end: Mm, rim: LineString, off: Mm) -> tuple[Mm, Mm]:
    """Return from where to where a rib that is a column from its root to ``end`` lies at least ``off`` mm from the rim's middle."""
    stops = np.linspace(0.0, end, max(8, int(end / FINE)) + 1)
    away = shapely.distance(shapely.line_interpolate_point(line, stops), rim)
    clear = np.flatnonzero(away >= off)
    return (float(stops[clear[0]]), float(stops[clear[-1]])) if len(clear) else (0.0, end)


def rim_rows(growth: Growth, rim: LineString, root: Mm, shortest: Mm) -> list[Points]:
    """Return the rim: once round as a run, then round as a column and on past its start."""
    ring = LineString(np.vstack([_round(rim, root), _round(rim, root)[1:2]])[:-1])
    satin = column(ring, growth.width, growth.width)
    again = column(part_of(ring, 0.0, PAST_START), growth.width, growth.width, 2.0 * SPACING)
    return [run(ring, shortest), satin, again[1:]]


def _round(rim: LineString, start: Mm) -> Points:
    """Return the rim as a closed row that begins at ``start``."""
    if start <= SAME_PLACE:
        return shapely.get_coordinates(rim)
    first, second = part_of(rim, start, rim.length), part_of(rim, 0.0, start)
    return np.vstack([shapely.get_coordinates(first), shapely.get_coordinates(second)[1:]])


def dot(at: Place) -> Points:
    """Return a knotted dot: seven stitches across a place, each turned against the one before."""
    turns = [2.0 * math.pi * 3.0 * k / 7.0 for k in range(8)]
    return frozen_points([(at[0] + math.cos(t) * DOT, at[1] + math.sin(t) * DOT) for t in turns])


def stretch(line: LineString, start: Mm, end: Mm, shortest: Mm) -> list[Points]:
    """Return a run along a part of a line, nothing when it has no length."""
    if abs(end - start) <= SAME_PLACE:
        return []
    return [run(part_of(line, start, end), shortest)]


def run(line: LineString, shortest: Mm) -> Points:
    """Return a plain run along a line."""
    return even_stitches(line, RUN, shortest)


def joined(rows: list[Points], shortest: Mm) -> Points:
    """Return rows as one run without stitches shorter than ``shortest``."""
    kept: list[Points] = []
    for point in np.vstack(rows):
        if not kept or math.dist(kept[-1], point) >= shortest:
            kept.append(point)
    return frozen_points(kept)
