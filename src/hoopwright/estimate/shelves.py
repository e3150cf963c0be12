"""Pieces on a length of cloth: rows ("shelves") across the bolt, the tallest pieces first. Simple and repeatable.

First fit by falling height: each piece goes on the first row with room, else opens a new row. Grain is kept, so a
piece is never turned. The length is never more than 1.7 times the best possible plus one piece (Coffman, Garey,
Johnson & Tarjan 1980, from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.core.tolerances import FLAT
from hoopwright.core.types import Mm, Point

GAP: Mm = 3.0
"""Room left between two pieces for the cutter."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Where the pieces lie: lower left corner of each in the order given, and the strip that holds them (mm)."""

    places: tuple[Point, ...]
    width: Mm
    length: Mm


def on_shelves(sizes: Sequence[tuple[Mm, Mm]], bolt: Mm, gap: Mm = GAP) -> Layout:
    """Lay pieces (width across the bolt, height along it) on rows across a bolt.

    A piece wider than the bolt gets a row of its own and sticks out; the strip's width then exceeds the bolt.
    """
    order = sorted(range(len(sizes)), key=lambda i: (-sizes[i][1], -sizes[i][0], i))
    rows: list[tuple[Mm, Mm, Mm]] = []  # where the row starts, its height, how far it is filled
    places: list[Point] = [(0.0, 0.0)] * len(sizes)
    for i in order:
        width, height = sizes[i]
        row = next((r for r, (_, _, used) in enumerate(rows) if used + gap + width <= bolt + FLAT), None)
        if row is None:
            start = rows[-1][0] + rows[-1][1] + gap if rows else 0.0
            rows.append((start, height, width))
            places[i] = (0.0, start)
        else:
            start, tall, used = rows[row]
            places[i] = (used + gap, start)
            rows[row] = (start, tall, used + gap + width)
    length = rows[-1][0] + rows[-1][1] if rows else 0.0
    return Layout(tuple(places), max((used for _, _, used in rows), default=0.0), length)
