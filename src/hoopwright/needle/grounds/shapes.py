"""What a ground is.

Words: the *spacing* of a ground is the distance between its neighbouring lines, or the size of its cell for a pattern; a
*network* is a set of lines that meet, still to be brought into one walk; a *part* is one connected piece of the region,
perhaps with holes.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Degrees, Mm
from hoopwright.needle.transitions import Meeting


@dataclass(frozen=True, slots=True)
class GroundWish:
    """What the maker wants of a ground; ``motif`` holds the lines of a motif of the maker's own, as drawn."""

    spacing: Mm
    angle: Degrees
    seed: int = 1
    motif: tuple[LineString, ...] = ()


Draw: TypeAlias = Callable[[Polygon, GroundWish], tuple[LineString, ...]]
"""Draws a ground in one part, its margin already taken off; nothing where it does not fit."""


@dataclass(frozen=True, slots=True)
class Ground:
    """A ground: name, title, description for the maker, usual and least spacing (mm), usual angle.

    ``network`` says that ``draw`` returns lines that meet, in no order; otherwise they are finished lines in sewing order.
    ``meeting`` says how the sewn line goes on where they meet (see Meeting).
    """

    name: str
    title: str
    description: str
    spacing: Mm
    least_spacing: Mm
    angle: Degrees
    draw: Draw
    network: bool
    meeting: Meeting = "smooth"
