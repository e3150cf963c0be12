"""From a drawn motif to one continuous run: net, ribs, rim."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Final

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry import LineString, Point
from shapely.ops import substring

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Points, frozen_points
from hoopwright.core.types import Point as Place
from hoopwright.needle.accents.columns import column
from hoopwright.needle.accents.lattice import along_rim, to_and_fro
from hoopwright.needle.accents.shapes import Accent, AccentWish, Growth, Rib
from hoopwright.needle.accents.table import MOTIFS
from hoopwright.needle.lines import even_stitches

RUN: Final[Mm] = 2.0
"""Stitches of the net and of the runs below columns, mm (common practice, 2.0 to 2.5)."""

PASSES: Final = 2
"""How often each family of the net is sewn, in turn with the other: first over, then under the same threads."""

PAST_START: Final[Mm] = 4.0
"""How far the rim is sewn on past its start, mm, so that it cannot open (common practice, no source)."""

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
    rows = [
        *net_rows(growth, rim, root, shortest),
        *rib_rows(growth.tree, shortest),
        *rim_rows(growth, rim, root, shortest),
    ]
    return joined(rows, shortest)


def net_rows(growth: Growth, rim: LineString, root: Mm, shortest: Mm) -> list[Points]:
    """Return the net: every family PASSES times, in turn, beginning and ending at ``root``."""
    rows, at = [], root
    for _ in range(PASSES):
        for net in growth.nets:
            row, at = to_and_fro(rim, net, at)
            rows.append(row)
    rows.append(along_rim(rim, at, root))
    return [run(LineString(np.vstack([r for r in rows if len(r)])), shortest)]


def rib_rows(rib: Rib, shortest: Mm) -> list[Points]:
    """Return a rib with all that grows from it: along its middle to the tip, then the column back to the root."""
    rows, at = [], 0.0
    for place, child in sorted(rib.children, key=lambda c: c[0]):
        rows += [*stretch(rib.line, at, place, shortest), *rib_rows(child, shortest)]
        at = place
    rows += stretch(rib.line, at, rib.line.length, shortest)
    rows += [dot(p) for p in rib.dots]
    at = rib.line.length
    for place, child in rib.late:
        rows += [*stretch(rib.line, at, place, shortest), *rib_rows(child, shortest)]
        at = place
    back = substring(rib.line, at, 0.0)
    wide = rib.root + (rib.tip - rib.root) * at / rib.line.length
    return [*rows, column(back, wide, rib.root)]


def rim_rows(growth: Growth, rim: LineString, root: Mm, shortest: Mm) -> list[Points]:
    """Return the rim: once round as a run, then round as a column and on past its start."""
    ring = LineString(np.vstack([_round(rim, root), _round(rim, root)[1:2]])[:-1])
    satin = column(ring, growth.width, growth.width)
    again = column(substring(ring, 0.0, PAST_START), growth.width, growth.width)
    return [run(ring, shortest), satin, again[1:]]


def _round(rim: LineString, start: Mm) -> Points:
    """Return the rim as a closed row that begins at ``start``."""
    rows = [substring(rim, start, rim.length), substring(rim, 0.0, start)]
    first, second = (shapely.get_coordinates(r) for r in rows)
    return np.vstack([first, second[1:]]) if start > SAME_PLACE else first


def dot(at: Place) -> Points:
    """Return a knotted dot: seven stitches across a place, each turned against the one before."""
    turns = [2.0 * math.pi * 3.0 * k / 7.0 for k in range(8)]
    return frozen_points([(at[0] + math.cos(t) * DOT, at[1] + math.sin(t) * DOT) for t in turns])


def stretch(line: LineString, start: Mm, end: Mm, shortest: Mm) -> list[Points]:
    """Return a run along a part of a line, nothing when it has no length."""
    if abs(end - start) <= SAME_PLACE:
        return []
    return [run(substring(line, start, end), shortest)]


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
