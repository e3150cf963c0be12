"""A strap folded to a loop whose ends are caught in a side seam.

Until the work is turned the loop lies inwards, clear of every seam; one that is longer than the body is wide is folded
back over itself once.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from shapely.geometry import LineString, Polygon, box

from hoopwright.core.types import Mm, Point
from hoopwright.items.parts.flat import basting, placement
from hoopwright.items.recipe import Piece, Workshop
from hoopwright.operations.vocabulary import Face, Fold, HandWork, Lay, Press, Side, Stitch

CLEAR: Final[Mm] = 10.0
"""The loop stays at least this far from every seam that is not its own, mm (common practice, no source)."""

LEAST_LOOP: Final[Mm] = 15.0
"""A loop that hangs out less is no loop, mm (from memory)."""

STRIP: Final = 4
"""A strap of cloth is cut this many times as wide as it ends up, and folded to four layers."""


@dataclass(frozen=True, slots=True)
class Strap:
    """A strap ``width`` mm wide whose loop hangs ``loop`` mm from the side seam of a body ``body`` mm wide, at height ``y``.

    ``side`` is 1 for the right seam, -1 for the left one.
    """

    width: Mm
    loop: Mm
    body: Mm
    y: Mm
    side: int

    @property
    def seam(self) -> Mm:
        """Where its seam lies, x in mm."""
        return self.side * self.body / 2.0

    @property
    def end(self) -> Mm:
        """Where the end of the loop lies before it is folded back, x in mm."""
        return self.seam - self.side * self.loop

    @property
    def turn(self) -> Mm | None:
        """Where the loop is folded back, x in mm; None when it lies inside the body as it is."""
        far = -self.side * (self.body / 2.0 - CLEAR)
        return far if self.side * (far - self.end) > 0.0 else None


def longest_loop(body: Mm) -> Mm:
    """Return the longest loop that can lie on a body ``body`` mm wide, folded back once."""
    return 2.0 * body - 3.0 * CLEAR


def strap_piece(shop: Workshop, cloth: str, strap: Strap) -> Piece:
    """Return the piece to cut; a ribbon is taken as it is, a strip of cloth is cut four times as wide.

    Its outline lies where the strap will lie unfolded, ends at the raw edge of the side.
    """
    ribbon = shop.project.cloths[cloth].kind == "ribbon"
    strip = f"{shop.length(STRIP * strap.width)} wide and {shop.length(_whole(shop, strap))} long"
    note = (
        "Cut it from ribbon and seal its ends"
        if ribbon
        else f"Cut a strip {strip}, fold both long edges to the middle, fold again and sew along both edges"
    )
    cut = _unfolded(shop, strap, strap.width if ribbon else STRIP * strap.width)
    return Piece("strap", "Strap", cloth, cut, grain=0.0, note=note, finished=True)


def _whole(shop: Workshop, strap: Strap) -> Mm:
    return 2.0 * (strap.loop + shop.project.piecing.allowance)


def _unfolded(shop: Workshop, strap: Strap, width: Mm) -> Polygon:
    edge = strap.seam + strap.side * shop.project.piecing.allowance
    far = edge - strap.side * _whole(shop, strap)
    return box(min(edge, far), strap.y - width / 2.0, max(edge, far), strap.y + width / 2.0)


def _across(strap: Strap, x: Mm) -> tuple[Point, Point]:
    """Return a line across the strap, directed so that the part away from its seam lies on its left."""
    low, high = (x, strap.y - strap.width), (x, strap.y + strap.width)
    return (low, high) if strap.side > 0 else (high, low)


def strap_hands(shop: Workshop, piece: Piece, strap: Strap) -> tuple[HandWork, ...]:
    """Return laying the strap folded to a loop, folding the loop back if it is long, and taping it."""
    side = "right" if strap.side > 0 else "left"
    lay = Lay(
        piece.key,
        piece.cloth,
        _unfolded(shop, strap, strap.width),
        Face.DOWN,
        Side.TOP,
        None,
        None,
        f"Fold the strap, {shop.cloth(piece.cloth)}, to a loop with its right side OUT. Lay it on the body, loop inwards, both "
        f"ends over the short line and even with the {side} edge of the body.",
        _across(strap, strap.end),
    )
    back = () if strap.turn is None else (_folded_back(shop, piece, strap, strap.turn),)
    other = "left" if strap.side > 0 else "right"
    tape = Press(
        piece.key,
        f"Tape the loop down flat and straight across, as it was laid, no part of it nearer than {_from_raw_edge(shop)} to the raw "
        f"edge at the {other}.",
    )
    return lay, *back, tape


def _from_raw_edge(shop: Workshop) -> str:
    """Return how far the loop stays from the opposite raw edge: the seam line itself is hidden by cloth."""
    return shop.length(CLEAR + shop.project.piecing.allowance)


def _folded_back(shop: Workshop, piece: Piece, strap: Strap, at: Mm) -> Fold:
    sentence = f"Fold the loop back over itself {_from_raw_edge(shop)} before the opposite raw edge."
    return Fold((piece.key,), _across(strap, at), Side.TOP, sentence)


def _at_seam(shop: Workshop, strap: Strap, past: Mm) -> LineString:
    """Return a short line across the strap, just outside its seam."""
    x = strap.seam + strap.side * shop.project.stitching.tack_outside
    half = strap.width / 2.0 + past
    return LineString([(x, strap.y - half), (x, strap.y + half)])


def strap_mark(shop: Workshop, piece: Piece, strap: Strap) -> Stitch:
    """Return the short line in the allowance that shows where the ends lie; it is as long as the strap is wide."""
    return placement(shop, "the strap", _at_seam(shop, strap, 0.0), piece.key)


def strap_basting(shop: Workshop, piece: Piece, strap: Strap) -> Stitch:
    """Return the line in the allowance that holds the ends until the closing seam catches them."""
    line = _at_seam(shop, strap, 1.0)
    return basting(shop, "Basting of the strap", (line,), "The ends of the strap are held in the allowance.", piece.key)
