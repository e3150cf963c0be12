"""Grounds of straight and flowing lines: crossing lines, and channels sewn to and fro."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Degrees, Mm
from hoopwright.needle.grounds.along_edge import joined_along_edge
from hoopwright.needle.grounds.frame import clipped, clipped_rows, frame_of, middles, steps_for
from hoopwright.needle.grounds.serpentine import serpentine
from hoopwright.needle.grounds.shapes import Ground, GroundWish

DIAMOND: Final[Degrees] = 30.0
"""Half the sharp angle of a hanging diamond: lines at 60 degrees to the horizontal (common practice, no source)."""

WAVE_LENGTH: Final = 6.0
WAVE_HEIGHT: Final = 0.75
"""Length and half height of a wave, in spacings (by eye)."""

ARCH_DEPTH: Final = 0.35
"""The middle of the arches lies below the region by this part of its length (by eye)."""


def _parallels(part: Polygon, spacing: Mm, angle: Degrees) -> NDArray[np.object_]:
    """Return parallel lines right through a region, symmetric about its middle."""
    frame = frame_of(part, angle)
    heights = middles(frame.half_height, spacing)
    reach = frame.half_length + spacing
    rows = np.array([[(-reach, v), (reach, v)] for v in heights])
    return frame.lines(rows)


def _crossing(part: Polygon, spacing: Mm, angles: tuple[Degrees, Degrees]) -> tuple[LineString, ...]:
    """Return two sets of parallel lines, joined along the edge."""
    lines = np.concatenate([_parallels(part, spacing, angle) for angle in angles])
    return joined_along_edge(clipped(lines, part, spacing), part)


def crosshatch(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Two sets of parallel lines at right angles."""
    return _crossing(part, wish.spacing, (wish.angle, wish.angle + 90.0))


def diamonds(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Two sets of parallel lines that make diamonds hanging from their sharp corners."""
    return _crossing(part, wish.spacing, (wish.angle + 90.0 - DIAMOND, wish.angle + 90.0 + DIAMOND))


def channels(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Parallel straight lines, sewn to and fro."""
    return _to_and_fro(_parallels(part, wish.spacing, wish.angle), part, wish.spacing)


def waves(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Parallel waving lines, sewn to and fro."""
    frame = frame_of(part, wish.angle)
    length, height = WAVE_LENGTH * wish.spacing, WAVE_HEIGHT * wish.spacing
    heights = middles(frame.half_height, wish.spacing, past=height)
    reach = frame.half_length + wish.spacing
    bend = length**2 / (4.0 * math.pi**2 * height)
    u = np.linspace(-reach, reach, steps_for(2.2 * reach, bend) + 1)
    wave = height * np.cos(2.0 * math.pi * u / length)
    rows = np.stack([np.broadcast_to(u, (len(heights), len(u))), heights[:, None] + wave], axis=-1)
    return _to_and_fro(frame.lines(rows), part, wish.spacing)


def arches(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Arches about one middle below the region, ``spacing`` apart, sewn to and fro."""
    frame = frame_of(part, wish.angle)
    below = -frame.half_height - ARCH_DEPTH * 2.0 * frame.half_length
    near = ARCH_DEPTH * 2.0 * frame.half_length + wish.spacing / 2.0
    far = math.hypot(frame.half_length, frame.half_height - below)
    radii = np.arange(near, far, wish.spacing)
    spread = math.atan2(frame.half_length + wish.spacing, -below - frame.half_height)
    turn = np.linspace(-spread, spread, steps_for(2.0 * spread * far, far) + 1)
    rows = np.stack([np.sin(turn), np.cos(turn)], axis=-1) * radii[:, None, None] + (0.0, below)
    return _to_and_fro(frame.lines(rows), part, wish.spacing)


def _to_and_fro(lines: NDArray[np.object_], part: Polygon, spacing: Mm) -> tuple[LineString, ...]:
    return serpentine([piece for piece, _ in clipped_rows(lines, part, spacing)], part)


GROUNDS = (
    Ground(
        "crosshatch",
        "Crosshatch",
        "Two sets of straight lines at right angles.",
        8.0,
        3.0,
        45.0,
        crosshatch,
        network=True,
        meeting="straight",
    ),
    Ground(
        "diamonds",
        "Hanging diamonds",
        "Two sets of straight lines that make diamonds standing on their sharp corners.",
        8.0,
        3.0,
        0.0,
        diamonds,
        network=True,
        meeting="straight",
    ),
    Ground(
        "channels",
        "Channels",
        "Straight lines side by side, sewn to and fro.",
        5.0,
        2.0,
        0.0,
        channels,
        network=False,
    ),
    Ground(
        "waves",
        "Waves",
        "Waving lines side by side, sewn to and fro.",
        5.0,
        2.0,
        0.0,
        waves,
        network=False,
    ),
    Ground(
        "arches",
        "Arches",
        "Arches about one middle, sewn to and fro like the courses of a vault.",
        5.0,
        2.0,
        0.0,
        arches,
        network=False,
    ),
)
