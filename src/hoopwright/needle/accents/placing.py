"""Accents put in their places: side by side in a hooping of their own, and on a panel."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

import numpy as np
from shapely import affinity

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Degrees, Mm, Point, frozen_points
from hoopwright.needle.accents.sew import sewn_accent
from hoopwright.needle.accents.shapes import AccentWish, Placed

BETWEEN: Final[Mm] = 8.0
"""Clear space between two accents on their base: room for scissors, and base enough to stay tight (by eye)."""


@lru_cache(maxsize=256)
def placed_accent(wish: AccentWish, at: Point, turn: Degrees = 0.0, shortest: Mm = 1.0) -> Placed:
    """Return an accent with its middle ``at`` a place, turned counter-clockwise about it."""
    accent = sewn_accent(wish, shortest)
    c, s = float(np.cos(np.radians(turn))), float(np.sin(np.radians(turn)))
    way = (c, -s, s, c, at[0], at[1])
    points = accent.points @ np.array([[c, s], [-s, c]]) + np.array(at)
    return Placed(
        frozen_points(points),
        affinity.affine_transform(accent.outline, way),
        affinity.affine_transform(accent.spine, way),
    )


def size_of(wish: AccentWish) -> tuple[Mm, Mm]:
    """Return width and height of an accent that stands upright."""
    left, low, right, high = sewn_accent(wish).outline.bounds
    return right - left, high - low


def packed(sizes: tuple[tuple[Mm, Mm], ...], room: tuple[Mm, Mm], gap: Mm = BETWEEN) -> tuple[tuple[int, Point], ...]:
    """Return for each rectangle the number of its hooping, from 0, and its middle, the room's middle at the origin.

    They stand in rows, the highest first, ``gap`` mm apart; each hooping's work is moved to the middle of the room. A rectangle
    larger than the room gets a hooping of its own.
    """
    order = sorted(range(len(sizes)), key=lambda i: (-sizes[i][1], -sizes[i][0], i))
    hoopings: list[list[list[int]]] = []
    for number in order:
        if not hoopings or not _put(hoopings[-1], number, sizes, room, gap):
            hoopings.append([[number]])
    found: dict[int, tuple[int, Point]] = {}
    for k, rows in enumerate(hoopings):
        found |= {i: (k, at) for i, at in _middles(rows, sizes, gap)}
    return tuple(found[i] for i in range(len(sizes)))


def _put(rows: list[list[int]], number: int, sizes: tuple[tuple[Mm, Mm], ...], room: tuple[Mm, Mm], gap: Mm) -> bool:
    """Add a rectangle to the last row, or begin a new one below; False when there is no room."""
    across = sum(sizes[i][0] + gap for i in rows[-1]) + sizes[number][0]
    if across <= room[0] + SAME_PLACE:
        rows[-1].append(number)
        return True
    below = sum(sizes[row[0]][1] + gap for row in rows) + sizes[number][1]
    if below > room[1] + SAME_PLACE or sizes[number][0] > room[0] + SAME_PLACE:
        return False
    rows.append([number])
    return True


def _middles(rows: list[list[int]], sizes: tuple[tuple[Mm, Mm], ...], gap: Mm) -> list[tuple[int, Point]]:
    whole = sum(sizes[row[0]][1] for row in rows) + gap * (len(rows) - 1)
    top, found = whole / 2.0, []
    for row in rows:
        height = sizes[row[0]][1]
        left = -(sum(sizes[i][0] for i in row) + gap * (len(row) - 1)) / 2.0
        for i in row:
            found.append((i, (left + sizes[i][0] / 2.0, top - height / 2.0)))
            left += sizes[i][0] + gap
        top -= height + gap
    return found
