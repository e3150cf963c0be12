"""A back in two parts that overlap: the work is turned through the overlap."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from shapely.geometry import LineString, Polygon, box

from hoopwright.core.types import Mm, Point
from hoopwright.items.parts.flat import grown, lay
from hoopwright.items.recipe import Piece, Workshop
from hoopwright.needle.working_lines import largest
from hoopwright.operations.vocabulary import Face, Lay

CLEAR_OF_SEAM: Final[Mm] = 1.0
"""How far the opening ends before the side seams, mm: there the parts are sewn together."""


@dataclass(frozen=True, slots=True, eq=False)
class Envelope:
    """Two parts as they are cut, the lower one laid first, with the fold of each and the opening between them.

    A fold is directed so that the hem lies to its left. ``opening`` runs along the middle of the overlap.
    """

    lower: Piece
    upper: Piece
    lower_fold: tuple[Point, Point]
    upper_fold: tuple[Point, Point]
    opening: LineString


def envelope(
    shop: Workshop, outline: Polygon, cloth: str, key: str, title: str, *, at: Mm, overlap: Mm, hem: Mm
) -> Envelope:
    """Return two parts of ``outline`` that overlap by ``overlap`` mm about the height ``at``.

    ``hem`` mm of each are folded to its wrong side at the inner edge. The outline must have straight, upright sides at
    the overlap and the hems.
    """
    cut = grown(outline, shop.project.piecing.allowance)
    left, low, right, high = cut.bounds
    top, bottom = at + overlap / 2.0, at - overlap / 2.0
    lower = largest(cut.intersection(box(left, low, right, top))).union(box(left, top, right, top + hem))
    upper = largest(cut.intersection(box(left, bottom, right, high))).union(box(left, bottom - hem, right, bottom))
    note = f"Fold {shop.length(hem)} of the inner edge to the wrong side and press; stitch it down if you like."
    inner = outline.bounds[0] + CLEAR_OF_SEAM, outline.bounds[2] - CLEAR_OF_SEAM
    return Envelope(
        Piece(f"{key}-lower", f"Lower {title}", cloth, largest(lower), note=note),
        Piece(f"{key}-upper", f"Upper {title}", cloth, largest(upper), note=note),
        ((left, top), (right, top)),
        ((right, bottom), (left, bottom)),
        LineString([(inner[0], at), (inner[1], at)]),
    )


def lay_envelope(shop: Workshop, made: Envelope, overlap: Mm) -> tuple[Lay, Lay]:
    """Return the laying of both parts right side down, raw edges an allowance outside the seam line, hems crossing."""
    past = f"so that its raw edges lie {shop.length(shop.project.piecing.allowance)} outside the seam line"
    first = lay(
        shop,
        made.lower,
        Face.DOWN,
        f"over the lower part, {past} and its folded edge lies across the middle. Tape it.",
        fold=made.lower_fold,
    )
    second = lay(
        shop,
        made.upper,
        Face.DOWN,
        f"over the upper part, {past}; its folded edge overlaps the other part by {shop.length(overlap)}. Tape it, "
        "the tape clear of the seam.",
        fold=made.upper_fold,
    )
    return first, second
