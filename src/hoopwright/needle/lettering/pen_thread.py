"""Single-line letters as stitches: every connected part is one walk that sews each of its lines the same number of times."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

import numpy as np
from shapely.geometry import LineString

from hoopwright.core.types import Mm, Point, Points, frozen_points
from hoopwright.needle.columns.zigzag import apart
from hoopwright.needle.lettering.single_line import DOT_PART, Sign
from hoopwright.needle.lines import corner_marks
from hoopwright.needle.network import Network, network_of, parts_of
from hoopwright.needle.routing import one_walk

PER_HEIGHT: Final = 0.17
"""Stitches are this part of the letters' height long, within the bounds below: small letters need small ones to be round."""

LONGEST: Final[Mm] = 2.2
SHORTEST: Final[Mm] = 1.15

STRAIGHT: Final = 0.99
"""A part of a line whose ends are further apart than this part of its length is straight."""

LEAST: Final[Mm] = 0.6
"""Where lines meet or turn, stitches may be this short, so that small letters keep their shape."""

TINY: Final[Mm] = 0.45
"""Shorter stitches, where a walk turns back on itself, are left out."""

DOT: Final[Mm] = 1.0
"""A dot is a stitch of this length, or of DOT_PART of the letters' height if that is more."""


def pen_rows(sign: Sign, x: Mm, y: Mm, height: Mm, times: int) -> Iterator[Points]:
    """Return the needle positions of one letter whose origin lies at (x, y), a row for each part that hangs together.

    Every line is sewn ``times`` times; the letter is begun at its lower left.
    """
    length = min(LONGEST, max(SHORTEST, PER_HEIGHT * height))
    lines = [LineString(stroke * height + (x, y)) for stroke in sign.strokes]
    parts = parts_of(network_of(lines)) if lines else ()
    for part in sorted(parts, key=lambda p: min(p.places)):
        for walk in _walks(part, times):
            yield _needle_places(walk, length)
    for dx, dy in sign.dots:
        yield _dot(x + dx * height, y + dy * height, max(DOT, DOT_PART * height), times)


def _needle_places(walk: LineString, bent: Mm) -> Points:
    """Return needle positions along a walk: every corner, straight parts in long stitches, bent ones in those of ``bent`` mm."""
    points, along, marks = corner_marks(walk, LEAST)
    stops = [0.0]
    for a, b in pairwise(marks):
        ends = [np.array([np.interp(t, along, points[:, k]) for k in (0, 1)]) for t in (a, b)]
        straight = float(np.hypot(*(ends[1] - ends[0]))) > STRAIGHT * (b - a)
        parts = max(1, round((b - a) / (LONGEST if straight else bent)))
        stops.extend(a + (b - a) * k / parts for k in range(1, parts + 1))
    return apart(np.column_stack([np.interp(stops, along, points[:, k]) for k in (0, 1)]), TINY)


def _dot(x: Mm, y: Mm, size: Mm, times: int) -> Points:
    """Return a dot: a short stitch, once more there and back than the lines."""
    ends = np.array([[x, y + size / 2.0], [x, y - size / 2.0]])
    return frozen_points(ends[np.arange(2 * times) % 2])


def _walks(part: Network, times: int) -> Iterator[LineString]:
    """Return walks that together sew every line ``times`` times: there and back, and once more if the number is odd."""
    if times % 2:
        yield from one_walk([LineString(row) for row in part.rows])
    if times > 1:
        start = min(range(len(part.places)), key=lambda n: (sum(part.places[n]), part.places[n]))
        row = _there_and_back(part, start, set())
        yield LineString(row + row[1:] * (times // 2 - 1))


def _there_and_back(part: Network, start: int, sewn: set[int]) -> list[Point]:
    """Return the places of a walk from ``start`` and back to it that sews every line once in each direction."""
    walk = [part.places[start]]
    for number, (a, b) in enumerate(part.joins):
        if number in sewn or start not in (a, b):
            continue
        sewn.add(number)
        row = part.rows[number] if a == start else part.rows[number][::-1]
        beyond = _there_and_back(part, b if a == start else a, sewn)
        walk += [*row[1:], *beyond[1:], *row[-2::-1]]
    return walk
