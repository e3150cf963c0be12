"""The curves that stitches are made of, each sampled once into needle positions.

Words: an *arm* is a thread line that runs out from a root to a tip; a *sag* is how far a pulled thread bows from the
straight way, positive to the left of its direction; a *teardrop* is the loop of a chain stitch, pointed where the
thread comes up and round where it is caught; a *knot* is a small star, sewn so closely that it reads as a dot.
All places are (along, across) the seam in mm. Functions return rows of positions, the starting one left out.
"""

from __future__ import annotations

import math

from hoopwright.core.types import Degrees, Mm, Point

TURN_PER_STITCH: Degrees = 24.0
"""How much a curve may bend in one stitch and still look round at hand distance (common practice, no source)."""


def pieces(length: Mm, bend: Degrees, shortest: Mm, longest: Mm) -> int:
    """Return into how many even stitches a line is cut that is ``length`` long and bends by ``bend`` degrees."""
    needed = math.ceil(length / longest)
    wished = math.ceil(bend / TURN_PER_STITCH)
    return max(1, needed, min(wished, int(length / (1.02 * shortest))))


def bow(a: Point, b: Point, sag: Mm, shortest: Mm, longest: Mm) -> list[Point]:
    """Return a slightly bowed line from a to b, its middle ``sag`` to the left of the straight way."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    chord = math.hypot(dx, dy)
    if chord == 0.0:
        return [b]
    if sag == 0.0:
        count = max(1, math.ceil(chord / longest))
        return [*((a[0] + dx * i / count, a[1] + dy * i / count) for i in range(1, count)), b]
    bend = math.degrees(4.0 * math.atan(2.0 * abs(sag) / chord))
    count = pieces(chord + 8.0 / 3.0 * sag * sag / chord, bend, shortest, longest)
    nx, ny = -dy / chord, dx / chord
    row = []
    for i in range(1, count):
        t = _even(i / count, sag / chord)
        off = 4.0 * sag * t * (1.0 - t)
        row.append((a[0] + dx * t + nx * off, a[1] + dy * t + ny * off))
    row.append(b)
    return row


def _even(t: float, bent: float) -> float:
    """Return the place on a bowed line (0 to 1 along its chord) that cuts it into nearly even lengths.

    A parabola is steeper at its ends; the length up to x grows like x + 8 s^2 (x - 2 x^2 + 4 x^3 / 3), s = sag / chord.
    """
    steep = 8.0 * bent * bent
    place = t
    for _ in range(3):
        reached = place + steep * (place - 2.0 * place**2 + 4.0 / 3.0 * place**3)
        place -= (reached - t * (1.0 + steep / 3.0)) / (1.0 + steep * (1.0 - 2.0 * place) ** 2)
    return place


def teardrop_side(tip: Point, end: Point, width: Mm, shortest: Mm, longest: Mm) -> list[Point]:
    """Return the left side of a teardrop, from its pointed tip to the middle of its round end.

    ``width`` is the whole width of the loop, at most nine tenths of its length. Straight sides run from the tip to
    a circle that they touch. The right side is the mirror image over the line from tip to end.
    """
    long = math.dist(tip, end)
    if long == 0.0:
        return [end]
    radius, touch, row = _teardrop_flank(long, width, longest)
    count = _arc_pieces(radius, touch, shortest)
    row += _arc(long - radius, radius, touch, [touch * (1.0 - i / count) for i in range(1, count)])
    return [*_placed(row, tip, end), end]


def teardrop(tip: Point, end: Point, width: Mm, shortest: Mm, longest: Mm) -> list[Point]:
    """Return a whole teardrop from its tip round and back to the tip, as round as the shortest stitch allows."""
    long = math.dist(tip, end)
    if long == 0.0:
        return [tip]
    radius, touch, row = _teardrop_flank(long, width, longest)
    count = max(2, _arc_pieces(radius, 2.0 * touch, shortest))
    angles = [touch * (1.0 - 2.0 * i / count) for i in range(1, count)]
    mirror = [(along, -across) for along, across in reversed(row)]
    loop = [*row, *_arc(long - radius, radius, touch, angles), *mirror]
    return [*_placed(loop, tip, end), tip]


def _teardrop_flank(long: Mm, width: Mm, longest: Mm) -> tuple[Mm, float, list[Point]]:
    """Return the radius of the round end, the angle at which the side touches it, and the straight side's places."""
    radius = min(width, 0.9 * long) / 2.0
    centre = long - radius
    open_angle = math.asin(min(1.0, radius / centre))
    side = math.sqrt(max(0.0, centre * centre - radius * radius))
    row = _straight(side * math.cos(open_angle), side * math.sin(open_angle), longest)
    return radius, math.pi / 2.0 + open_angle, row


def _arc(centre: Mm, radius: Mm, touch: float, angles: list[float]) -> list[Point]:
    """Return places on the round end for angles between ``touch`` and its opposite."""
    return [(centre + radius * math.cos(a), radius * math.sin(a)) for a in angles if abs(a) < touch]


def _placed(row: list[Point], tip: Point, end: Point) -> list[Point]:
    """Return places given along and across the line from tip to end."""
    long = math.dist(tip, end)
    ex, ey = (end[0] - tip[0]) / long, (end[1] - tip[1]) / long
    return [(tip[0] + ex * u - ey * v, tip[1] + ey * u + ex * v) for u, v in row]


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


def knot(centre: Point, radius: Mm) -> list[Point]:
    """Return the needle positions of a knot after its first one, which lies towards the seam's start.

    Six holes on a circle, sewn to and fro in long steps across it, the second half the mirror image of the first,
    then straight through to the hole towards the seam's end. No step is shorter than KNOT_STEP times the radius.
    """
    holes = [
        (centre[0] - radius * math.cos(math.pi / 3.0 * k), centre[1] + radius * math.sin(math.pi / 3.0 * k))
        for k in range(6)
    ]
    return [holes[k] for k in (2, 4, 1, 5, 3, 1, 5, 2, 4, 0, 3)]


KNOT_STEP = 2.0 * math.sin(math.pi / 3.0)
"""Length of the shortest step of a knot, measured in its radius."""


def boss(centre: Point, radius: Mm) -> list[Point]:
    """Return the needle positions of a large knot after its first one, which lies towards the seam's start.

    Eight holes on a circle; straight across and three holes back in turn covers the whole of it twice, and ends at the
    hole towards the seam's end. No step is shorter than 1.84 times the radius.
    """
    holes = [
        (centre[0] - radius * math.cos(math.pi / 4.0 * k), centre[1] + radius * math.sin(math.pi / 4.0 * k))
        for k in range(8)
    ]
    return [holes[k % 8] for i in range(8) for k in (i + 4, i + 1)] + [holes[4]]
