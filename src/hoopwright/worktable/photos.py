"""A photograph of a cloth: looked at, made small, written anew, so that nothing of the file that was sent is kept.

Place, time and camera that a photograph carries are left behind.
"""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass
from typing import Final

import numpy as np
from PIL import Image, ImageOps, UnidentifiedImageError

from hoopwright.core.errors import HoopwrightError

KINDS: Final = ("JPEG", "PNG", "WEBP")
LONGEST: Final = 900
"""Pixels of the longer side that are kept: a hand of cloth, at more than any screen shows of it."""
MOST_PIXELS: Final = 40_000_000
"""Pixels of a photograph that are looked at; the page makes larger ones smaller before it sends them."""
LEAST: Final = 16
"""Pixels of the shorter side below which nothing can be seen."""
QUALITY: Final = 84
MEANT: Final = (64, 64)
"""Pixels over which the mean colour is taken."""
POWER: Final = 2.2
TROUBLE: Final = (
    UnidentifiedImageError,
    OSError,
    ValueError,
    SyntaxError,
    EOFError,
    Image.DecompressionBombWarning,
    Image.DecompressionBombError,
)


@dataclass(frozen=True, slots=True)
class Photo:
    """A small photograph: JPEG, its size in pixels, its mean colour as "#rrggbb"."""

    data: bytes
    pixels: tuple[int, int]
    colour: str


def small_photo(data: bytes) -> Photo:
    """Return a photograph made small and written anew. Raises HoopwrightError for what is none, or is too large."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            picture = _read(data)
    except TROUBLE as error:
        raise HoopwrightError(
            "This file cannot be read as a photograph",
            "Choose a JPEG or PNG picture, for instance straight from the camera",
        ) from error
    picture.thumbnail((LONGEST, LONGEST), Image.Resampling.LANCZOS)
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=QUALITY, optimize=True)
    red, green, blue = _mean(picture)
    return Photo(out.getvalue(), picture.size, f"#{red:02x}{green:02x}{blue:02x}")


def _read(data: bytes) -> Image.Image:
    with Image.open(io.BytesIO(data), formats=KINDS) as opened:
        wide, high = opened.size
        if wide * high > MOST_PIXELS or min(wide, high) < LEAST:
            raise HoopwrightError(
                f"This photograph has {wide} by {high} pixels, which cannot be used",
                f"Take one with at least {LEAST} pixels a side and at most {MOST_PIXELS // 1_000_000} million in all",
            )
        opened.draft("RGB", (2 * LONGEST, 2 * LONGEST))
        upright = ImageOps.exif_transpose(opened)
        on_white = upright.convert("RGBA") if "A" in upright.getbands() or "transparency" in upright.info else None
        if on_white is None:
            return upright.convert("RGB")
        sheet = Image.new("RGB", on_white.size, "white")
        sheet.paste(on_white, mask=on_white.getchannel("A"))
        return sheet


def _mean(picture: Image.Image) -> tuple[int, int, int]:
    """Return the mean colour of the light: numbers are undone by sRGB's usual power before they are averaged."""
    light = (np.asarray(picture.resize(MEANT, Image.Resampling.BOX), dtype=np.float64) / 255.0) ** POWER
    red, green, blue = (round(255.0 * float(c) ** (1.0 / POWER)) for c in light.mean(axis=(0, 1)))
    return red, green, blue
