"""Rough cuts: the smallest rectangle along the seam that still covers after flipping, with spare.

The raw edge stays one allowance past the seam. The rectangle starts as the box round the template; then the other three sides
(all four for a first patch) move out together until the simulated chance of failing is below the accepted one. Because a
side that moves out by s is overstepped by s less, the least s is read from the sorted trials, without a search.
Sizes are rounded up to whole millimetres.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
import shapely
from shapely.geometry import Polygon

from hoopwright.core.tolerances import COVER, SAME_PLACE
from hoopwright.core.types import Degrees, Mm, Point, Points
from hoopwright.piecing.allowances import Needed
from hoopwright.piecing.cover import Errors, at_risk, cover_of, edge_pairs, oversteps
from hoopwright.piecing.laying import Frame, angled_frame
from hoopwright.piecing.shapes import Cut
from hoopwright.piecing.templates import corners_of

CUT_STEP: Final = 1.0
"""Rough sizes are whole multiples of this, mm."""

HOOP_AXES_WITHIN: Final = 5.0
"""A first rectangle that would be turned by less than this many degrees is cut along the hoop instead (a choice)."""

HOOP_AXES_WASTE: Final = 1.05
"""A rectangle along the hoop is preferred when it needs at most this many times the least area (a choice)."""

RAW_SIDE: Final = 0
"""The lower side of the rectangle, which is the raw edge when there is a seam."""


def rough_cut(
    template: Polygon, needed: Needed, frame: Frame, sewn: bool, chance: float, errors: Errors, least: Mm = 0.0
) -> Cut:
    """Return the rough cut of a patch: a rectangle along ``frame``, as it will lie when flipped open.

    ``sewn`` says that the frame is that of a seam; else all four sides may grow. Each side that may move stands out at
    least ``least`` mm past the template.
    """
    low, high = _box(frame.local(shapely.get_coordinates(template.exterior)))
    spare = max(least, _spare(low, high, frame.local(needed.hull), sewn, chance, errors))
    width, height = high - low
    wide = _round_up(width + 2.0 * spare)
    tall = _round_up(height + (1.0 if sewn else 2.0) * spare)
    left = low[0] - (wide - width) / 2.0
    foot = low[1] if sewn else low[1] - (tall - height) / 2.0
    outline = frame.box(left, foot, left + wide, foot + tall)
    pivot = pivot_of(outline, frame, -float(low[1]) if sewn else None)
    cover = cover_of(outline, needed, pivot, errors)
    return Cut(outline, wide, tall, cover)


def pivot_of(cloth: Polygon, frame: Frame, allowance: Mm | None) -> Point:
    """Return the place about which a cloth is turned by mistake, as seen when flipped open.

    With a seam it is the middle of the raw edge, ``allowance`` mm behind the seam line; without (None) that of its box.
    """
    ring = frame.local(shapely.get_coordinates(cloth.exterior))
    low, high = _box(ring)
    middle = (low + high) / 2.0
    if allowance is not None:
        edge = ring[np.abs(ring[:, 1] + allowance) <= COVER, 0]
        middle = np.array([(edge.min() + edge.max()) / 2.0 if len(edge) else middle[0], -allowance])
    x, y = frame.hoop(middle[None, :])[0]
    return float(x), float(y)


def _box(local: Points) -> tuple[Points, Points]:
    return local.min(axis=0), local.max(axis=0)


def _round_up(length: Mm) -> Mm:
    return math.ceil((length - SAME_PLACE) / CUT_STEP) * CUT_STEP


def _spare(low: Points, high: Points, places: Points, sewn: bool, chance: float, errors: Errors) -> Mm:
    """Return how far the sides that may move must move out, in mm; all that helps when the raw edge alone fails."""
    box = np.array([low, (high[0], low[1]), high, (low[0], high[1])])
    middle = (float(low[0] + high[0]) / 2.0, float(low[1]) if sewn else float(low[1] + high[1]) / 2.0)
    risky = at_risk(edge_pairs(box, places, middle, errors))
    over = oversteps(risky, errors)
    fixed = (risky.edge == RAW_SIDE) & sewn
    lost = over[fixed].max(axis=0, initial=-math.inf) > COVER
    wanted = np.where(lost, math.inf, over[~fixed].max(axis=0, initial=0.0))
    allowed = math.ceil(chance * errors.trials) - 1
    ranked = np.sort(wanted)[::-1]
    least = ranked[allowed]
    return float(least) if math.isfinite(least) else float(max(0.0, np.max(wanted, where=~lost, initial=0.0)))


def first_frame(template: Polygon, keep_upright: bool) -> Frame:
    """Return the frame of the first patch's rectangle: the best turned one, along the hoop if that wastes little.

    ``keep_upright`` forbids turning, for cloth that has an up.
    """
    corners = corners_of(template)
    middle = (corners.min(axis=0) + corners.max(axis=0)) / 2.0
    angle = 0.0 if keep_upright else _best_angle(corners)
    return angled_frame((float(middle[0]), float(middle[1])), angle)


def _best_angle(corners: Points) -> Degrees:
    """Return the turn, from -45 to 45 degrees, of the rectangle to cut round these corners."""
    along = np.roll(corners, -1, axis=0) - corners
    angles = np.append(0.0, (np.degrees(np.arctan2(along[:, 1], along[:, 0])) + 45.0) % 90.0 - 45.0)
    turn = np.radians(angles)
    u = np.outer(np.cos(turn), corners[:, 0]) + np.outer(np.sin(turn), corners[:, 1])
    v = np.outer(np.cos(turn), corners[:, 1]) - np.outer(np.sin(turn), corners[:, 0])
    areas = np.ptp(u, axis=1) * np.ptp(v, axis=1)
    best = int(np.argmin(areas))
    plain = abs(angles[best]) <= HOOP_AXES_WITHIN or areas[0] <= areas[best] * HOOP_AXES_WASTE
    return 0.0 if plain else float(angles[best])
