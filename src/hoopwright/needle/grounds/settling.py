"""Settling a closed line: every part of it moves to the middle of what lies nearest to it, and its turns grow soft.

A closed line is a row of places without the first repeated. No move brings two strands nearer than the room kept
between them: each may use half of what they have to spare.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Points
from hoopwright.needle.grounds.cells import middles

ROUNDS: Final = 12
STEP: Final = 1 / 3
"""Step between places of the line, in spacings."""
PULL: Final = 0.8
"""Part of the way to the middle of its surroundings that a place moves in a round."""
SOFTENING: Final = 0.8
"""Part of the way to the middle of its two neighbours that a place moves in a round."""
ROOM: Final = 0.62
"""Spacings kept between two strands; the softened line keeps LEAST_ROOM."""
WALL_ROOM: Final = 0.3
"""Spacings kept between line and wall."""
SAME_STRAND: Final = 1.5
"""Places nearer than this many spacings along the line belong to one strand."""


def settled(line: Points, wall: Points, cover: Points, spacing: Mm) -> Points:
    """Return ``line`` settled among ``wall`` and itself so that it lies evenly over ``cover``."""
    near_wall = cKDTree(wall)
    for _ in range(ROUNDS):
        line = evenly(line, spacing * STEP)
        gap, nearest = (np.asarray(found) for found in near_wall.query(line))
        strands = _strands(line, (ROOM + 0.4) * spacing)
        least = _least(len(line), strands, (ROOM + 0.4) * spacing)
        spare = np.minimum((least - ROOM * spacing) / 2, gap - WALL_ROOM * spacing)
        away = _away(len(line), strands, ROOM * spacing) + (line - wall[nearest]) * _short(gap, WALL_ROOM * spacing)
        move = _shortened(_move(line, cover), np.maximum(spare, 0.0))
        line = line + move + _shortened(away, np.minimum(least, gap) / 4)
    return line


def _shortened(move: Points, limit: NDArray[np.float64]) -> Points:
    reach = np.hypot(move[:, 0], move[:, 1])
    return move * np.minimum(1.0, limit / np.maximum(reach, SAME_PLACE))[:, None]


def _short(gaps: NDArray[np.float64], room: Mm) -> NDArray[np.float64]:
    """Return by what part of itself each gap falls short of the room, as a column."""
    part: NDArray[np.float64] = np.maximum(0.0, room / np.maximum(gaps, SAME_PLACE) - 1.0)
    return part[:, None]


def evenly(line: Points, step: Mm) -> Points:
    """Return the closed line with its places about ``step`` apart."""
    ring = np.concatenate([line, line[:1]])
    gaps = np.diff(ring, axis=0)
    travelled = np.concatenate([[0.0], np.cumsum(np.hypot(gaps[:, 0], gaps[:, 1]))])
    count = max(12, round(travelled[-1] / step))
    stops = np.arange(count) / count * travelled[-1]
    return np.column_stack([np.interp(stops, travelled, ring[:, axis]) for axis in (0, 1)])


def _move(line: Points, cover: Points) -> Points:
    """Return the way each place would go: sideways to the middle of its surroundings, and to the middle of its neighbours."""
    centre, share = middles(cover, line)
    pull = _blurred((centre - line) * share[:, None]) / np.maximum(_blurred(share[:, None]), 0.5)
    before, after = np.roll(line, 1, axis=0), np.roll(line, -1, axis=0)
    along = after - before
    along = along / np.maximum(np.hypot(along[:, 0], along[:, 1]), SAME_PLACE)[:, None]
    sideways: Points = pull - (pull * along).sum(axis=1)[:, None] * along
    return PULL * sideways + SOFTENING * ((before + after) / 2 - line)


def _blurred(values: Points) -> Points:
    for _ in range(2):
        values = (np.roll(values, 1, axis=0) + 2 * values + np.roll(values, -1, axis=0)) / 4
    return values


@dataclass(frozen=True, slots=True, eq=False)
class _Strands:
    """Pairs of places on two strands that lie near each other, the way from the second to the first, and its length."""

    pairs: NDArray[np.intp]
    ways: Points
    gaps: NDArray[np.float64]


def _strands(line: Points, reach: Mm) -> _Strands:
    pairs = cKDTree(line).query_pairs(reach, output_type="ndarray")
    apart = np.abs(pairs[:, 0] - pairs[:, 1])
    pairs = pairs[np.minimum(apart, len(line) - apart) > SAME_STRAND / STEP]
    ways = line[pairs[:, 0]] - line[pairs[:, 1]]
    return _Strands(pairs, ways, np.hypot(ways[:, 0], ways[:, 1]))


def _least(count: int, strands: _Strands, reach: Mm) -> NDArray[np.float64]:
    """Return for each place the gap to the nearest other strand, at most ``reach``."""
    least = np.full(count, reach)
    np.minimum.at(least, strands.pairs.T.ravel(), np.tile(strands.gaps, 2))
    return least


def _away(count: int, strands: _Strands, room: Mm) -> Points:
    """Return the way each place would go to have its part of ``room`` from other strands again."""
    push = strands.ways * _short(strands.gaps, room) / 4
    first, second = strands.pairs.T
    sums = [np.bincount(first, p, minlength=count) - np.bincount(second, p, minlength=count) for p in push.T]
    return np.column_stack(sums)


def softened(line: Points) -> Points:
    """Return the closed line with its corners cut twice: each piece keeps its middle half, so that the line bends evenly."""
    for _ in range(2):
        after = np.roll(line, -1, axis=0)
        line = np.stack([0.75 * line + 0.25 * after, 0.25 * line + 0.75 * after], axis=1).reshape(-1, 2)
    return line
