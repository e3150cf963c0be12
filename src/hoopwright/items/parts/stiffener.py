"""A stiffener inside the work: its parts, a stitch file that draws their cutting lines, and how they are laid.

A stiffener never reaches a seam: it stays inside the seam line, and where the work folds it is divided.
"""

from __future__ import annotations

from typing import Final

import shapely
from shapely.geometry import LineString, Polygon, box

from hoopwright.core.types import Mm
from hoopwright.core.words import listed
from hoopwright.items.parts.flat import grown, holding
from hoopwright.items.recipe import HoopingOperations, Piece, Workshop
from hoopwright.needle.working_lines import largest, ring
from hoopwright.operations.vocabulary import (
    Face,
    Hoop,
    Lay,
    Release,
    Role,
    RunStyle,
    Side,
    Stitch,
    Trim,
)

FOLD_GAP: Final = 3.0
"""The gap at a fold, in thicknesses of the stiffener. A fold of 180 degrees needs about pi thicknesses less what the
stiffener gives when pressed."""

HELD_INSIDE: Final[Mm] = 3.0
"""The line that holds a stiffener runs this far inside its edge, mm (common practice, no source)."""

SPARE: Final[Mm] = 10.0
"""The sheet from which the stiffener is cut is this much larger all round, mm."""


def inset_parts(outline: Polygon, inset: Mm, fold: Mm, thickness: Mm) -> tuple[Polygon, Polygon]:
    """Return the parts of a stiffener below and above the level fold at y = ``fold``.

    Both stay ``inset`` mm inside the outline and at least as far from the fold; the gap between them is at least
    FOLD_GAP thicknesses.
    """
    inner, away = grown(outline, -inset), max(inset, FOLD_GAP * thickness / 2.0)
    left, low, right, high = outline.bounds
    below, above = box(left, low, right, fold - away), box(left, fold + away, right, high)
    return largest(inner.intersection(below)), largest(inner.intersection(above))


def stiffener_pieces(outline: Polygon, inset: Mm, fold: Mm, cloth: str, thickness: Mm) -> tuple[Piece, Piece]:
    """Return the two parts of a stiffener as pieces to cut: of the body below the fold, of the flap above it."""
    body, flap = inset_parts(outline, inset, fold, thickness)
    note = "Cut on the line, without allowance: it must not reach a seam"
    return (
        Piece("stiffener-body", "Stiffener of the body", cloth, body, note=note),
        Piece("stiffener-flap", "Stiffener of the flap", cloth, flap, note=note),
    )


def cutting_hooping(shop: Workshop, pieces: tuple[Piece, ...], item: str) -> HoopingOperations:
    """Return the hooping "stiffener", which sews the cutting lines of the parts on a sheet of stiffener."""
    cloth, foundation = pieces[0].cloth, shop.project.foundation.name
    sheet = box(*shapely.union_all([p.cut for p in pieces]).buffer(SPARE).bounds)
    size = f"{shop.length(sheet.bounds[2] - sheet.bounds[0])} by {shop.length(sheet.bounds[3] - sheet.bounds[1])}"
    lay = Lay(
        "stiffener-sheet",
        cloth,
        sheet,
        Face.UP,
        Side.TOP,
        None,
        None,
        f"Lay a sheet of {shop.cloth(cloth)} of at least {size}, flat in the middle of the hoop. Tape its corners.",
    )
    lines = Stitch(
        Role.OUTLINE,
        "Cutting lines of the stiffener",
        shop.thread("outline"),
        tuple(ring(p.cut) for p in pieces),
        RunStyle(shop.project.stitching.layout_run),
        f"The machine draws the cutting lines of {listed(tuple(f'the {p.title.lower()}' for p in pieces))}.",
    )
    waste = sheet.difference(shapely.union_all([p.cut for p in pieces]))
    return HoopingOperations(
        "stiffener",
        "Stiffener: cutting lines",
        item,
        0,
        (
            Hoop((foundation,), f"Hoop the {foundation} alone. The same lines stand on the printed template."),
            lay,
            lines,
            Release("Take the stiffener out of the hoop."),
            Trim("stiffener-sheet", largest(waste), f"Cut the stiffener on the lines and tear the {foundation} away."),
        ),
    )


def laid(shop: Workshop, piece: Piece) -> Lay:
    """Return the laying of one part inside its placement line."""
    sentence = (
        f"Lay the {piece.title.lower()}, {shop.cloth(piece.cloth)}, flat, exactly inside its line. It must not "
        "reach the outer line. Hold it with a little tape or glue."
    )
    return Lay(piece.key, piece.cloth, piece.cut, Face.UP, Side.TOP, None, None, sentence)


def held(shop: Workshop, pieces: tuple[Piece, ...]) -> Stitch:
    """Return the block that sews the parts down, inside their edges."""
    inner = (largest(grown(p.cut, -HELD_INSIDE)) for p in pieces)
    paths = tuple(LineString(p.exterior.coords) for p in inner if not p.is_empty)
    return holding(shop, "Tack-down of the stiffener", paths, "A line inside its edge holds the stiffener.")
