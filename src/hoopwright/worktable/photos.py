"""Photographs, of cloths and of sketches: looked at, made small, written anew, so that nothing of the file that was sent is kept.

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
    picture = plain_photo(data, LONGEST)
    red, green, blue = _mean(picture)
    return Photo(jpeg(picture), picture.size, f"#{red:02x}{green:02x}{blue:02x}")


def plain_photo(data: bytes, longest: int) -> Image.Image:
    """Return a photograph upright, in plain colours on white, at most ``longest`` pixels a side, with nothing else that its file held.

    Raises HoopwrightError for what is no photograph, or is too large or too small.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            picture = _read(data, longest)
    except TROUBLE as error:
        raise HoopwrightError(
            "This file cannot be read as a photograph",
            "Choose a JPEG, PNG or WebP picture, for instance straight from the camera",
        ) from error
    picture.thumbnail((longest, longest), Image.Resampling.LANCZOS)
    clean = Image.new("RGB", picture.size)
    clean.paste(picture)
    return clean


def jpeg(picture: Image.Image) -> bytes:
    """Return a picture as a JPEG file."""
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=QUALITY, optimize=True)
    return out.getvalue()


def _read(data: bytes, longest: int) -> Image.Image:
    with Image.open(io.BytesIO(data), formats=KINDS) as opened:
        wide, high = opened.size
        if wide * high > MOST_PIXELS or min(wide, high) < LEAST:
            raise HoopwrightError(
                f"This photograph has {wide} by {high} pixels, which cannot be used",
                f"Take one with at least {LEAST} pixels a side and at most {MOST_PIXELS // 1_000_000} million in all",
            )
        opened.draft("RGB", (2 * longest, 2 * longest))
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
