"""A folded pocket that lies on the base until the work is turned, and then becomes its front.

Words: its *fold* is the finished upper edge; its raw edges lie an allowance past the bottom seam.
"""

from __future__ import annotations

from typing import Final

from shapely.geometry import LineString, box

from hoopwright.core.types import Mm, Point
from hoopwright.items.recipe import Piece, Workshop
from hoopwright.operations.vocabulary import Face, Lay, Role, RunStyle, Side, Stitch

LEAST_POCKET: Final[Mm] = 20.0
"""A pocket less deep holds nothing, mm (from memory)."""

BELOW_EDGE: Final[Mm] = 10.0
"""The fold stays at least this far below the upper edge of what it lies on, mm."""


def pocket_piece(cloth: str, width: Mm, depth: Mm, low: Mm, allowance: Mm) -> Piece:
    """Return the strip of a pocket ``depth`` mm deep above the seam at y = ``low``; it is cut double and folded."""
    half = width / 2.0
    cut = box(-half - allowance, low - allowance, half + allowance, low + 2.0 * depth + allowance)
    return Piece("pocket", "Pocket", cloth, cut, note="Fold it in half, wrong sides together, and press the fold")


def pocket_fold(piece: Piece) -> tuple[Point, Point]:
    """Return the fold of a pocket's strip, directed so that its upper half comes to lie on top."""
    left, low, right, high = piece.cut.bounds
    y = (low + high) / 2.0
    return (left, y), (right, y)


def pocket_lay(shop: Workshop, piece: Piece, low: Mm) -> Lay:
    """Return the laying of the folded pocket over the seam at y = ``low``."""
    left, edge, right, _ = piece.cut.bounds
    sentence = (
        f"Fold the pocket, {shop.cloth(piece.cloth)}, in half with its right side OUT and press the fold. Lay it over the "
        f"body with the fold towards the flap and its raw edges even with those of the body at the bottom and both sides. Tape its sides outside the line."
    )
    return Lay(
        piece.key,
        piece.cloth,
        piece.cut,
        Face.DOWN,
        Side.TOP,
        ((left, edge), (right, edge)),
        ((left, low), (right, low)),
        sentence,
        pocket_fold(piece),
    )


def pocket_line(shop: Workshop, piece: Piece, line: LineString) -> Stitch:
    """Return the line along the bottom that holds the pocket before the lining is laid."""
    return Stitch(
        Role.SEAM,
        "Bottom line of the pocket",
        shop.thread("seam"),
        (line,),
        RunStyle(shop.project.stitching.seam_run),
        "The bottom of the pocket is sewn to the body; its sides are caught later.",
        piece=piece.key,
    )
