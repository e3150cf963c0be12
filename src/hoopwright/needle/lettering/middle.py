"""Middle lines made fit for columns: evened, smoothed, cut back at joints, bridged, drawn on."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Points
from hoopwright.needle.lettering.skeleton import Floats, Joint

LEFT_OF_SHORT: Final = 0.25
"""Of a branch shorter than the discs at its ends, at least this part stays in the middle."""

FINEST: Final = 1e-4
"""Places of a line stand at least so far apart, in parts of the height of a capital."""

WEDGE: Final = 2.2
"""Within so many radii of a free end a line may lean towards a corner of the end's edge; that part is drawn anew."""

SHRUNK: Final = 0.93
"""A disc smaller than this part of the first great one from the end belongs to such a corner."""


def travelled(points: Points) -> Floats:
    """Return how far along the line each place lies."""
    return np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])


def even(points: Points, step: float) -> Points:
    """Return a line with places about ``step`` apart, its ends exact."""
    along = travelled(points)
    count = max(1, math.ceil(float(along[-1]) / step))
    at = np.linspace(0.0, along[-1], count + 1)
    return np.column_stack([np.interp(at, along, points[:, 0]), np.interp(at, along, points[:, 1])])


def smooth(points: Points, radii: Floats, closed: bool) -> Points:
    """Return a line with the jitter of its places taken out: a weighed mean over about a radius to both sides."""
    radius = float(np.median(radii))
    step = max(radius / 5.0, FINEST)
    line = even(points, step)
    if len(line) < 5:
        return line
    reach = min(5, (len(line) - 1) // 2)
    weights = np.hanning(2 * reach + 3)[1:-1]
    weights = weights / weights.sum()
    if closed:
        ring = line[:-1]
        around = np.vstack([ring[-reach:], ring, ring[:reach]])
        calm = np.column_stack([np.convolve(around[:, k], weights, "valid") for k in (0, 1)])
        return np.vstack([calm, calm[:1]])
    head = 2 * line[0] - line[reach:0:-1]
    tail = 2 * line[-1] - line[-2 : -reach - 2 : -1]
    around = np.vstack([head, line, tail])
    return np.column_stack([np.convolve(around[:, k], weights, "valid") for k in (0, 1)])


def ends_cut(points: Points, radii: Floats, start: Joint | None, end: Joint | None) -> tuple[Points, Floats]:
    """Return a branch without what lies within the discs of the joints at its ends; a middle part always stays."""
    along = travelled(points)
    whole = float(along[-1])
    cut = [0.0, 0.0]
    for k, joint in enumerate((start, end)):
        if joint is not None:
            run = _run(np.hypot(*(points - joint.at).T) <= joint.radius, k)
            cut[k] = float(along[run]) if k == 0 else whole - float(along[run])
    room = whole * (1.0 - LEFT_OF_SHORT)
    if sum(cut) > room:
        cut = [c * room / sum(cut) for c in cut]
    return _between(points, radii, along, cut[0], whole - cut[1])


def _run(inside: NDArray[np.bool_], end: int) -> int:
    """Return the last row, counted from an end, up to which all rows are inside."""
    row = inside if end == 0 else inside[::-1]
    stop = int(np.argmin(row)) if not row.all() else len(row) - 1
    return stop if end == 0 else len(row) - 1 - stop


def _between(points: Points, radii: Floats, along: Floats, low: float, high: float) -> tuple[Points, Floats]:
    inner = (along > low) & (along < high)
    at = np.concatenate([[low], along[inner], [high]])
    line = np.column_stack([np.interp(at, along, points[:, k]) for k in (0, 1)])
    return line, np.interp(at, along, radii)


def trimmed(points: Points, radii: Floats, start: bool, end: bool) -> tuple[Points, Floats]:
    """Return a line without the parts at its free ends (``start``, ``end``) that lean into a corner of the edge."""
    for free, back in ((start, False), (end, True)):
        if not free:
            continue
        line, discs = (points[::-1], radii[::-1]) if back else (points, radii)
        along = travelled(line)
        reach = min(WEDGE * float(np.median(discs)), float(along[-1]) * 0.45)
        near = discs[along <= reach]
        greatest = np.maximum.accumulate(near)
        falls = np.flatnonzero(near < SHRUNK * greatest)
        usual = float(greatest[falls[0] if len(falls) else -1])
        k = min(int(np.argmax(near >= SHRUNK * usual)), len(line) - 2)
        line, discs = line[k:], discs[k:]
        points, radii = (line[::-1], discs[::-1]) if back else (line, discs)
    return points, radii


def tangent(points: Points, end: int, reach: float) -> Points:
    """Return the direction in which a line leaves through its start (0) or end (-1), taken over ``reach``."""
    line = points if end == -1 else points[::-1]
    along = travelled(line)
    reach = min(reach, float(along[-1]))
    back = np.array([np.interp(along[-1] - reach, along, line[:, k]) for k in (0, 1)])
    way = line[-1] - back
    return np.asarray(way / max(float(np.hypot(*way)), SAME_PLACE), dtype=np.float64)


def drawn_on(points: Points, end: int, reach: float, radius: float, step: float) -> Points:
    """Return places that draw a line straight on past its start (0) or end (-1), from within outwards."""
    way = tangent(points, end, radius)
    count = max(1, math.ceil(reach / step))
    return np.asarray(points[end] + way * (np.arange(1, count + 1) * step)[:, None], dtype=np.float64)


def hermite(one: Points, other: Points) -> Points:
    """Return a smooth bridge from the end of one line to the start of another."""
    a, b = one[-1], other[0]
    gap = float(np.hypot(*(b - a)))
    out, into = tangent(one, -1, gap) * gap, -tangent(other, 0, gap) * gap
    t = np.linspace(0.0, 1.0, 24)[:, None]
    return np.asarray(
        (2 * t**3 - 3 * t**2 + 1) * a + (t**3 - 2 * t**2 + t) * out + (3 * t**2 - 2 * t**3) * b + (t**3 - t**2) * into,
        dtype=np.float64,
    )
