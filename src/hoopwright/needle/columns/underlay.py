"""What is sewn below a column before its satin: it draws the cloths together and gives the satin something to lie on.

Every underlay begins and ends at the start of the column, where the satin then begins.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from shapely.geometry import LineString

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Points, frozen_points
from hoopwright.needle.columns.zigzag import Spokes, apart, joined
from hoopwright.needle.lines import even_stitches
from hoopwright.operations.vocabulary import Underlay

RUN: Final[Mm] = 2.2
"""Stitch length of an underlay, mm (common practice: 2.0 to 2.5, no source)."""

INSIDE: Final[Mm] = 0.5
"""How far edge runs and zigzag stay inside the rails, mm, so that they never show (common practice, no source)."""

ZIGZAG_STEP: Final[Mm] = 2.0
"""Distance between neighbouring stitches of one side of a zigzag underlay, mm (common practice, no source)."""

EDGES_FROM: Final[Mm] = 3.0
"""A column this wide is held by two runs along its edges instead of one in the middle (common practice, no source)."""

ZIGZAG_FROM: Final[Mm] = 5.0
"""A column this wide gets a zigzag underlay, so that its long stitches do not sink in (common practice, no source)."""

LEAST: Final[Mm] = 1.0
"""A column narrower than this has no room for anything below it."""


def fitting_underlay(width: Mm) -> Underlay:
    """Return the underlay that suits a column of this width."""
    if width < LEAST:
        return "none"
    if width < EDGES_FROM:
        return "centre"
    return "edges" if width < ZIGZAG_FROM else "zigzag"


def underlay(spokes: Spokes, kind: Underlay, shortest: Mm) -> Points:
    """Return the needle positions below a column of ``spokes``, from its start and back to it; none for "none"."""
    if kind == "none" or len(spokes) < 2:
        return frozen_points(np.empty((0, 2)))
    ways = {"centre": _centre, "edges": _edges, "zigzag": _zigzag}[kind](spokes)
    if min(_length(way) for way in ways) <= shortest:
        return frozen_points(np.empty((0, 2)))
    return joined([apart(even_stitches(LineString(way), RUN, shortest), shortest) for way in ways], shortest)


def _length(line: Points) -> Mm:
    steps = np.diff(line, axis=0)
    return float(np.hypot(steps[:, 0], steps[:, 1]).sum())


def _inset(spokes: Spokes, by: Mm) -> Spokes:
    """Return the spokes shortened at both ends by ``by``, at most to a quarter of their length at each end."""
    way = spokes[:, 1] - spokes[:, 0]
    size = np.maximum(np.hypot(way[:, 0], way[:, 1]), SAME_PLACE)
    part = np.minimum(by / size, 0.25)[:, None]
    return np.asarray(np.stack([spokes[:, 0] + way * part, spokes[:, 1] - way * part], axis=1), dtype=np.float64)


def _centre(spokes: Spokes) -> tuple[Points, Points]:
    middle = np.asarray(spokes.mean(axis=1), dtype=np.float64)
    return middle, middle[::-1]


def _edges(spokes: Spokes) -> tuple[Points, Points]:
    inner = _inset(spokes, INSIDE)
    return inner[:, 0], inner[::-1, 1]


def _zigzag(spokes: Spokes) -> tuple[Points, Points]:
    """Return a run along the middle and an open zigzag back."""
    inner = _inset(spokes, INSIDE)
    middle, _ = _centre(spokes)
    count = max(2, math.ceil(_length(middle) / (ZIGZAG_STEP / 2.0)))
    rows = np.linspace(len(spokes) - 1, 0, count + 1).round().astype(int)
    return middle, np.array([inner[i, k % 2] for k, i in enumerate(rows)], dtype=np.float64)
