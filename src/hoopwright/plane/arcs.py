"""Round edges as rows of points, fine enough that nobody sees the chords."""

from __future__ import annotations

import math

from hoopwright.core.tolerances import ARC_CHORD
from hoopwright.core.types import Degrees, Mm, Point


def arc_steps(radius: Mm, sweep: Degrees, chord_error: Mm = ARC_CHORD) -> int:
    """Return how many equal chords keep an arc of this radius and sweep within ``chord_error`` of the true curve."""
    if radius <= chord_error or sweep == 0.0:
        return 1
    step = 2.0 * math.acos(1.0 - chord_error / radius)
    return max(1, math.ceil(math.radians(abs(sweep)) / step))


def arc(centre: Point, radius: Mm, start: Degrees, end: Degrees, chord_error: Mm = ARC_CHORD) -> tuple[Point, ...]:
    """Return points on a circle from angle ``start`` to ``end``, both ends included; one point when radius is 0."""
    if radius <= 0.0:
        return (centre,)
    steps = arc_steps(radius, end - start, chord_error)
    return tuple(on_ellipse(centre, radius, radius, start + (end - start) * i / steps) for i in range(steps + 1))


def ellipse(centre: Point, half_width: Mm, half_height: Mm, chord_error: Mm = ARC_CHORD) -> tuple[Point, ...]:
    """Return points all round an ellipse, counter-clockwise from its rightmost point, its four extremes included.

    An ellipse is a squeezed circle, so chords that serve the circle of the larger half axis serve it too.
    """
    steps = 4 * arc_steps(max(half_width, half_height), 90.0, chord_error)
    return tuple(on_ellipse(centre, half_width, half_height, 360.0 * i / steps) for i in range(steps))


def on_ellipse(centre: Point, half_width: Mm, half_height: Mm, angle: Degrees) -> Point:
    """Return the point of an ellipse at parameter ``angle``, exact at multiples of 90 degrees."""
    quarter = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}
    turned = angle % 360.0
    cosine, sine = quarter.get(turned, (math.cos(math.radians(turned)), math.sin(math.radians(turned))))
    return (centre[0] + half_width * cosine, centre[1] + half_height * sine)
