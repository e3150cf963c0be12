"""Turning the work right side out through an opening.

Seen from the side, the stack is: what lies below the opening, then what hangs between, then what lies above. Turned,
the two outer parts change places: the lower side of what was above becomes the new underside, the upper side of what
was below the new top. So the faces that looked at each other come to the outside, and those that looked away from
each other lie together inside. Nothing moves in the plane. What hung between is left outside, on top of what was
below; a piece that hangs by its seam can be flipped over to the other side.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Final

import shapely
from shapely.geometry import LineString

from hoopwright.cloth.columns import columns, visible
from hoopwright.cloth.shapes import Stack
from hoopwright.cloth.sheet_error import SheetError
from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import FLAT
from hoopwright.core.types import Mm
from hoopwright.operations.vocabulary import Side

SEAM_END: Final[Mm] = 0.5
"""A seam that ends this near to the end of an opening ends there (less than half a stitch), mm."""


@dataclass(frozen=True, slots=True)
class Opening:
    """A gap along ``path`` between the sheets ``below`` and ``above`` it."""

    path: LineString
    below: str
    above: str

    @property
    def width(self) -> Mm:
        """Length of the gap."""
        return float(self.path.length)


@dataclass(frozen=True, slots=True, eq=False)
class Parting:
    """How a stack parts at an opening, by numbers of layers: those before ``low`` lie below it, from ``high`` on above."""

    low: int
    high: int


@dataclass(frozen=True, slots=True, eq=False)
class Outside:
    """What is outside after turning: seen from the top and from the underside each sheet with the face it shows (True:
    its right side), and the names of the sheets that were between and now hang or lie outside.
    """

    top: tuple[tuple[str, bool], ...]
    underside: tuple[tuple[str, bool], ...]
    hanging: tuple[str, ...]


def parting(stack: Stack, opening: Opening) -> Parting:
    """Return where the stack parts at an opening: over the highest layer of ``below`` there, under the lowest of ``above``.

    Raises GeometryError when the work is in the hoop, when the opening is sewn shut, and when the sheets named do
    not lie over each other there.
    """
    if stack.hooped:
        raise GeometryError("the work is still in the hoop", "Take it out before turning it")
    low, high = (_at(stack, opening, sheet) for sheet in (opening.below, opening.above))
    if not low or not high or max(low) >= min(high):
        sheets = (opening.above, opening.below)
        raise SheetError("{} does not lie over {} at the opening", sheets, "Name the two sheets that part there")
    if sewn_shut(stack, opening):
        raise GeometryError("the opening is sewn shut", "Leave a gap in the seam")
    return Parting(max(low) + 1, min(high))


def _at(stack: Stack, opening: Opening, sheet: str) -> list[int]:
    """Return the numbers of the layers of a sheet that lie at the opening."""
    return [i for i, p in enumerate(stack.layers) if p.sheet == sheet and p.region.intersects(opening.path)]


def sewn_shut(stack: Stack, opening: Opening) -> bool:
    """Whether a line that joins both sheets runs across the opening or along part of it."""
    inner = shapely.difference(opening.path, opening.path.boundary.buffer(SEAM_END))
    pair = {opening.below, opening.above}
    return any(
        pair <= {h.sheet for h in join.held if h.line.distance(inner) <= FLAT}
        for join in stack.joins
        if join.path.distance(inner) <= FLAT
    )


def turn(stack: Stack, opening: Opening, hanging: Side = Side.TOP) -> Stack:
    """Return the stack turned through an opening; what hung between its sheets lies on top, or under with ``hanging``.

    Raises GeometryError as ``parting``.
    """
    at = parting(stack, opening)
    below, between, above = stack.layers[: at.low], stack.layers[at.low : at.high], stack.layers[at.high :]
    body = (*above, *below)
    layers = (*body, *between) if hanging is Side.TOP else (*between, *body)
    return replace(stack, layers=tuple(replace(p, side=Side.TOP) for p in layers), turned=True)


def flip_over(stack: Stack, sheets: Collection[str]) -> Stack:
    """Return a turned stack with pieces that hang on a seam flipped over the edge to the other side.

    They go round the work like the page of a book: what looked at the work still does. The face that lay towards
    the lower sheets before turning is the one that shows then.
    """
    moved = tuple(p for p in stack.layers if p.sheet in sheets)
    rest = tuple(p for p in stack.layers if p.sheet not in sheets)
    on_top = bool(moved) and stack.layers.index(moved[-1]) == len(stack.layers) - 1
    return replace(stack, layers=(*moved, *rest) if on_top else (*rest, *moved))


def turned(stack: Stack, opening: Opening, flipped: Collection[str] = ()) -> Outside:
    """Return what is outside when the stack is turned through an opening and the pieces ``flipped`` are flipped over.

    Raises GeometryError as ``parting``.
    """
    at = parting(stack, opening)
    after = turn(stack, opening)
    after = flip_over(after, flipped) if flipped else after
    table = columns(after)
    top, under = (
        tuple(dict.fromkeys((s.sheet, s.right) for s in visible(after, side, table))) for side in (Side.TOP, Side.UNDER)
    )
    return Outside(top, under, tuple(dict.fromkeys(p.sheet for p in stack.layers[at.low : at.high])))
