"""The curves that stitches are made of, each sampled once into needle positions.

Words: an *arm* is a thread line that runs out from a root to a tip; a *sag* is how far a pulled thread bows from the
straight way, positive to the left of its direction; a *teardrop* is the loop of a chain stitch, pointed where the
thread comes up and round where it is caught; a *knot* is a small star sewn so closely that it reads as a dot.
All places are (along, across) the seam in mm. Functions return rows of positions, the starting one left out.
"""

from __future__ import annotations

import math

from hoopwright.core.types import Degrees, Mm, Point

TURN_PER_STITCH: Degrees = 34.0
"""How much a curve may bend in one stitch and still look round at hand distance (common practice, no source)."""


def pieces(length: Mm, bend: Degrees, shortest: Mm, longest: Mm) -> int:
    """Return into how many even stitches a line is cut that is ``length`` long and bends by ``bend`` degrees."""
    needed = math.ceil(length / longest)
    wished = math.ceil(bend / TURN_PER_STITCH)
    return max(1, needed, min(wished, int(length / (1.08 * shortest))))


def bow(a: Point, b: Point, sag: Mm, shortest: Mm, longest: Mm) -> list[Point]:
    """Return a slightly bowed line from a to b, its middle ``sag`` to the left of the straight way."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    chord = math.hypot(dx, dy)
    if chord == 0.0:
        return [b]
    bend = math.degrees(4.0 * math.atan(2.0 * abs(sag) / chord))
    count = pieces(chord + 8.0 / 3.0 * sag * sag / chord, bend, shortest, longest)
    nx, ny = -dy / chord, dx / chord
    row = []
    for i in range(1, count):
        t = i / count
        off = 4.0 * sag * t * (1.0 - t)
        row.append((a[0] + dx * t + nx * off, a[1] + dy * t + ny * off))
    row.append(b)
    return row


def teardrop_side(tip: Point, end: Point, width: Mm, shortest: Mm, longest: Mm) -> list[Point]:
    """Return the left side of a teardrop, from its pointed tip to the middle of its round end.

    ``width`` is the whole width of the loop, at most nine tenths of its length. Straight sides run from the tip to
    a circle that they touch. The right side is the mirror image over the line from tip to end.
    """
    long = math.dist(tip, end)
    if long == 0.0:
        return [end]
    radius = min(width, 0.9 * long) / 2.0
    centre = long - radius
    open_angle = math.asin(min(1.0, radius / centre))
    touch = math.pi / 2.0 + open_angle
    side = math.sqrt(max(0.0, centre * centre - radius * radius))
    count = _arc_pieces(radius, touch, shortest)
    row = _straight(side * math.cos(open_angle), side * math.sin(open_angle), longest)
    for i in range(1, count + 1):
        angle = touch * (1.0 - i / count)
        row.append((centre + radius * math.cos(angle), radius * math.sin(angle)))
    ex, ey = (end[0] - tip[0]) / long, (end[1] - tip[1]) / long
    placed = [(tip[0] + ex * u - ey * v, tip[1] + ey * u + ex * v) for u, v in row]
    return [*placed[:-1], end]


def _straight(along: Mm, across: Mm, longest: Mm) -> list[Point]:
    """Return even steps from the origin to a place."""
    count = max(1, math.ceil(math.hypot(along, across) / longest))
    return [(along * i / count, across * i / count) for i in range(1, count + 1)]


def _arc_pieces(radius: Mm, angle: float, shortest: Mm) -> int:
    """Return how many stitches sew an arc: as round as the shortest stitch allows."""
    count = max(1, math.ceil(math.degrees(angle) / TURN_PER_STITCH))
    while count > 1 and 2.0 * radius * math.sin(angle / count / 2.0) < shortest:
        count -= 1
    return count


def mirrored(row: list[Point], a: Point, b: Point) -> list[Point]:
    """Return the row reflected over the line through a and b."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    long = math.hypot(dx, dy)
    if long == 0.0:
        return list(row)
    ex, ey = dx / long, dy / long
    result = []
    for x, y in row:
        across = -ey * (x - a[0]) + ex * (y - a[1])
        result.append((x + 2.0 * across * ey, y - 2.0 * across * ex))
    return result


def star(centre: Point, radius: Mm) -> list[Point]:
    """Return the five holes of a knot in sewing order, each a long step from the one before.

    The first lies towards the seam's start. A step is 1.902 times the radius (chord of two fifths of a circle).
    """
    turns = (0, 2, 4, 1, 3)
    return [
        (
            centre[0] - radius * math.cos(0.4 * math.pi * k),
            centre[1] - radius * math.sin(0.4 * math.pi * k),
        )
        for k in turns
    ]


STAR_STEP = 2.0 * math.sin(0.4 * math.pi)
"""Length of a step of a knot, measured in its radius."""
