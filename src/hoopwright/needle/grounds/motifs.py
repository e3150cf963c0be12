"""Grounds whose figures come from a tide mill: water, nets, reeds, shells, wheels, ropes.

All are drawn so that an even number of lines meet everywhere inside: nothing there need be sewn twice.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Mm, Points
from hoopwright.needle.grounds.along_edge import joined_along_edge
from hoopwright.needle.grounds.clamshell import clamshell_rows, clamshell_tops
from hoopwright.needle.grounds.frame import clipped, frame_of, middles, steps_for
from hoopwright.needle.grounds.shapes import Ground, GroundWish
from hoopwright.needle.grounds.tiles import arc_points, copies_of, lattice, rows_of, smooth_loop

PADDLES: Final = 8
HUB: Final = 0.42
"""Paddles of a wheel, and the radius of its hub as part of the wheel's (by eye)."""

RIPPLE_LENGTH: Final = 2.6
RIPPLE_HEIGHT: Final = 0.52
INNER: Final = 0.42
"""Length and half height of a ripple in spacings, and the height of the eye inside as part of its own (by eye)."""

MESH_LENGTH: Final = 2.4
MESH_HEIGHT: Final = 0.62
"""Length and half height of a mesh in spacings; more than half a spacing, so that neighbours lace (by eye)."""

REED: Final = 1.4
"""Length of a reed's repeat in spacings (by eye)."""

RIB_TURN: Final = 0.6
"""Radians between neighbouring ribs of a shell (by eye)."""

STRANDS: Final = 0.5
LEAN: Final = 1.1
"""Distance between strands of a rope and how far each runs along it, as parts of its width (by eye)."""


def ripples(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Rows of eyes, tip to tip, a smaller eye in each: light on moving water."""
    frame = frame_of(part, wish.angle)
    tall, long = wish.spacing * RIPPLE_HEIGHT, wish.spacing * RIPPLE_LENGTH
    heights = middles(frame.half_height, wish.spacing, past=tall)
    shifts = [(k % 2) * long / 2.0 for k in range(len(heights))]
    t = np.linspace(0.0, 1.0, 2 * steps_for(long / 2.0, long**2 / (10.0 * tall)) + 1)
    half_wave = np.stack([t * long, np.sin(math.pi * t)], axis=-1)
    half_wave[-1, 1] = 0.0
    flat = (tall, -tall, INNER * tall, -INNER * tall)
    lines = [rows_of(frame, half_wave * (1.0, height), long, heights, shifts) for height in flat]
    return _network(np.concatenate(lines), part, wish.spacing)


def nets(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Swaying lines that lace each other like the meshes of a hanging net."""
    frame = frame_of(part, wish.angle)
    tall, long = MESH_HEIGHT * wish.spacing, MESH_LENGTH * wish.spacing
    heights = middles(frame.half_height, wish.spacing, past=tall)
    t = np.linspace(0.0, 1.0, 4 * steps_for(long / 4.0, long**2 / (40.0 * tall)) + 1)
    wave = np.stack([t * long, tall * np.cos(2.0 * math.pi * t)], axis=-1)
    shifts = [(k % 2) * long / 2.0 for k in range(len(heights))]
    return _network(rows_of(frame, wave, long, heights, shifts), part, wish.spacing)


def reeds(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Swaying stems with slender leaves to the left and right in turn."""
    frame = frame_of(part, wish.angle)
    heights = middles(frame.half_height, wish.spacing)
    stem = _reed() * wish.spacing
    return _network(rows_of(frame, stem, REED * wish.spacing, heights, [0.0] * len(heights)), part, wish.spacing)


def _reed() -> Points:
    """Return one repeat of a stem, in spacings: it sways to both sides and sends out a leaf from each bend."""
    t = np.linspace(0.0, 1.0, 25)
    stem = np.stack([t * REED, 0.09 * np.sin(2.0 * math.pi * t)], axis=-1)
    rows = [stem[:7]]
    for side, first, last in ((1.0, 6, 18), (-1.0, 18, 24)):
        axis = stem[first] + np.array([(0.0, 0.0), (0.5, 0.12 * side), (0.92, 0.56 * side)])
        rows += [smooth_loop(axis, 0.095, 12)[1:], stem[first + 1 : last + 1]]
    return np.vstack(rows)


def shells(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Scallop shells that interlock like a clamshell, each with ribs that spread from its hinge."""
    frame = frame_of(part, wish.angle)
    radius, tops = wish.spacing / 2.0, clamshell_tops(part, wish)
    ribs = [copies_of(frame, _rib(turn) * radius, tops) for turn in (0.0, RIB_TURN, -RIB_TURN)]
    return _network(np.concatenate([clamshell_rows(part, wish), *ribs]), part, radius)


def _rib(turn: float) -> Points:
    """Return a rib hanging from its hinge at the origin, in radii of its shell, ``turn`` radians off the middle."""
    length = 1.52 - 0.45 * abs(turn)
    places = [length * reach * np.array([math.sin(x), -math.cos(x)]) for reach, x in ((0.6, 0.8 * turn), (1.0, turn))]
    return smooth_loop(np.array([(0.0, 0.0), *places]), 0.19, 14, blunt=1.5)


def wheels(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Mill wheels side by side: rim, hub, and paddles swept back; of a wheel whose axle lies outside only the rim shows."""
    frame = frame_of(part, wish.angle)
    radius = wish.spacing / 2.0
    places = lattice(frame, wish.spacing, wish.spacing, past=0.0)
    steps = 2 * PADDLES * math.ceil(steps_for(2.0 * math.pi * radius, radius) / (2 * PADDLES))
    rim = arc_points(radius, 0.0, 2.0 * math.pi, steps)
    rim[-1] = rim[0]
    first = math.pi / PADDLES
    hub = arc_points(HUB * radius, first, first + 2.0 * math.pi, 2 * PADDLES)
    hub[-1] = hub[0]
    seen = places[shapely.contains_xy(part, frame.points(places))]
    lines = [copies_of(frame, rim, places), *(copies_of(frame, figure, seen) for figure in (hub, _paddles(radius)))]
    return _network(np.concatenate(lines), part, wish.spacing / 2.0)


def _paddles(radius: Mm) -> Points:
    """Return one closed line that goes straight out to the rim and swept back to the hub, paddle after paddle."""
    pieces = []
    pitch = 2.0 * math.pi / PADDLES
    t = np.linspace(0.0, 1.0, 9)
    for k in range(PADDLES):
        turn = (k + 0.5) * pitch
        away = radius * (1.0 - (1.0 - HUB) * t)
        swept = turn + pitch * t**1.6
        pieces.append(np.stack([away * np.cos(swept), away * np.sin(swept)], axis=-1))
    line = np.concatenate(pieces)
    return np.vstack([line, line[0]])


def ropes(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Ropes side by side, laid to the left and to the right in turn."""
    frame = frame_of(part, wish.angle)
    edges = middles(frame.half_height, wish.spacing, past=wish.spacing)
    reach = frame.half_length + 2.0 * wish.spacing
    guards = frame.lines(np.array([[(-reach, v), (reach, v)] for v in edges]))
    strand = _strand(len(edges) - 1) * wish.spacing + (0.0, edges[0])
    step = STRANDS * wish.spacing
    count = math.ceil(reach / step) + 1
    places = np.stack([np.arange(-count, count + 1) * step, np.zeros(2 * count + 1)], axis=-1)
    return _network(np.concatenate([guards, copies_of(frame, strand, places)]), part, step)


def _strand(ropes_crossed: int) -> Points:
    """Return one line across so many ropes of width 1, leaning to the right in the first, to the left in the next."""
    t = np.linspace(0.0, 1.0, 17)
    rise = t - 0.75 * np.sin(2.0 * math.pi * t) / (2.0 * math.pi)
    right = np.stack([LEAN * t, rise], axis=-1)
    left = np.stack([LEAN * (1.0 - t), rise], axis=-1)
    rows = [np.add((left if k % 2 else right)[1:], (0.0, k)) for k in range(ropes_crossed)]
    return np.vstack([(0.0, 0.0), *rows])


def _network(lines: NDArray[np.object_], part: Polygon, spacing: Mm) -> tuple[LineString, ...]:
    return joined_along_edge(clipped(lines, part, spacing), part)


GROUNDS = (
    Ground(
        "ripples",
        "Ripples",
        "Rows of eyes, tip to tip, a smaller eye in each: light on moving water.",
        8.0,
        4.0,
        0.0,
        ripples,
        network=True,
    ),
    Ground(
        "nets",
        "Nets",
        "Swaying lines that lace each other like the meshes of a hanging net.",
        8.0,
        5.0,
        90.0,
        nets,
        network=True,
    ),
    Ground(
        "reeds",
        "Reeds",
        "Swaying stems with slender leaves to the left and right in turn.",
        11.0,
        8.0,
        90.0,
        reeds,
        network=True,
    ),
    Ground(
        "shells",
        "Scallop shells",
        "Interlocking shells, each with three ribs that spread from its hinge.",
        18.0,
        13.0,
        180.0,
        shells,
        network=True,
    ),
    Ground(
        "wheels",
        "Mill wheels",
        "Wheels side by side, each with a rim, a hub and eight paddles swept back.",
        17.0,
        13.0,
        0.0,
        wheels,
        network=True,
    ),
    Ground(
        "ropes",
        "Ropes",
        "Ropes side by side, laid to the left and to the right in turn.",
        9.0,
        6.0,
        0.0,
        ropes,
        network=True,
    ),
)
