"""The cells a meander wanders among.

Words: the *wall* of a region is a row of places along its boundary; its *cover* a fine grid of places all over it; a
*site* the middle of a cell of about twice the spacing in width; a *neck* a place narrower than a cell.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.spatial import cKDTree
from shapely.geometry import MultiPolygon, Polygon

from hoopwright.core.types import Mm, Points

CROWDING: Final = 1.07
"""Cells of a meander for each square of twice the spacing: softened turns lose about as much length again."""
ROUNDS: Final = 8
"""Rounds in which sites move to the middle of their cells."""
DEPTHS: Final = (0.95, 0.8, 0.65, 0.47)
"""Depths below the boundary, in spacings, at which necks are looked for."""
GROWN: Final = 0.965
"""How far, as a part of what was taken off, a region is grown back: chords for arcs and fewer vertices must not make it larger."""
WALL_STEP: Final = 1 / 3
"""Step of the wall, in spacings. Below 1 no straight line between neighbouring sites leaves the region."""


def connected_parts(region: Polygon, spacing: Mm) -> tuple[Polygon, ...]:
    """Return the parts of ``region`` that are connected at ``spacing``: where a disc as wide as the spacing can roll.

    They are the pieces of the region with half the spacing taken off, each grown back. Pieces smaller than half a cell (two squares of
    the spacing) are left out.
    """
    core = shapely.get_parts(region.buffer(-spacing / 2))
    grown = (p.buffer(spacing / 2 * GROWN).simplify(spacing / 100) for p in core)
    return tuple(p for p in grown if isinstance(p, Polygon) and p.area >= 2 * spacing**2)


def wall_of(part: Polygon, spacing: Mm) -> Points:
    """Return places along the boundary of ``part``, no two neighbours more than a third of ``spacing`` apart."""
    rings = [shapely.get_coordinates(r.segmentize(spacing * WALL_STEP))[:-1] for r in (part.exterior, *part.interiors)]
    return np.concatenate(rings)


def cover_of(part: Polygon, pitch: Mm) -> Points:
    """Return the places of a square grid of ``pitch`` that lie inside ``part``."""
    left, low, right, high = part.bounds
    x, y = np.meshgrid(np.arange(left + pitch / 2, right, pitch), np.arange(low + pitch / 2, high, pitch))
    shapely.prepare(part)
    inside = shapely.contains_xy(part, x.ravel(), y.ravel())
    return np.column_stack([x.ravel()[inside], y.ravel()[inside]])


def sites_of(part: Polygon, cover: Points, wall: Points, spacing: Mm, rng: np.random.Generator) -> Points:
    """Return the middles of cells of like area that fill ``part``, and more along its necks."""
    count = max(1, round(CROWDING * part.area / (2 * spacing) ** 2))
    spread = _spread(cover, min(count, len(cover)), rng)
    clear = cKDTree(wall).query(spread)[0]
    return with_necks(part, spread[clear >= DEPTHS[-1] * spacing], spacing)


def _spread(cover: Points, count: int, rng: np.random.Generator) -> Points:
    """Return ``count`` places spread evenly over the cover: each moves to the middle of what is nearest to it, again and again."""
    sites = cover[np.sort(rng.choice(len(cover), count, replace=False))]
    for _ in range(ROUNDS):
        sites = middles(cover, sites)[0]
    return sites


def middles(cover: Points, places: Points) -> tuple[Points, NDArray[np.float64]]:
    """Return for each place the middle of the cover nearest to it (the place itself if there is none), and how much that is."""
    nearest = cKDTree(places).query(cover)[1]
    share = np.bincount(nearest, minlength=len(places)).astype(np.float64)
    total = [np.bincount(nearest, cover[:, axis], minlength=len(places)) for axis in (0, 1)]
    found = np.column_stack(total) / np.maximum(share, 1.0)[:, None]
    return np.where(share[:, None] > 0, found, places), share


def with_necks(part: Polygon, sites: Points, spacing: Mm, share: float = 1.0, least: float = 0.9) -> Points:
    """Return ``sites`` and more in the necks of ``part``.

    Each is as far from the others as ``share`` of its depth below the boundary, and ``least`` spacings.
    """
    kept = sites.tolist()
    for depth, place in _narrow(part, spacing):
        apart = max(share * depth, least) * spacing
        if all(math.hypot(place[0] - x, place[1] - y) >= apart for x, y in kept):
            kept.append(place)
    return np.array(kept, dtype=np.float64).reshape(-1, 2)


def _narrow(part: Polygon, spacing: Mm) -> list[tuple[float, list[float]]]:
    """Return places along the middle of the necks, each with its depth below the boundary in spacings, deepest first."""
    found = []
    reached: Polygon | MultiPolygon = Polygon()
    deeper = DEPTHS[0]
    for depth in DEPTHS:
        inner = part.buffer(-depth * spacing)
        rest = inner.boundary.difference(reached.buffer((deeper - depth + 0.02) * spacing))
        places = shapely.get_coordinates(rest.segmentize(spacing / 4)).tolist()
        found += [(depth, place) for place in places]
        reached, deeper = inner, depth
    return found
