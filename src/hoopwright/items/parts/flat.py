"""Pieces laid flat on a sewn placement line and held by a line."""

from __future__ import annotations

from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Mm, Point
from hoopwright.items.recipe import Piece, Workshop
from hoopwright.operations.vocabulary import Face, Lay, Role, RunStyle, Side, Stitch


def placement(shop: Workshop, what: str, line: LineString | Polygon, piece: str | None = None) -> Stitch:
    """Return the block that sews where ``what`` will lie; ``line`` is its edge or a line it is laid along."""
    path = LineString(line.exterior.coords) if isinstance(line, Polygon) else line
    return Stitch(
        Role.PLACEMENT,
        f"Placement line of {what}",
        shop.thread("layout"),
        (path,),
        RunStyle(shop.project.stitching.layout_run),
        f"The machine sews where {what} will lie.",
        piece=piece,
    )


def lay(
    shop: Workshop,
    piece: Piece,
    face: Face,
    where: str,
    *,
    side: Side = Side.TOP,
    fold: tuple[Point, Point] | None = None,
    seam: tuple[Point, Point] | None = None,
    raw_edge: tuple[Point, Point] | None = None,
) -> Lay:
    """Return the laying of a piece; ``where`` completes the sentence "Lay the pocket, indigo twill, right side UP …"."""
    under = "under the hoop, " if side is Side.UNDER else ""
    way = way_up(shop.project.cloths[piece.cloth].kind, face, side)
    sentence = f"Lay the {piece.title.lower()}, {shop.cloth(piece.cloth)}, {under}{way} {where}"
    return Lay(piece.key, piece.cloth, piece.cut, face, side, raw_edge, seam, sentence, fold)


def way_up(kind: str, face: Face, side: Side) -> str:
    """Return how a cloth of this kind is laid: by its right side, or only flat where both its sides are equal."""
    if kind == "stiffener":
        return "flat"
    if side is Side.UNDER:
        return f"right side {'towards' if face is Face.UP else 'away from'} the hoop"
    return f"right side {face.upper()}"


def holding(
    shop: Workshop, title: str, paths: tuple[LineString, ...], sentence: str, piece: str | None = None
) -> Stitch:
    """Return a block of plain lines that holds something down for good (tack-down)."""
    return Stitch(
        Role.TACK, title, shop.thread("hold"), paths, RunStyle(shop.project.stitching.run), sentence, piece=piece
    )


def basting(
    shop: Workshop, title: str, paths: tuple[LineString, ...], sentence: str, piece: str | None = None
) -> Stitch:
    """Return a block of long stitches inside the allowance, which the closing seam will take over."""
    return Stitch(
        Role.BASTE,
        title,
        shop.thread("hold"),
        paths,
        RunStyle(shop.project.machine.longest_stitch * 0.6),
        sentence,
        piece=piece,
    )


def grown(shape: Polygon, by: Mm) -> Polygon:
    """Return ``shape`` with an allowance of ``by`` mm (or drawn in, when negative), corners mitred."""
    return shape.buffer(by, join_style="mitre", mitre_limit=2.0)
