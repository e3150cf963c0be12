"""Stitch positions along plain lines: even stitches, corners kept, locks at both ends.

Words: a *corner* is a bend sharper than CORNER_DEGREES, where the needle must come down; between corners stitches
are spread evenly along the line.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import LineString

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Points, frozen_points

CORNER_DEGREES: Final = 25.0
LOCK_STITCHES: Final = 3
"""Tiny stitches at each end of a run; 3 to 4 are common practice, no source."""
RING_OVERLAP: Final = 3
"""Stitches that a closed line is sewn on past its start, so that it cannot open."""


def even_stitches(line: LineString, length: Mm, shortest: Mm) -> Points:
    """Return needle positions along ``line``, shape (n, 2): at most ``length`` apart,
    and not less than ``shortest``; where a piece between two corners allows only one of the two, ``shortest`` wins.

    Corners are kept unless two of them lie nearer than ``shortest``. The ends are exact.
    """
    points, travelled, marks = corner_marks(line, shortest)
    stops = [0.0]
    for a, b in pairwise(marks):
        parts = max(1, math.ceil((b - a) / length - SAME_PLACE))
        if parts > 1 and (b - a) / parts < shortest:
            parts = max(1, int((b - a) / shortest))
        stops.extend(a + (b - a) * k / parts for k in range(1, parts + 1))
    x = np.interp(stops, travelled, points[:, 0])
    y = np.interp(stops, travelled, points[:, 1])
    return frozen_points(np.column_stack([x, y]))


def corner_marks(line: LineString, shortest: Mm) -> tuple[Points, NDArray[np.float64], list[float]]:
    """Return the places of a line, how far along it each lies, and where its ends and corners lie, none nearer than ``shortest``."""
    points = _without_repeats(np.asarray(line.coords, dtype=np.float64)[:, :2])
    steps = np.diff(points, axis=0)
    travelled = np.zeros(len(points))
    np.cumsum(np.hypot(steps[:, 0], steps[:, 1]), out=travelled[1:])
    marks = _thin([0.0, *travelled[_corners(steps)].tolist(), float(travelled[-1])], shortest)
    return points, travelled, marks


def _without_repeats(points: Points) -> Points:
    steps = np.diff(points, axis=0)
    far = np.hypot(steps[:, 0], steps[:, 1]) > SAME_PLACE
    return points if far.all() else np.asarray(points[np.concatenate([[True], far])], dtype=np.float64)


def _corners(steps: Points) -> NDArray[np.intp]:
    """Return the places, as rows of the line, where it bends sharply between two steps."""
    angles = np.arctan2(steps[:, 1], steps[:, 0])
    bends = np.abs((angles[1:] - angles[:-1] + math.pi) % (2 * math.pi) - math.pi)
    return np.flatnonzero(bends > math.radians(CORNER_DEGREES)) + 1


def _thin(marks: list[float], shortest: Mm) -> list[float]:
    """Drop corners nearer than ``shortest`` to the one before or to the end."""
    kept = [marks[0]]
    for mark in marks[1:-1]:
        if mark - kept[-1] >= shortest and marks[-1] - mark >= shortest:
            kept.append(mark)
    return [*kept, marks[-1]]


def kept_apart(points: Points, shortest: Mm) -> Points:
    """Return needle positions without those nearer than ``shortest`` to the one before; both ends stay.

    Stitches even along a line may come close where the line turns back on itself or goes round a tiny loop.
    """
    steps = np.hypot(*np.diff(points, axis=0).T)
    if (steps >= shortest - SAME_PLACE).all() or len(points) < 3:
        return points
    kept = [points[0]]
    for place in points[1:-1]:
        if math.dist(place, kept[-1]) >= shortest - SAME_PLACE:
            kept.append(place)
    if len(kept) > 1 and math.dist(kept[-1], points[-1]) < shortest - SAME_PLACE:
        kept.pop()
    return frozen_points([*kept, points[-1]])


def repeated(points: Points, times: int) -> Points:
    """Return the line sewn ``times`` times: round and round when it is closed, back and forth when it is open."""
    closed = math.dist(points[0], points[-1]) <= SAME_PLACE
    rows = [points]
    for turn in range(1, times):
        again = points if closed or turn % 2 == 0 else points[::-1]
        rows.append(again[1:])
    if closed:
        rows.append(points[1 : 1 + RING_OVERLAP])
    return frozen_points(np.concatenate(rows))


def locked(points: Points, lock: Mm) -> Points:
    """Return the run with tiny stitches of length ``lock`` at both ends, laid back over its own first and last stitch.

    Runs shorter than two locks are returned with the locks at half their length, so that they stay inside the run.
    """
    head = _lock(points[0], points[1], lock)
    tail = _lock(points[-1], points[-2], lock)[::-1]
    return frozen_points(np.concatenate([head, points[1:-1], tail]))


def _lock(at: Points, towards: Points, lock: Mm) -> Points:
    step = towards - at
    reach = float(np.hypot(step[0], step[1]))
    tiny = at + step / reach * min(lock, reach / 2) if reach > SAME_PLACE else at
    return np.array([at if i % 2 == 0 else tiny for i in range(LOCK_STITCHES)])
