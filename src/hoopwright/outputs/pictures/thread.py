"""Embroidery thread as seen from near: every stitch a twisted, shaded strand that dips into the cloth at both ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from hoopwright.catalog.threads import laid_width
from hoopwright.core.colour import channels_of
from hoopwright.core.types import Mm, Points
from hoopwright.outputs.pictures.canvas import Canvas
from hoopwright.outputs.pictures.cloth import Grey

WIDTH: Final[Mm] = laid_width()
"""Laid width of a 40 wt thread, mm."""
TWIST: Final[Mm] = 0.62
"""Length of one turn of the two plies, mm; by eye."""
FINE: Final = 2
"""Pixels painted for each pixel of the picture, each way."""
DIP: Final[Mm] = 0.45
"""How far from a needle hole the thread grows dark, mm; by eye."""


@dataclass(frozen=True, slots=True, eq=False)
class Strand:
    """One run of stitches in one colour."""

    points: Points
    colour: str


@dataclass(frozen=True, slots=True, eq=False)
class Threadwork:
    """Painted threads: colours (rows, columns, 3) already weighed by ``cover`` (rows, columns), both 0 to 1."""

    colour: NDArray[np.float32]
    cover: Grey


def threadwork(canvas: Canvas, strands: tuple[Strand, ...]) -> Threadwork:
    """Return all strands painted on ``canvas``, later ones over earlier ones."""
    fine = canvas.finer(FINE)
    pixels = np.zeros(fine.rows * fine.columns, np.uint32)
    for strand in strands:
        _paint(pixels, fine, strand)
    picture = pixels.view(np.uint8).reshape(fine.rows, fine.columns, 4)
    small = np.asarray(Image.fromarray(picture).reduce(FINE), dtype=np.float32)
    small = small / np.float32(255)
    return Threadwork(small[..., :3], small[..., 3])


def _paint(pixels: NDArray[np.uint32], fine: Canvas, strand: Strand) -> None:
    """Paint one run on RGBA ``pixels``: a row of samples along each stitch, repeated side by side across the thread."""
    places: NDArray[np.float32] = fine.pixels(strand.points).astype(np.float32)
    step = np.diff(places, axis=0)
    length = np.hypot(step[:, 0], step[:, 1])
    real = length > 0.05
    start, step, length = places[:-1][real], step[real], length[real]
    if not len(length):
        return
    counts = np.ceil(length * 1.3).astype(np.int64) + 1
    owner = np.repeat(np.arange(len(counts)), counts)
    place = np.arange(len(owner)) - np.repeat(np.cumsum(counts) - counts, counts)
    share = (place / np.repeat(counts - 1, counts)).astype(np.float32)
    along = share * length[owner]
    unit = (step / length[:, None])[owner].astype(np.float32)
    middle = start[owner] + unit * along[:, None]
    half = 0.5 * WIDTH * fine.scale
    dip = np.minimum(along, length[owner] - along) / (DIP * fine.scale)
    ends = np.minimum(dip, 1.0).astype(np.float32)
    base = np.array(channels_of(strand.colour), np.float32)
    turn = (along / (TWIST * fine.scale) + owner * 0.37).astype(np.float32)
    for across in np.linspace(-1.0, 1.0, max(int(np.ceil(2.0 * half * 1.3)) | 1, 3), dtype=np.float32):
        reach = across * half * (0.72 + 0.28 * ends)
        x = np.rint(middle[:, 0] - unit[:, 1] * reach).astype(np.int32)
        y = np.rint(middle[:, 1] + unit[:, 0] * reach).astype(np.int32)
        inside = (x >= 0) & (x < fine.columns) & (y >= 0) & (y < fine.rows)
        light, shine = _light(np.float32(across), turn, unit, ends)
        tone = np.full((len(owner), 4), 255, np.uint8)
        tone[:, :3] = np.clip(base * light[:, None] + np.float32(255) * shine[:, None], 0, 255)
        pixels[(y * fine.columns + x)[inside]] = tone.view(np.uint32)[inside, 0]


def _light(across: np.float32, turn: Grey, unit: NDArray[np.float32], ends: Grey) -> tuple[Grey, Grey]:
    """Return how light the strand is at a place across it (-1 to 1), and the sheen added; light from the upper left."""
    round_ = np.sqrt(np.maximum(1.0 - across * across, 0.0))
    facing = (unit[:, 1] * 0.6 - unit[:, 0] * 0.8) * across
    ply = np.cos(2.0 * np.pi * (turn + 0.35 * across))
    light = (0.5 + 0.48 * round_ + 0.2 * facing + 0.1 * ply) * (0.68 + 0.32 * ends)
    shine = 0.24 * np.maximum(facing + 0.55 * round_ - 0.2, 0.0) * np.maximum(0.4 + 0.6 * ply, 0.0) * round_ * ends
    return light.astype(np.float32), shine.astype(np.float32)
