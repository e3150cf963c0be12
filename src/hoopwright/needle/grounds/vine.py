"""A wandering vine: one stem with leaves on both sides.

Words: the *course* is the even line the stem sways about; a *bay* is the room on the hollow side of a bend, where the
large leaves grow; the *foot* of a leaf is where it leaves the stem.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter1d
from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Mm, Points
from hoopwright.needle.grounds.frame import clipped_rows, frame_of, middles
from hoopwright.needle.grounds.midline import Midline, midline
from hoopwright.needle.grounds.serpentine import serpentine
from hoopwright.needle.grounds.shapes import Ground, GroundWish
from hoopwright.needle.grounds.tiles import smooth_loop

STEP: Final[Mm] = 0.7
"""Distance between the places a stem is drawn with."""

BAND: Final = 1.0
"""A region is a band when its usual clearance is at most this part of the spacing: one stem fills it."""

LONG: Final = 4.5
"""The midline of a band that is no ring is at least so many clearances long."""

TO_BAND: Final = 1.9
LEAST_SIZE: Final = 0.5
MOST_SIZE: Final = 1.3
"""In a band the vine is drawn as if its spacing were so many clearances, within these parts of the spacing wished for."""

SWAY: Final = 0.23
SWAY_OF_ROOM: Final = 0.4
"""A stem sways by this part of the spacing, but at most by that part of its clearance (by eye)."""

WAVE: Final = 1.5
"""Length of a stem's wave in spacings (by eye)."""

SOFT: Final = 0.32
"""Corners of a course are rounded over this part of the spacing (by eye)."""

CALMER: Final = (1.0, 0.6, 0.3, 0.1)
"""Shares of sway and softness that are tried until the stem stays inside its region."""

OFF_EDGE: Final = 0.42
"""In a wide region the outermost course stays this part of the spacing off the edge."""

WITHIN: Final = 0.995
"""The outermost rows lie at this part of a room's half height, so that they run through it and not along its edge."""

SIZES: Final = (1.0, 0.86, 0.72, 0.58, 0.44, 0.32)
"""Sizes tried for a leaf, the largest that has room is taken."""

LEAST_LEAF: Final[Mm] = 2.5
"""A shorter leaf would be a knot of stitches."""

BUDS: Final = (
    (0.14, -1.0, 0.74, 1.05),
    (0.4, 1.0, 0.56, 0.8),
    (0.62, -1.0, 0.5, 1.0),
    (0.85, 1.0, 0.42, 0.9),
    (0.45, -1.0, 0.6, 1.5),
    (0.1, 1.0, 0.44, 0.75),
    (0.7, 1.0, 0.44, 1.3),
)
"""The leaves of half a wave: place of the foot in the half wave, side (+1 where the stem bulges), length in spacings, angle
to the stem in radians (by eye)."""

WIDE: Final = 0.3
STALK: Final = 0.16
VEIN: Final = 0.62
"""Half the width of a leaf, its stalk and its vein as parts of its length (by eye)."""

END_LEAF: Final = 0.5
"""Length in spacings of the leaf at a free end."""

SHAKE: Final = 0.06
"""Leaves turn by up to so many radians more or less, as the seed has it: no two waves are quite alike."""

GAP: Final = 0.055
"""A leaf stays this part of the spacing off edge, stem and other leaves (by eye)."""

VEINED: Final[Mm] = 7.0
"""Leaves at least so long get a vein."""


@dataclass(frozen=True, slots=True, eq=False)
class _Stem:
    """A stem: its places, evenly spaced along its course, the whole waves it makes, whether it is closed."""

    points: Points
    waves: int
    closed: bool


@dataclass(frozen=True, slots=True, eq=False)
class _Buds:
    """Leaves wished for, alike but for place and turn: rows of their feet in the stem, sides (+1 left), directions (radians).

    ``length`` is their largest length (mm), ``wide`` half their width to it.
    """

    feet: NDArray[np.intp]
    sides: NDArray[np.float64]
    directions: NDArray[np.float64]
    length: Mm
    wide: float


@dataclass(frozen=True, slots=True, eq=False)
class _Leaf:
    """A leaf that has room: row of its foot in the stem, its line from the foot and back, its outline."""

    foot: int
    line: Points
    outline: Polygon


def vine(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """A stem that sways along the middle of a band, or to and fro in a wide region, with leaves as large as have room."""
    lines = []
    for course, closed, spacing in _courses(part, wish):
        sized = replace(wish, spacing=spacing)
        stem = _swaying(course, closed, part, sized)
        if stem is not None:
            lines.append(LineString(_with_leaves(stem.points, _leaves(stem, part, sized))))
    return tuple(lines)


def _courses(part: Polygon, wish: GroundWish) -> list[tuple[Points, bool, Mm]]:
    """Return the courses of the stems, whether each is closed, and the spacing its vine is drawn with."""
    middle = midline(part)
    single = []
    if middle is not None:
        size = min(max(TO_BAND * middle.clearance, LEAST_SIZE * wish.spacing), MOST_SIZE * wish.spacing)
        single = [(middle.points, middle.closed, size)]
        if _is_band(middle, part, wish):
            return single
    inner = part.buffer(-OFF_EDGE * wish.spacing)
    rooms = [p for p in shapely.get_parts(inner) if isinstance(p, Polygon) and p.length > 2.0 * wish.spacing]
    rows = [line for room in rooms for line in _to_and_fro(room, wish)]
    return [(np.asarray(line.coords)[:, :2], False, wish.spacing) for line in rows] or single


def _is_band(middle: Midline, part: Polygon, wish: GroundWish) -> bool:
    """Return whether one stem along the midline fills a region: it is narrow and long, and no arm of it stays bare."""
    line = LineString(middle.points)
    if middle.clearance > BAND * wish.spacing or (not middle.closed and line.length < LONG * middle.clearance):
        return False
    reach = line.simplify(middle.clearance / 10.0).buffer(2.0 * middle.clearance, quad_segs=4)
    return bool(reach.intersection(part).area > 0.85 * part.area)


def _to_and_fro(room: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Return rows at most a spacing apart from edge to edge of a room, joined to one line."""
    frame = frame_of(room, wish.angle)
    count = max(2, math.ceil(2.0 * frame.half_height / wish.spacing) + 1)
    heights = np.linspace(-WITHIN, WITHIN, count) * frame.half_height
    if frame.half_height < wish.spacing / 4.0:
        heights = middles(frame.half_height, wish.spacing)[:1] * 0.0
    reach = frame.half_length + wish.spacing
    rows = frame.lines(np.array([[(-reach, v), (reach, v)] for v in heights]))
    return serpentine([piece for piece, _ in clipped_rows(rows, room, 0.0)], room)


def _swaying(course: Points, closed: bool, part: Polygon, wish: GroundWish) -> _Stem | None:
    """Return the stem that sways about a course in whole waves, calmer where it would leave the region; None if even that does."""
    shapely.prepare(part)
    for calm in CALMER:
        stem = _stem(course, closed, part, wish, calm)
        if stem is None or part.covers(LineString(stem.points)):
            return stem
    return None


def _stem(course: Points, closed: bool, part: Polygon, wish: GroundWish, calm: float) -> _Stem | None:
    """Return the stem of a course; ``calm`` is the share of sway and softness. None when the course is too short."""
    even, across, step = _even(course, closed, calm * SOFT * wish.spacing)
    length = step * (len(even) - 1)
    if length < wish.spacing / 2.0:
        return None
    waves = max(1, round(length / (WAVE * wish.spacing)))
    room = shapely.distance(shapely.points(even), part.boundary)
    sway = calm * _blurred(np.minimum(SWAY * wish.spacing, SWAY_OF_ROOM * room), 2.0 / step, closed)
    phase = 0.0 if wish.seed % 2 else math.pi
    turn = 2.0 * math.pi * waves * np.linspace(0.0, 1.0, len(even)) + phase
    stem: Points = even + across * (sway * np.sin(turn))[:, None]
    if closed:
        stem[-1] = stem[0]
    return _Stem(stem, waves, closed)


def _even(course: Points, closed: bool, soft: Mm) -> tuple[Points, Points, Mm]:
    """Return places about STEP apart on the softened course, the directions to its left, and their distance."""
    smooth = _softened(_softened(course, closed, soft), closed, soft / 2.0)
    along = np.gradient(smooth, axis=0)
    if closed:
        along[0] = along[-1] = smooth[1] - smooth[-2]
    size = np.hypot(along[:, 0], along[:, 1])
    across = np.stack([-along[:, 1], along[:, 0]], axis=-1) / size[:, None]
    return smooth, across, float(size.mean())


def _softened(course: Points, closed: bool, soft: Mm) -> Points:
    """Return places about STEP apart on a course whose corners are rounded over ``soft`` mm; free ends stay."""
    steps = np.diff(course, axis=0)
    travelled = np.concatenate([[0.0], np.cumsum(np.hypot(steps[:, 0], steps[:, 1]))])
    count = max(8, round(travelled[-1] / STEP))
    at = np.linspace(0.0, travelled[-1], count + 1)
    places = np.stack([np.interp(at, travelled, course[:, 0]), np.interp(at, travelled, course[:, 1])], axis=-1)
    body = places[:-1] if closed else places
    smooth = _blurred(body, soft * count / travelled[-1], closed)
    if closed:
        return np.vstack([smooth, smooth[0]])
    smooth[0], smooth[-1] = places[0], places[-1]
    return smooth


def _blurred(rows: NDArray[np.float64], places: float, closed: bool = False) -> NDArray[np.float64]:
    """Return rows blurred along the first axis, by a normal curve so many places wide."""
    blurred = gaussian_filter1d(rows, places, axis=0, mode="wrap" if closed else "nearest")
    return np.asarray(blurred, dtype=np.float64)


def _leaves(stem: _Stem, part: Polygon, wish: GroundWish) -> list[_Leaf]:
    """Return the leaves that have room, the first wished for before the later, the large before the small."""
    gap = GAP * wish.spacing
    free, whole = part.buffer(-gap / 2.0), LineString(stem.points)
    shapely.prepare(free)
    shapely.prepare(whole)
    placed: list[_Leaf] = []
    for buds in _buds(stem, wish):
        waiting = np.ones(len(buds.feet), dtype=np.bool_)
        for length in [size * buds.length for size in SIZES if size * buds.length >= LEAST_LEAF]:
            lines, bodies = _leaf_lines(buds, stem.points, length)
            outlines = np.asarray(shapely.polygons(bodies), dtype=np.object_)
            room = waiting & shapely.contains_properly(free, outlines) & ~shapely.dwithin(whole, outlines, 0.8 * gap)
            for i in np.flatnonzero(room):
                if _clear(outlines[i], stem.points[buds.feet[i]], stem.points, placed, wish):
                    placed.append(_Leaf(int(buds.feet[i]), lines[i], outlines[i]))
                    waiting[i] = False
    return placed


def _clear(outline: Polygon, foot: Points, stem: Points, placed: list[_Leaf], wish: GroundWish) -> bool:
    """Return whether a leaf keeps its gap from those that have been placed."""
    if not placed:
        return True
    away = stem[[leaf.foot for leaf in placed]] - foot
    near = [placed[i].outline for i in np.flatnonzero(np.hypot(away[:, 0], away[:, 1]) < 2.0 * wish.spacing)]
    return not shapely.dwithin(np.asarray(near, dtype=np.object_), outline, GAP * wish.spacing).any()


def _buds(stem: _Stem, wish: GroundWish) -> Iterator[_Buds]:
    """Yield the leaves wished for: one at each free end, then for each of BUDS one in every half wave."""
    along = np.gradient(stem.points, axis=0)
    headings = np.asarray(np.arctan2(along[:, 1], along[:, 0]), dtype=np.float64)
    last, halves = len(stem.points) - 1, 2 * stem.waves
    if not stem.closed:
        ends = np.array([float(headings[-1]), float(headings[0]) + math.pi])
        yield _Buds(np.array([last, 0], dtype=np.intp), np.array([1.0, -1.0]), ends, END_LEAF * wish.spacing, 0.26)
    rng = np.random.default_rng(wish.seed)
    bulges = np.where((np.arange(halves) + wish.seed) % 2, 1.0, -1.0)
    for at, side, size, turn in BUDS:
        shake = rng.uniform(-SHAKE, SHAKE, halves)
        feet = ((np.arange(halves) + at + shake / 2.0) / halves * last).round().astype(np.intp)
        sides, inner = side * bulges, (feet > 0) & (feet < last)
        directions = headings[np.clip(feet, 0, last)] + sides * (turn + shake)
        yield _Buds(feet[inner], sides[inner], directions[inner], size * wish.spacing, WIDE)


def _leaf_lines(buds: _Buds, stem: Points, length: Mm) -> tuple[Points, Points]:
    """Return the lines of leaves so long, each from its foot and back to it, and their outlines without the stalks."""
    blade = (1.0 - STALK) * length
    axis = np.array([(0.0, 0.0), (0.5, -0.1), (1.0, 0.06)]) * blade
    body = smooth_loop(axis, buds.wide * blade, 14, blunt=0.75) + np.array([STALK * length, 0.0])
    line = np.vstack([(0.0, 0.0), body, (0.0, 0.0)])
    if length >= VEINED:
        t = np.linspace(0.0, VEIN, 5)[:, None]
        vein = 2 * t * (1 - t) * axis[1] + t**2 * axis[2] + np.array([STALK * length, 0.0])
        line = np.vstack([(0.0, 0.0), vein, vein[-2:0:-1], body, (0.0, 0.0)])
    return _turned(line, buds, stem), _turned(body, buds, stem)


def _turned(figure: Points, buds: _Buds, stem: Points) -> Points:
    """Return a figure at every foot, mirrored on right sides, shape (leaves, points, 2)."""
    cos, sin = np.cos(buds.directions)[:, None], np.sin(buds.directions)[:, None]
    u, v = figure[None, :, 0], figure[None, :, 1] * buds.sides[:, None]
    return np.stack([u * cos - v * sin, u * sin + v * cos], axis=-1) + stem[buds.feet][:, None]


def _with_leaves(stem: Points, leaves: list[_Leaf]) -> Points:
    """Return the stem with its leaves, each sewn when its foot is reached."""
    rows: list[Points] = []
    at = 0
    for leaf in sorted(leaves, key=lambda leaf: leaf.foot):
        rows += [stem[at : leaf.foot], leaf.line]
        at = leaf.foot + 1
    return np.concatenate([*rows, stem[at:]])


GROUNDS = (
    Ground(
        "vine",
        "Vine",
        "A swaying stem with leaves as large as have room; along the middle of a border, to and fro in a wide region.",
        17.0,
        9.0,
        0.0,
        vine,
        network=False,
    ),
)
