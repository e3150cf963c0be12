"""Satin over a cut edge: a zigzag column along a line, its corners mitred or rounded.

Words: a *rail* is one border of the column; a *spoke* is a straight line across it, from rail to rail; a *leg* is the
part of the line between two corners. At a corner the spokes of both legs end on the line that halves the corner, so
that the legs meet like the strips of a picture frame: nothing is sewn twice and no hole is used again and again. Where
the line only bends, spokes stand as close as ``spacing`` on the outer rail.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate, pairwise
from typing import Final

import numpy as np
from shapely.geometry import LineString

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Point, Points
from hoopwright.needle.columns.rounding import rounded
from hoopwright.needle.columns.underlay import underlay
from hoopwright.needle.columns.zigzag import Spoke, joined, zigzag
from hoopwright.needle.lines import CORNER_DEGREES
from hoopwright.operations.vocabulary import EdgeStyle

PAST_START: Final[Mm] = 3.0
"""How far a closed column is sewn on past its start, mm, so that it cannot open (common practice, no source)."""

MOST_MITRE: Final = 2.5
"""A leg is lengthened at a corner by at most this many half widths: beyond it the corner's tip stays bare."""

STEEPEST: Final = 10.0
"""Where the line turns almost right round, its mitre is taken to meet the rails so many half widths away."""


@dataclass(frozen=True, slots=True)
class _Mitre:
    """The line that halves a corner at ``at``; a spoke keeps what lies behind it, against the direction ``ahead``.

    ``slope`` is the tangent of half the bend: the mitre meets the rails that many half widths before and past the corner.
    """

    at: Point
    ahead: Point
    slope: float

    def depth(self, x: float, y: float) -> float:
        """Return how far a place lies past the line."""
        return (x - self.at[0]) * self.ahead[0] + (y - self.at[1]) * self.ahead[1]

    def past(self, half: Mm) -> Mm:
        """Return how far a leg is lengthened, so that its outer rail reaches the mitre."""
        return half * min(MOST_MITRE, self.slope)

    def touched(self, half: Mm) -> Mm:
        """Return over what length at its end a lengthened leg is cut by the mitre."""
        return self.past(half) + half * self.slope


@dataclass(frozen=True, slots=True, eq=False)
class _Leg:
    """Points of the line between two corners, shape (n, 2), and the mitres at its start and end, None at a free end."""

    points: Points
    start: _Mitre | None
    end: _Mitre | None


def satin_edge(line: LineString, style: EdgeStyle, shortest: Mm) -> Points:
    """Return the needle positions of the column along ``line``, shape (n, 2), mm, without locks, its underlay first.

    No stitch is shorter than ``shortest``, none longer than the diagonal of one stitch across the column, or, where that
    is wider, than ``style.split``. A closed line is sewn PAST_START mm past its start.
    """
    points = _cleaned(line)
    if style.corners == "round":
        points = rounded(points, (style.width + style.pull) / 2.0)
    legs = [list(_leg_spokes(leg, style, shortest)) for leg in _legs(points)]
    spokes = [s for leg in legs for s in leg]
    turns = set(accumulate(len(leg) for leg in legs))
    below = underlay(np.array(spokes, dtype=np.float64), style.underlay, shortest) if spokes else _cleaned(line)[:0]
    return joined([below, zigzag(spokes, style.spacing, shortest, style.split, turns)], shortest)


def _cleaned(line: LineString) -> Points:
    points = np.asarray(line.coords, dtype=np.float64)[:, :2]
    steps = np.hypot(*np.diff(points, axis=0).T)
    return np.asarray(points[np.concatenate([[True], steps > SAME_PLACE])], dtype=np.float64)


def _legs(points: Points) -> Iterator[_Leg]:
    """Return the legs in order. A closed line starts in the middle of its longest stretch and runs a little past it."""
    closed = math.dist(points[0], points[-1]) <= SAME_PLACE
    if closed:
        points = _from_longest(points)
    corners = _corners(points)
    marks = [0, *(i for i, _ in corners), len(points) - 1]
    mitres = [None, *(m for _, m in corners), None]
    for k, (a, b) in enumerate(pairwise(marks)):
        yield _Leg(points[a : b + 1], mitres[k], mitres[k + 1])


def _from_longest(ring: Points) -> Points:
    """Return a ring as an open row from the middle of its longest stretch, round, and on past the start."""
    steps = np.hypot(*np.diff(ring, axis=0).T)
    k = int(np.argmax(steps))
    middle = (ring[k] + ring[k + 1]) / 2.0
    on = middle + (ring[k + 1] - middle) * min(1.0, 2.0 * PAST_START / steps[k])
    return np.vstack([middle, ring[k + 1 : -1], ring[: k + 1], middle, on])


def _corners(points: Points) -> list[tuple[int, _Mitre]]:
    """Return the places where the line bends by more than CORNER_DEGREES, with the line that halves each."""
    steps = np.diff(points, axis=0)
    ways = steps / np.hypot(steps[:, 0], steps[:, 1])[:, None]
    found = []
    for i, (one, other) in enumerate(pairwise(ways), start=1):
        if float(one @ other) < math.cos(math.radians(CORNER_DEGREES)):
            found.append((i, _mitre((float(points[i, 0]), float(points[i, 1])), one, other)))
    return found


def _mitre(at: Point, one: Points, other: Points) -> _Mitre:
    """Return the mitre of a corner between two directions; where the line turns right round it lies across it."""
    ahead = one + other
    size = float(np.hypot(*ahead))
    unit = ahead / size if size > SAME_PLACE else one
    cosine = min(1.0, size / 2.0)
    slope = math.sqrt(1.0 - cosine**2) / cosine if cosine > SAME_PLACE else STEEPEST
    return _Mitre(at, (float(unit[0]), float(unit[1])), min(STEEPEST, slope))


def _leg_spokes(leg: _Leg, style: EdgeStyle, shortest: Mm) -> Iterator[Spoke]:
    """Return the spokes of one leg that are long enough to be sewn."""
    half = (style.width + style.pull) / 2.0
    places = _lengthened(leg, half)
    whole = float(np.hypot(*np.diff(places, axis=0).T).sum())
    for at, x, y, nx, ny in _stations(places, half, style.spacing):
        spoke: Spoke | None = ((x + nx * half, y + ny * half), (x - nx * half, y - ny * half))
        if leg.start is not None and at < leg.start.touched(half):
            spoke = _beyond(spoke, leg.start, -1.0)
        if leg.end is not None and whole - at < leg.end.touched(half):
            spoke = _beyond(spoke, leg.end, 1.0)
        if spoke is not None and math.dist(*spoke) >= shortest:
            yield spoke


def _lengthened(leg: _Leg, half: Mm) -> Points:
    """Return the leg drawn out at its corners as far as its outer rail reaches."""
    points = leg.points
    first = points[0] if leg.start is None else points[0] - _way(points[0], points[1]) * leg.start.past(half)
    last = points[-1] if leg.end is None else points[-1] + _way(points[-2], points[-1]) * leg.end.past(half)
    return np.vstack([first, points[1:-1], last])


def _way(a: Points, b: Points) -> Points:
    return np.asarray((b - a) / np.hypot(*(b - a)), dtype=np.float64)


def _stations(points: Points, half: Mm, spacing: Mm) -> Iterator[tuple[Mm, float, float, float, float]]:
    """Return places along a leg, half a ``spacing`` apart on the outer rail: distance travelled, place, normal."""
    normals = _normals(points)
    travelled = 0.0
    for k, (a, b) in enumerate(pairwise(points)):
        n0, n1 = normals[k], normals[k + 1]
        rails = [float(np.hypot(*((b + s * half * n1) - (a + s * half * n0)))) for s in (1.0, -1.0)]
        step = float(np.hypot(*(b - a)))
        count = max(1, math.ceil(max(rails) / (spacing / 2.0) - SAME_PLACE))
        for i in range(count + (1 if k == len(points) - 2 else 0)):
            t = i / count
            x, y = a + (b - a) * t
            nx, ny = n0 + (n1 - n0) * t
            size = math.hypot(nx, ny)
            yield travelled + step * t, float(x), float(y), float(nx / size), float(ny / size)
        travelled += step


def _normals(points: Points) -> Points:
    """Return the normal to the left at every point, halfway between those of its two neighbours."""
    steps = np.diff(points, axis=0)
    left = np.column_stack([-steps[:, 1], steps[:, 0]]) / np.hypot(steps[:, 0], steps[:, 1])[:, None]
    both = np.vstack([left[:1], left[:-1] + left[1:], left[-1:]])
    return np.asarray(both / np.hypot(both[:, 0], both[:, 1])[:, None], dtype=np.float64)


def _beyond(spoke: Spoke | None, mitre: _Mitre, sign: float) -> Spoke | None:
    """Return the part of a spoke on the leg's own side of a mitre; ``sign`` is 1 at the leg's end, -1 at its start."""
    if spoke is None:
        return None
    (ax, ay), (bx, by) = spoke
    da, db = sign * mitre.depth(ax, ay), sign * mitre.depth(bx, by)
    if da <= 0.0 and db <= 0.0:
        return spoke
    if da > 0.0 and db > 0.0:
        return None
    t = da / (da - db)
    cut = (ax + (bx - ax) * t, ay + (by - ay) * t)
    return (cut, (bx, by)) if da > 0.0 else ((ax, ay), cut)
