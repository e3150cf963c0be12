"""Stitches that follow a curve: even ones where a line runs straight, shorter ones where it bends.

A stitch cuts the curve off by its *sag*, about length^2 / (8 radius). So the length allowed at a place is
sqrt(8 radius sag), and stitches are spread so that each takes its share of the lengths allowed along it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray
from shapely.geometry import LineString

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Points, frozen_points
from hoopwright.needle.lines import corner_marks

SAG: Final[Mm] = 0.15
"""How far a stitch may lie off its curve, mm: less than half the width of a laid thread (by eye)."""

FINE: Final[Mm] = 0.2
"""The bend of a line is looked at in steps of this."""

WINDOW: Final = 7
"""So many steps are taken together, so that the corners of a drawn curve do not count as bends."""


def curved_stitches(line: LineString, length: Mm, shortest: Mm) -> Points:
    """Return needle positions along ``line``, shape (n, 2): those of ``even_stitches``, and closer ones where it bends.

    No piece between two corners gets a stitch longer than ``length``, nor one shorter than ``shortest`` where even stitches would
    not be. Ends and corners are exact.
    """
    points, travelled, marks = corner_marks(line, shortest)
    places = np.searchsorted(travelled, marks)
    turned = _turned(points)
    stops = [0.0]
    for (a, b), (first, last) in zip(pairwise(marks), pairwise(places.tolist()), strict=True):
        straight = last - first < 2 or turned[last] - turned[first + 1] <= _unseen(b - a, length)
        stops.extend(
            (None if straight else _closer(points, travelled, (a, b), length, shortest))
            or _even(a, b, length, shortest)
        )
    return frozen_points(_at(points, travelled, stops))


def _turned(points: Points) -> list[float]:
    """Return for each point of a line how much it has turned up to there, radians, whichever way."""
    moves = np.diff(points, axis=0)
    heading = np.arctan2(moves[:, 1], moves[:, 0])
    turns = np.abs((np.diff(heading) + math.pi) % (2.0 * math.pi) - math.pi)
    so_far: list[float] = np.concatenate([[0.0, 0.0], np.cumsum(turns)]).tolist()
    return so_far


def _unseen(long: Mm, length: Mm) -> float:
    """Return how much a piece so long may turn in all without a bend that asks for stitches shorter than ``length``."""
    steps = max(2, math.ceil(long / FINE))
    return 8.0 * SAG / length**2 * min(WINDOW // 2, steps - 1) * long / steps


def _even(a: Mm, b: Mm, length: Mm, shortest: Mm) -> list[Mm]:
    parts = max(1, math.ceil((b - a) / length - SAME_PLACE))
    if parts > 1 and (b - a) / parts < shortest:
        parts = max(1, int((b - a) / shortest))
    return [a + (b - a) * k / parts for k in range(1, parts + 1)]


def _closer(
    points: Points, travelled: NDArray[np.float64], piece: tuple[Mm, Mm], length: Mm, shortest: Mm
) -> list[Mm] | None:
    """Return where the stitches of a bent piece end, as many as its bends ask for and ``shortest`` allows; None: even ones do."""
    a, b = piece
    along = np.linspace(a, b, max(2, math.ceil((b - a) / FINE)) + 1)
    allowed = _allowed(_at(points, travelled, along), along[1] - along[0], length, shortest)
    shares = (1.0 / allowed[:-1] + 1.0 / allowed[1:]) / 2.0 * np.diff(along)
    so_far = np.concatenate([[0.0], np.cumsum(shares)])
    least = math.ceil((b - a) / length - SAME_PLACE)
    for parts in range(math.ceil(so_far[-1] - SAME_PLACE), least, -1):
        stops = np.interp(np.linspace(0.0, so_far[-1], parts + 1), so_far, along)
        steps = np.diff(_at(points, travelled, stops), axis=0)
        stitches = np.hypot(steps[:, 0], steps[:, 1])
        if stitches.min() >= shortest and stitches.max() <= length:
            found: list[Mm] = stops[1:].tolist()
            return found
    return None


def _at(points: Points, travelled: NDArray[np.float64], stops: Sequence[Mm] | NDArray[np.float64]) -> Points:
    """Return the places so far along a line, shape (n, 2)."""
    x = np.interp(stops, travelled, points[:, 0])
    y = np.interp(stops, travelled, points[:, 1])
    return np.column_stack([x, y])


def _allowed(places: Points, step: Mm, length: Mm, shortest: Mm) -> NDArray[np.float64]:
    """Return the length a stitch may have at each of ``places``, which lie ``step`` mm apart along a curve."""
    moves = np.diff(places, axis=0)
    heading = np.unwrap(np.arctan2(moves[:, 1], moves[:, 0]))
    at = np.arange(len(heading))
    first, last = np.maximum(at - WINDOW // 2, 0), np.minimum(at + WINDOW // 2, len(heading) - 1)
    bend = np.abs(heading[last] - heading[first]) / (np.maximum(last - first, 1) * step)
    allowed = np.clip(np.sqrt(8.0 * SAG / np.maximum(bend, 8.0 * SAG / length**2)), shortest, length)
    return np.concatenate([allowed[:1], np.minimum(allowed[:-1], allowed[1:]), allowed[-1:]])
