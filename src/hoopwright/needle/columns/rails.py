"""A column between two rails that may run apart and together: appliqué borders, letters."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from shapely.geometry import LineString

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Points
from hoopwright.needle.columns.underlay import fitting_underlay, underlay
from hoopwright.needle.columns.zigzag import Spokes, joined, zigzag
from hoopwright.operations.vocabulary import Underlay

LONGEST: Final[Mm] = 7.0
"""A stitch longer than this is divided unless the caller says otherwise."""


def spokes_between(left: LineString, right: LineString, count: int = 200) -> Spokes:
    """Return ``count`` spokes between two rails that run the same way, at equal parts of the length of each."""
    parts = np.linspace(0.0, 1.0, count)
    return np.stack([_at_parts(left, parts), _at_parts(right, parts)], axis=1)


def _at_parts(line: LineString, parts: Points) -> Points:
    points = np.asarray(line.coords, dtype=np.float64)[:, :2]
    travelled = _travelled(points)
    at = parts * travelled[-1]
    return np.column_stack([np.interp(at, travelled, points[:, 0]), np.interp(at, travelled, points[:, 1])])


def _travelled(points: Points) -> Points:
    steps = np.diff(points, axis=0)
    return np.concatenate([[0.0], np.cumsum(np.hypot(steps[:, 0], steps[:, 1]))])


def widened(spokes: Spokes, by: Mm, least: Mm = 0.0) -> Spokes:
    """Return spokes drawn out by ``by`` mm, half at each end, and to at least ``least`` mm in all."""
    way = spokes[:, 1] - spokes[:, 0]
    size = np.hypot(way[:, 0], way[:, 1])
    unit = way / np.maximum(size, SAME_PLACE)[:, None]
    out = (np.maximum(size + by, least) - size)[:, None] / 2.0 * unit
    return np.stack([spokes[:, 0] - out, spokes[:, 1] + out], axis=1)


def evenly(spokes: Spokes, spacing: Mm) -> Spokes:
    """Return spokes half a ``spacing`` apart on the longer way of the two rails, interpolated between those given."""
    steps = np.hypot(*np.moveaxis(np.diff(spokes, axis=0), 2, 0)).max(axis=1)
    travelled = np.concatenate([[0.0], np.cumsum(steps)])
    count = max(2, math.ceil(float(travelled[-1]) / (spacing / 2.0) - SAME_PLACE) + 1)
    at = np.linspace(0.0, travelled[-1], count)
    flat = spokes.reshape(len(spokes), 4)
    drawn = np.column_stack([np.interp(at, travelled, flat[:, k]) for k in range(4)])
    return np.asarray(drawn.reshape(count, 2, 2), dtype=np.float64)


def column(
    left: LineString,
    right: LineString,
    spacing: Mm,
    shortest: Mm,
    *,
    pull: Mm = 0.0,
    split: Mm = LONGEST,
    below: Underlay | None = None,
) -> Points:
    """Return the needle positions of a column between two rails that run the same way, its underlay first.

    ``pull`` is added to its width, because columns are drawn together when sewn. ``below`` None chooses the underlay by the
    width at the widest place.
    """
    spokes = evenly(widened(spokes_between(left, right), pull), spacing)
    width = float(np.hypot(*(spokes[:, 1] - spokes[:, 0]).T).max())
    kind = fitting_underlay(width) if below is None else below
    return joined([underlay(spokes, kind, shortest), zigzag(spokes, spacing, shortest, split)], shortest)
