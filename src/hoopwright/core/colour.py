"""Colours as eyes see them: sRGB to CIE L*a*b* and the colour difference CIEDE2000.

Lab is meant for daylight D65 and the 2 degree observer. Sources: IEC 61966-2-1 (sRGB), ISO/CIE 11664-4 (L*a*b*),
ISO/CIE 11664-6 (CIEDE2000) with the notes of Sharma, Wu and Dalal, Color Research and Application 30 (2005) 21-30.
"""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import starmap
from string import hexdigits
from typing import Final, TypeAlias

Lab: TypeAlias = tuple[float, float, float]
"""L* (0 black to 100 white), a* (green to red), b* (blue to yellow)."""

SRGB_TO_XYZ: Final = (
    (0.4124, 0.3576, 0.1805),
    (0.2126, 0.7152, 0.0722),
    (0.0193, 0.1192, 0.9505),
)
"""Linear red, green, blue to X, Y, Z (IEC 61966-2-1)."""

WHITE_D65: Final = (0.95047, 1.0, 1.08883)
"""X, Y, Z of the white D65, 2 degree observer, Y = 1."""

LAB_KNEE: Final = (6.0 / 29.0) ** 3
"""Below this share of white L*a*b* is linear (ISO/CIE 11664-4)."""

CHROMA_KNEE: Final = 25.0**7
"""The chroma at which the corrections of CIEDE2000 set in, to the seventh power."""


def channels_of(colour: str) -> tuple[int, int, int]:
    """Return red, green, blue from 0 to 255 of a colour written "#rrggbb". Raises ValueError for any other text."""
    if len(colour) != 7 or colour[0] != "#" or not set(colour[1:]) <= set(hexdigits):
        raise ValueError(f"a colour is written #rrggbb, not {colour!r}")
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def rgb_of(colour: str) -> tuple[float, float, float]:
    """Return red, green, blue from 0 to 1 of a colour written "#rrggbb". Raises ValueError for any other text."""
    red, green, blue = channels_of(colour)
    return red / 255.0, green / 255.0, blue / 255.0


@lru_cache(maxsize=1024)
def lab_of(colour: str) -> Lab:
    """Return the L*a*b* of a colour written "#rrggbb" (sRGB). Raises ValueError for any other text."""
    linear = [_linear(c) for c in rgb_of(colour)]
    xyz = [sum(m * c for m, c in zip(row, linear, strict=True)) for row in SRGB_TO_XYZ]
    x, y, z = starmap(_lab_root, zip(xyz, WHITE_D65, strict=True))
    return 116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)


def _linear(channel: float) -> float:
    """Return the light of an sRGB channel; both have the range 0 to 1."""
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4


def _lab_root(value: float, white: float) -> float:
    share = value / white
    return math.cbrt(share) if share > LAB_KNEE else share / (3.0 * (6.0 / 29.0) ** 2) + 4.0 / 29.0


@lru_cache(maxsize=4096)
def difference(one: Lab, other: Lab) -> float:
    """Return the colour difference CIEDE2000 of two L*a*b* colours, with all three weights 1.

    About 1 can just be seen side by side; 15 is a plain difference between two cloths.
    """
    c_mean = (math.hypot(one[1], one[2]) + math.hypot(other[1], other[2])) / 2.0
    stretch = 1.5 - 0.5 * _saturation(c_mean)
    c1, h1 = _polar(one[1] * stretch, one[2])
    c2, h2 = _polar(other[1] * stretch, other[2])
    turn, hue = _hues(c1, h1, c2, h2)
    light, chroma = (one[0] + other[0]) / 2.0, (c1 + c2) / 2.0
    weight_l = 1.0 + 0.015 * (light - 50.0) ** 2 / math.sqrt(20.0 + (light - 50.0) ** 2)
    weight_c = 1.0 + 0.045 * chroma
    weight_h = 1.0 + 0.015 * chroma * _hue_weight(hue)
    d_l = (other[0] - one[0]) / weight_l
    d_c = (c2 - c1) / weight_c
    d_h = 2.0 * math.sqrt(c1 * c2) * math.sin(math.radians(turn) / 2.0) / weight_h
    return math.sqrt(d_l**2 + d_c**2 + d_h**2 + _blue_turn(chroma, hue) * d_c * d_h)


def _saturation(chroma: float) -> float:
    """Return how far a chroma is into the corrections: 0 for grey, 1 for the strongest colours."""
    seventh = chroma**7
    return math.sqrt(seventh / (seventh + CHROMA_KNEE))


def _polar(a: float, b: float) -> tuple[float, float]:
    """Return chroma and hue in degrees from 0 to 360; the hue of grey is 0."""
    return math.hypot(a, b), math.degrees(math.atan2(b, a)) % 360.0 if (a or b) else 0.0


def _hues(c1: float, h1: float, c2: float, h2: float) -> tuple[float, float]:
    """Return difference and mean of two hues, the short way round; with a grey the other's hue counts alone."""
    if c1 * c2 == 0.0:
        return 0.0, h1 + h2
    turn = h2 - h1
    if abs(turn) <= 180.0:
        return turn, (h1 + h2) / 2.0
    mean = (h1 + h2 + 360.0) / 2.0 if h1 + h2 < 360.0 else (h1 + h2 - 360.0) / 2.0
    return turn - math.copysign(360.0, turn), mean


def _hue_weight(hue: float) -> float:
    terms = ((-0.17, 1.0, -30.0), (0.24, 2.0, 0.0), (0.32, 3.0, 6.0), (-0.20, 4.0, -63.0))
    return 1.0 + sum(k * math.cos(math.radians(n * hue + p)) for k, n, p in terms)


def _blue_turn(chroma: float, hue: float) -> float:
    """Return the factor that turns the ellipses of equal difference in the blues."""
    angle = 60.0 * math.exp(-(((hue - 275.0) / 25.0) ** 2))
    return -2.0 * _saturation(chroma) * math.sin(math.radians(angle))
