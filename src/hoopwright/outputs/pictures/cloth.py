"""Cloth as seen from near: woven tiles, seeded by the cloth's key, repeatable to the last bit.

A *tile* is a square of lightness values about 0 that repeats in both directions; one thread of the weave is SAMPLES
values wide. The weave follows the words of the cloth's name (twill, linen, silk, velvet); any other cloth is plain.
"""

from __future__ import annotations

import zlib
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import uniform_filter, uniform_filter1d

from hoopwright.core.types import Mm

Grey = NDArray[np.float32]
"""Values of one picture channel, shape (rows, columns)."""

THREADS: Final = 64
"""Threads of a tile, each way."""
SAMPLES: Final = 8
"""Values across one thread."""
SIDE: Final = THREADS * SAMPLES
"""Values along the side of a tile; a power of two."""


@dataclass(frozen=True, slots=True)
class Weave:
    """How a cloth is woven: pitch of its threads (mm), relief, unevenness of its yarn, step of its float, nap.

    ``ends`` and ``over`` give the float: over ``over`` of ``ends`` threads, moving one on in each row.
    """

    pitch: Mm
    relief: float
    slub: float
    ends: int = 2
    over: int = 1
    nap: float = 0.0


WEAVES: Final = {
    "twill": Weave(0.44, 0.9, 0.35, 4, 2),
    "denim": Weave(0.5, 1.0, 0.45, 4, 3),
    "linen": Weave(0.5, 0.85, 0.75),
    "sailcloth": Weave(0.62, 1.0, 0.6),
    "canvas": Weave(0.62, 1.0, 0.6),
    "silk": Weave(0.26, 0.35, 0.75),
    "satin": Weave(0.24, 0.3, 0.2, 8, 7),
    "velvet": Weave(0.3, 0.1, 0.2, nap=1.0),
    "wool": Weave(0.6, 0.5, 0.6, 4, 2, nap=0.7),
}
"""Weaves by a word of the cloth's name. Looks, not measurements: chosen by eye."""

PLAIN: Final = Weave(0.42, 0.8, 0.45)


def seed_of(text: str) -> int:
    """Return a seed that is the same on every machine and in every run."""
    return zlib.crc32(text.encode("utf-8"))


def weave_of(name: str) -> Weave:
    """Return the weave that the words of a cloth's name speak of."""
    words = name.lower().replace("-", " ").split()
    return next((WEAVES[w] for w in words if w in WEAVES), PLAIN)


def woven_tile(key: str, weave: Weave, scale: float) -> Grey:
    """Return a tile of a weave, mean 0, shape (SIDE, SIDE), smoothed for sampling at ``scale`` pixels to the mm."""
    rng = np.random.default_rng(seed_of(key))
    row, column = np.arange(THREADS)[:, None], np.arange(THREADS)[None, :]
    warp_over = ((column + (weave.ends - 1) * row) % weave.ends < weave.over).repeat(SAMPLES, 0).repeat(SAMPLES, 1)
    bulge = np.sin(np.pi * (np.arange(SAMPLES) + 0.5) / SAMPLES).astype(np.float32)
    across = np.tile(bulge, THREADS)[None, :]
    along = np.tile(0.7 + 0.3 * bulge, THREADS)[:, None]
    warp = weave.relief * across * along + weave.slub * _yarn(rng).T
    weft = weave.relief * (across * along).T + weave.slub * _yarn(rng)
    tile = np.where(warp_over, warp, weft - 0.12).astype(np.float32)
    if weave.nap:
        tile += (
            weave.nap * 2.0 * uniform_filter(rng.standard_normal((SIDE, SIDE), dtype=np.float32), (9, 5), mode="wrap")
        )
    pixel = max(round(SAMPLES / (weave.pitch * scale)), 1)
    smoothed: Grey = uniform_filter(tile, pixel, mode="wrap")
    smoothed -= smoothed.mean()
    return smoothed


def _yarn(rng: np.random.Generator) -> Grey:
    """Return the unevenness of the threads that run along the rows: each its own tone, thick and thin places."""
    tone = rng.standard_normal((THREADS, 1)).astype(np.float32) * 0.22
    thick = uniform_filter1d(rng.standard_normal((THREADS, THREADS * 2)).astype(np.float32), 21, axis=1, mode="wrap")
    fine: Grey = (tone + thick).repeat(SAMPLES, 0).repeat(SAMPLES // 2, 1)
    return fine


def sampled(tile: Grey, x: Grey, y: Grey, pitch: Mm, degrees: float) -> Grey:
    """Return the tile's values at the crossings of columns ``x`` and rows ``y`` (mm), the warp running at ``degrees``."""
    c, s = np.cos(np.radians(degrees)) * SAMPLES / pitch, np.sin(np.radians(degrees)) * SAMPLES / pitch
    across = ((x * s)[None, :] - (y * c)[:, None]).astype(np.int32) & (SIDE - 1)
    along = ((x * c)[None, :] + (y * s)[:, None]).astype(np.int32) & (SIDE - 1)
    along *= SIDE
    along += across
    taken: Grey = tile.ravel().take(along)
    return taken
