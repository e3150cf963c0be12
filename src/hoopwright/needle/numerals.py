"""Single-line numbers that fit inside their patches.

Shapes come from the single-line letters of the Hershey-Fonts package (public data of A. V. Hershey, 1967).
"""

from __future__ import annotations

import functools
import math
from typing import Final

import numpy as np
import shapely
from HersheyFonts import HersheyFonts
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm
from hoopwright.needle.routing import WalkWish, walks
from hoopwright.operations.vocabulary import Numeral

CLEARANCE: Final = 1.5
"""Least distance in mm between a numeral and the edge of its patch (common practice, no source)."""
SMALLEST: Final = 2.5
"""Below this height in mm a sewn number cannot be read (common practice, no source)."""
RETRACED: Final = 1.0
"""So much of a sign, in capital heights, is rather sewn twice than the thread cut once more."""
TURN_GAIN: Final = 1.3
"""A numeral is turned along its patch only when that makes it this much larger."""


@functools.lru_cache(maxsize=1024)
def numeral_lines(numeral: Numeral, height: Mm) -> tuple[LineString, ...]:
    """Return the strokes of the numeral, at most ``height`` mm high, upright or turned by less than 90 degrees.

    It is as large as fits inside its region with CLEARANCE to every edge; empty when even SMALLEST does not fit.
    """
    strokes = glyphs(numeral.text)
    if not strokes:
        return ()
    place, angle, size = _best_place(numeral.region, _aspect(strokes), height)
    if size < SMALLEST:
        return ()
    return tuple(_put(line, place, angle, size) for line in strokes)


@functools.cache
def glyphs(text: str) -> tuple[LineString, ...]:
    """Return the strokes of ``text`` with capital height 1, centred on the origin. Unknown signs yield nothing.

    Strokes that meet are one where that takes less than RETRACED sewn twice.
    """
    lines = [LineString(s) for s in _letters().strokes_for_text(text) if len(s) > 1]
    if not lines:
        return ()
    low_x, low_y, high_x, high_y = shapely.total_bounds(lines)
    scale = 1.0 / max(high_y - low_y, SAME_PLACE)
    middle = ((low_x + high_x) / 2, (low_y + high_y) / 2)
    moved = (affinity.translate(line, -middle[0], -middle[1]) for line in lines)
    strokes = [affinity.scale(line, scale, scale, origin=(0, 0)) for line in moved]
    return _united(strokes)


def _united(strokes: list[LineString]) -> tuple[LineString, ...]:
    """Return the strokes, those that meet others routed together; one that stands alone keeps its beginning."""
    meets = shapely.intersects(np.array(strokes)[:, None], np.array(strokes)[None]).sum(axis=1) > 1
    alone = tuple(line for line, met in zip(strokes, meets, strict=True) if not met)
    together = [line for line, met in zip(strokes, meets, strict=True) if met]
    if not together:
        return alone
    return (*alone, *walks(together, WalkWish(trim_worth=RETRACED, meeting="straight")))


@functools.cache
def _letters() -> HersheyFonts:
    """Return the single-line letters, unpacked once."""
    letters = HersheyFonts()
    letters.load_default_font("futural")
    letters.normalize_rendering(1.0)
    return letters


def _aspect(strokes: tuple[LineString, ...]) -> float:
    low_x, _, high_x, _ = shapely.total_bounds(strokes)
    return float(high_x - low_x)


def _best_place(region: Polygon, aspect: float, height: Mm) -> tuple[Point, float, Mm]:
    """Return middle, angle in degrees and height of the largest numeral that fits, upright unless turning pays."""
    circle = shapely.maximum_inscribed_circle(region, tolerance=0.2)
    middle = Point(circle.coords[0])
    inner = region.buffer(-CLEARANCE)
    shapely.prepare(inner)
    upright = _fitting(inner, middle, 0.0, aspect, height)
    slanted = _long_axis(region)
    turned = _fitting(inner, middle, slanted, aspect, height)
    if turned > TURN_GAIN * upright:
        return middle, slanted, turned
    return middle, 0.0, upright


def _fitting(inner: BaseGeometry, middle: Point, angle: float, aspect: float, height: Mm) -> Mm:
    """Return the largest height up to ``height`` at which the numeral's box stays in ``inner`` (bisection)."""
    if inner.is_empty or not inner.covers(middle):
        return 0.0
    low, high = 0.0, height
    if inner.covers(_box(middle, angle, aspect, high)):
        return high
    for _ in range(12):
        half = (low + high) / 2
        if inner.covers(_box(middle, angle, aspect, half)):
            low = half
        else:
            high = half
    return low


def _box(middle: Point, angle: float, aspect: float, height: Mm) -> Polygon:
    w, h = aspect * height / 2, height / 2
    box = shapely.box(middle.x - w, middle.y - h, middle.x + w, middle.y + h)
    return affinity.rotate(box, angle, origin=middle)


def _long_axis(region: Polygon) -> float:
    """Return the direction of the longest side of the tightest rectangle, between -90 and 90 degrees."""
    corners = shapely.get_coordinates(shapely.oriented_envelope(region))
    sides = np.diff(corners, axis=0)
    longest = sides[int(np.argmax(np.hypot(sides[:, 0], sides[:, 1])))]
    angle = math.degrees(math.atan2(longest[1], longest[0]))
    return (angle + 90.0) % 180.0 - 90.0


def _put(line: LineString, place: Point, angle: float, size: Mm) -> LineString:
    turned = affinity.rotate(affinity.scale(line, size, size, origin=(0, 0)), angle, origin=(0, 0))
    return affinity.translate(turned, place.x, place.y)
