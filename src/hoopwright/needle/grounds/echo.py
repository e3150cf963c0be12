"""Echo: the outline repeated inwards at even distances, all in one line."""

from __future__ import annotations

from typing import Final

from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Mm
from hoopwright.needle.grounds.cells import connected_parts
from hoopwright.needle.grounds.echoes import (
    LEAST_ROOM,
    OTHER_THINS,
    THIN,
    below_the_middle,
    echoes_of,
    keeps_room,
    rings_of,
    rounded,
    with_rings,
)
from hoopwright.needle.grounds.shapes import Ground, GroundWish

ROUND: Final = 0.3
"""Corners are cut this many spacings from their tips."""


def echo(part: Polygon, wish: GroundWish) -> tuple[LineString, ...]:
    """Return the outline of ``part``, and of its holes, repeated inwards, joined into one closed line by short bridges.

    One line for each part that is connected at the spacing (see cells.connected_parts).
    """
    return tuple(line for piece in connected_parts(part, wish.spacing) for line in echo_lines(piece, wish.spacing))


def echo_lines(piece: Polygon, spacing: Mm) -> tuple[LineString, ...]:
    """Return the echoes of a part that is connected at the spacing, joined."""
    first = _joined(piece, spacing, THIN)
    if _roomy(first, spacing):
        return first
    others = (_joined(piece, spacing, thin) for thin in OTHER_THINS)
    return next((lines for lines in others if _roomy(lines, spacing)), first)


def _roomy(lines: tuple[LineString, ...], spacing: Mm) -> bool:
    return len(lines) == 1 and keeps_room(lines[0], LEAST_ROOM * spacing, spacing)


def _joined(piece: Polygon, spacing: Mm, thin: float) -> tuple[LineString, ...]:
    rings = rings_of(echoes_of(piece, spacing, thin), spacing)
    lines = []
    while rings:
        line, rings = with_rings(rings[0], rings[1:], below_the_middle(rings[0]), piece, spacing)
        lines.append(rounded(line, ROUND * spacing))
    return tuple(lines)


GROUNDS = (Ground("echo", "Echo", "The outline repeated inwards again and again.", 5.0, 2.0, 0.0, echo, network=False),)
