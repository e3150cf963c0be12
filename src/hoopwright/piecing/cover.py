"""Does a cloth still cover its patch when the hand lays it a little off?

The model: the cloth is laid with its raw edge moved by up to ``shift`` mm in any direction and turned by up to
``turn`` degrees about the middle of the raw edge. The machine sews the seam where it always does, so the flip is about
the true seam line. Mirrored over that line, the error is again a shift and a turn of the same size, the turn about the
mirrored middle; so errors are drawn directly for the flipped cloth, turning about ``pivot``.

A laying fails when some place where cloth is needed (see ``allowances.needed_cloth``) is bare. For a convex cloth
that can be told edge by edge: edge i, with outward normal n at height h, uncovers a needed place p under turn t
and shift d by

    R(t) n . (p - pivot - d) - (h - n . pivot),      R(t) the turn by t

and a set of places is covered when its outermost ones are. Over all errors the largest value is found exactly: the
shift adds its whole length, and |p - pivot| cos(angle - t) is largest at the turn nearest to ``angle``. Pairs of edge
and place that stay covered in the worst case cannot fail in any trial, so only the others are simulated.

A cloth with dents is tested as a polygon in each trial that could fail; its worst case is an upper bound: the way a
place of the needed region's rim can move less its distance from the cloth's rim.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon
from shapely.geometry.polygon import orient

from hoopwright.core.tolerances import COVER
from hoopwright.core.types import Degrees, Mm, Point, Points
from hoopwright.piecing.allowances import Needed
from hoopwright.piecing.shapes import Cover
from hoopwright.piecing.templates import is_convex

RIM_STEP: Final = 0.25
"""Spacing of the places looked at along the rim of a needed region when the cloth has dents, mm."""


@dataclass(frozen=True, slots=True, eq=False)
class Errors:
    """Simulated placing errors: ``shifts`` (n, 2) mm, ``turns`` (n,) radians, and the largest shift and turn."""

    shifts: Points
    turns: NDArray[np.float64]
    shift: Mm
    turn: float

    @property
    def trials(self) -> int:
        """Number of simulated layings."""
        return len(self.turns)


@dataclass(frozen=True, slots=True, eq=False)
class Pairs:
    """Needed places paired with edges of a cloth: ``edge`` (m,), ``ahead`` and ``aside`` (m,) are the place seen from
    the pivot, along the edge's outward normal and a quarter turn further; ``height`` (m,) is the edge's distance from the
    pivot, ``normal`` (m, 2) its normal. ``worst`` (m,) is the largest overstep over all errors."""

    edge: NDArray[np.intp]
    ahead: NDArray[np.float64]
    aside: NDArray[np.float64]
    height: NDArray[np.float64]
    normal: Points
    worst: NDArray[np.float64]


def draw_errors(shift: Mm, turn: Degrees, trials: int, seed: int) -> Errors:
    """Return ``trials`` placing errors, evenly spread over the disc of ``shift`` mm and over turns up to ``turn`` degrees."""
    dice = np.random.default_rng(seed)
    length = shift * np.sqrt(dice.random(trials))
    way = dice.random(trials) * 2.0 * math.pi
    limit = math.radians(turn)
    turns = (dice.random(trials) * 2.0 - 1.0) * limit
    shifts = np.column_stack([length * np.cos(way), length * np.sin(way)])
    for array in (shifts, turns):
        array.setflags(write=False)  # they are kept from plan to plan
    return Errors(shifts, turns, shift, limit)


def cover_of(cloth: Polygon, needed: Needed, pivot: Point, errors: Errors) -> Cover:
    """Return how surely ``cloth``, as it should lie when flipped open, covers what is needed under placing errors."""
    if not is_convex(cloth):
        return _dented_cover(cloth, needed, np.array(pivot), errors)
    pairs = edge_pairs(shapely.get_coordinates(orient(cloth).exterior)[:-1], needed.hull, pivot, errors)
    risky = at_risk(pairs)
    over = oversteps(risky, errors)
    failed = int((over.max(axis=0, initial=-math.inf) > COVER).sum())
    return Cover(max(0.0, float(pairs.worst.max())), failed / errors.trials, errors.trials)


def edge_pairs(cloth: Points, places: Points, pivot: Point, errors: Errors) -> Pairs:
    """Pair every edge of a convex cloth with the places that can be outermost across it at a turn within the limit.

    ``cloth`` and ``places`` are corners of convex shapes, counter-clockwise. While an edge turns from one limit to the
    other, the outermost places across it take their turns in order round the shape.
    """
    middle = np.array(pivot)
    along = np.roll(cloth, -1, axis=0) - cloth
    normal = np.column_stack([along[:, 1], -along[:, 0]]) / np.hypot(along[:, 0], along[:, 1])[:, None]
    hull = places - middle
    quarter = np.column_stack([-normal[:, 1], normal[:, 0]])
    ahead, aside = normal @ hull.T, quarter @ hull.T
    first = np.argmax(ahead * math.cos(errors.turn) - aside * math.sin(errors.turn), axis=1)[:, None]
    last = np.argmax(ahead * math.cos(errors.turn) + aside * math.sin(errors.turn), axis=1)[:, None]
    count = len(hull)
    edge, place = np.nonzero((np.arange(count) - first) % count <= (last - first) % count)
    height = (normal * (cloth - middle)).sum(axis=1)[edge]
    a, b = ahead[edge, place], aside[edge, place]
    return Pairs(edge, a, b, height, normal[edge], _worst(a, b, errors) - height)


def _worst(ahead: NDArray[np.float64], aside: NDArray[np.float64], errors: Errors) -> NDArray[np.float64]:
    """Return the furthest a place comes ahead over all errors."""
    angle = np.arctan2(aside, ahead)
    off = angle - np.clip(angle, -errors.turn, errors.turn)
    return np.asarray(np.hypot(ahead, aside) * np.cos(off) + errors.shift)


def at_risk(pairs: Pairs) -> Pairs:
    """Return the pairs that are uncovered by some error."""
    keep = pairs.worst > COVER
    return Pairs(*(getattr(pairs, name)[keep] for name in ("edge", "ahead", "aside", "height", "normal", "worst")))


def oversteps(pairs: Pairs, errors: Errors) -> NDArray[np.float64]:
    """Return by how many mm each place is bare across its edge in each trial, shape (pairs, trials); below 0: covered."""
    cos, sin = np.cos(errors.turns), np.sin(errors.turns)
    turned_x = pairs.normal[:, :1] * cos - pairs.normal[:, 1:] * sin
    turned_y = pairs.normal[:, :1] * sin + pairs.normal[:, 1:] * cos
    moved = turned_x * errors.shifts[:, 0] + turned_y * errors.shifts[:, 1]
    return np.asarray(np.outer(pairs.ahead, cos) + np.outer(pairs.aside, sin) - moved - pairs.height[:, None])


def _dented_cover(cloth: Polygon, needed: Needed, pivot: Points, errors: Errors) -> Cover:
    """Return the cover of a cloth with dents: see the module's head."""
    region = needed.region()
    rim = shapely.get_coordinates(shapely.segmentize(region.exterior, RIM_STEP))[:-1]
    reach = np.hypot(*(rim - pivot).T)
    places = shapely.points(rim)
    outside = np.where(shapely.covers(cloth, places), -1.0, 1.0)
    signed = outside * shapely.distance(places, cloth.exterior)
    slack = RIM_STEP / 2.0 * (1.0 + 2.0 * math.sin(errors.turn / 2.0))
    worst = float((errors.shift + 2.0 * math.sin(errors.turn / 2.0) * reach + signed).max()) + slack
    moves = np.hypot(*errors.shifts.T)[:, None] + 2.0 * np.abs(np.sin(errors.turns / 2.0))[:, None] * reach.max()
    risky = np.flatnonzero(moves[:, 0] + signed.max() + slack > COVER)
    failed = int(_bare(cloth, region, pivot, errors, risky).sum())
    return Cover(max(0.0, worst), failed / errors.trials, errors.trials)


def _bare(cloth: Polygon, region: Polygon, pivot: Points, errors: Errors, risky: NDArray[np.intp]) -> NDArray[np.bool_]:
    """Return for each of the ``risky`` trials whether the moved cloth leaves part of ``region`` bare."""
    ring = shapely.get_coordinates(region.exterior)
    cos, sin = np.cos(errors.turns[risky])[:, None], np.sin(errors.turns[risky])[:, None]
    x = ring[:, 0] - pivot[0] - errors.shifts[risky, :1]
    y = ring[:, 1] - pivot[1] - errors.shifts[risky, 1:]
    back = np.stack([cos * x + sin * y, cos * y - sin * x], axis=2) + pivot
    roomy = cloth.buffer(COVER)
    shapely.prepare(roomy)
    return np.asarray(~shapely.covers(roomy, shapely.polygons(back))) if len(risky) else np.zeros(0, dtype=bool)
