"""A lining laid face down over everything: in one piece, or in two that overlap and leave a slit to turn through."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from shapely.geometry import LineString, Polygon, box

from hoopwright.core.types import Mm
from hoopwright.items.parts.closing import TAPE_OUT
from hoopwright.items.parts.flat import grown
from hoopwright.items.recipe import Piece, Promise, Workshop
from hoopwright.needle.working_lines import largest
from hoopwright.operations.vocabulary import Close, Face, HandWork, Lay, Press, Side, Turn

OVERLAP: Final[Mm] = 12.0
"""How far the folded edges of a lining in two parts lie over each other, mm (common practice, no source)."""

HEM: Final[Mm] = 10.0
"""Width folded in along each of these edges, mm (common practice, no source)."""

BESIDE: Final[Mm] = 10.0
"""The slit ends this far inside the side seams, mm."""


SLIT: Final = Promise(
    parts=1, rims=None, euler=1, closed_rims=None, closed_euler=-2, shut=("lining-lower", "lining-upper")
)
"""A shell that is a disc, with a lining in two parts: each part, its hem's ends included, is caught along one arc of the closing
seam, 1 + 1 + 1 - 1 - 1 = 1, and where they overlap three layers meet. Closing the slit, whose line ends short of the side seams,
makes one arc of the four that lie on it (two parts, two hems): 1 - 4 + 1 = -2.
"""


def lining_pieces(outline: Polygon, cloth: str, allowance: Mm, slit: Mm | None) -> tuple[Piece, ...]:
    """Return the lining of a work with this seam line: one piece, or two when there is a slit at y = ``slit``."""
    whole = grown(outline, allowance)
    if slit is None:
        return (Piece("lining", "Lining", cloth, whole, outline),)
    left, low, right, high = whole.bounds
    up, down = slit + OVERLAP / 2.0 + HEM, slit - OVERLAP / 2.0 - HEM
    note = "Fold the straight edge in at the line, wrong sides together, and press it"
    return (
        Piece("lining-lower", "Lower lining", cloth, largest(whole.intersection(box(left, low, right, up))), note=note),
        Piece(
            "lining-upper", "Upper lining", cloth, largest(whole.intersection(box(left, down, right, high))), note=note
        ),
    )


def tape_off(strap: bool) -> str:
    """Return what is said of tapes before the lining of a bag is laid: what lies under it cannot be reached any more.

    ``strap``: a loop is taped down, whose tape has to stay until the work is turned.
    """
    but = ", except what holds the loop of the strap: that comes off when the work is turned" if strap else ""
    return f"Take off all tape that lies inside the outer line{but}. "


def lining_lays(shop: Workshop, pieces: tuple[Piece, ...], before: str = "") -> tuple[Lay, ...]:
    """Return the laying of the lining; of two parts the upper one first.

    What is laid first shows when the work is turned: the fold of the upper part then lies over the lower part and the
    slit opens away from the mouth, so that nothing that slides in catches in it. ``before`` is said first.
    """
    s = shop.length(shop.project.piecing.allowance)
    if len(pieces) == 1:
        cloth, cut = shop.cloth(pieces[0].cloth), pieces[0].cut
        words = (
            f"{before}Lay the lining, {cloth}, right side DOWN over everything, its raw edges even with those "
            f"of the back all round: they reach {s} past the outer line, which is hidden now. Tape its edges. "
            "Nothing may stick out between the layers."
        )
        return (Lay("lining", pieces[0].cloth, cut, Face.DOWN, Side.TOP, None, None, words),)
    lower, upper = pieces
    first = _half(shop, upper, True)
    return replace(first, sentence=f"{before}{first.sentence}"), _half(shop, lower, False)


def _half(shop: Workshop, piece: Piece, upper: bool) -> Lay:
    left, low, right, high = piece.cut.bounds
    y = low + HEM if upper else high - HEM
    fold = ((right, y), (left, y)) if upper else ((left, y), (right, y))
    over = "" if upper else f" Its fold lies {shop.length(OVERLAP)} past that of the upper lining, on top of it."
    edge = "lower" if upper else "upper"
    words = (
        f"Fold the {edge} edge of the {piece.title.lower()}, {shop.cloth(piece.cloth)}, in by {shop.length(HEM)}, wrong sides "
        f"together. Lay it right side DOWN over everything, its raw edges even with those underneath.{over} Tape it."
    )
    return Lay(piece.key, piece.cloth, piece.cut, Face.DOWN, Side.TOP, None, None, words, fold)


def slit_line(width: Mm, at: Mm) -> LineString:
    """Return the slit between the marks, from side to side at y = ``at``."""
    half = width / 2.0 - BESIDE
    return LineString([(-half, at), (half, at)])


def slit_turning(line: LineString, below: str) -> tuple[HandWork, ...]:
    """Return turning through the slit of a lining in two parts, pressing, and closing it."""
    return (
        Turn(
            line,
            below,
            "lining-upper",
            "Turn the work right side out through the slit between the two linings. Push the corners out with something blunt.",
        ),
        Press("all", f"{TAPE_OUT}. Roll the seam between your fingers so that it lies on the edge, and press."),
        Close(line, "Sew the fold of the upper lining, which lies on top now, to the lower lining by hand."),
    )
