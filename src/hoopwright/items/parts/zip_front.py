"""The front of a zip pouch: a zip with a panel and a lining on each side.

Words: the *upper* and *lower* front lie above and below the zip. A panel is laid face down with its raw edge on the edge of the
zip's tape, lying over the zip, and is flipped away from the zip over its seam; its lining is laid and folded away in the same
way on the underside of the hoop.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from shapely.affinity import affine_transform, translate
from shapely.geometry import LineString, Polygon, box

from hoopwright.core.types import Mm, Point
from hoopwright.items.parts.flat import grown, holding, lay, placement
from hoopwright.items.parts.strap import Strap
from hoopwright.items.recipe import Piece, Workshop
from hoopwright.operations.vocabulary import (
    Face,
    Flip,
    Fold,
    HandWork,
    Lay,
    Operation,
    Role,
    RunStyle,
    Side,
    Stitch,
)

FRONT: Final = "front"
"""Key of the pieced lower front."""

ON_TAPE: Final[Mm] = 1.5
"""The line that holds a tape runs this far inside its edge, mm; the seam allowance of the panel covers it."""

TOPSTITCH: Final[Mm] = 2.0
"""Top stitching runs this far beside the seam, mm (common practice, no source)."""


@dataclass(frozen=True, slots=True, eq=False)
class Pouch:
    """What the sewing needs. ``outline`` is the seam line of the whole, ``zip_y`` the middle of the zip, ``tape`` the width of
    the zip, ``zip_length`` how long it is as it lies, ``opened`` how far it is opened before the closing seam.
    """

    shop: Workshop
    outline: Polygon
    corner: Mm
    zip_y: Mm
    tape: Mm
    zip_length: Mm
    opened: Mm
    outer: str
    inner: str
    zip: str
    ribbon: str
    strap: Strap | None
    pieced: bool

    @property
    def allowance(self) -> Mm:
        """The seam allowance."""
        return self.shop.project.piecing.allowance

    @property
    def half(self) -> Mm:
        """Half the width."""
        return float(self.outline.bounds[2])

    @property
    def slit(self) -> Mm:
        """The height of the slit in the back lining: half way between zip and bottom."""
        return (side_seam(self, -1) + float(self.outline.bounds[1])) / 2

    def says(self, mm: Mm) -> str:
        """Return a length in the maker's units."""
        return self.shop.length(mm)


def side_seam(pouch: Pouch, way: int) -> Mm:
    """Return the height of the seam of the upper (``way`` 1) or the lower front (-1): an allowance inside the tape's edge."""
    return pouch.zip_y + way * (pouch.tape / 2 - pouch.allowance)


def zip_piece(pouch: Pouch) -> Piece:
    """Return the zip as it lies."""
    long, wide = pouch.zip_length / 2, pouch.tape / 2
    cut = box(-long, pouch.zip_y - wide, long, pouch.zip_y + wide)
    note = "Bought, not cut; its pull and stops lie outside the pouch until the zip is opened"
    return Piece("zip", "Zip", pouch.zip, cut, grain=0.0, note=note, finished=True)


def zip_on(pouch: Pouch) -> tuple[Operation, ...]:
    """Return sewing the lines, laying the zip and holding both its tapes."""
    shop, edge = pouch.shop, pouch.tape / 2
    lines = (LineString(pouch.outline.exterior.coords), *(_across(pouch, pouch.zip_y + w * edge) for w in (1, -1)))
    mark = replace(
        placement(shop, "pouch and zip", lines[0]),
        paths=lines,
        sentence="The outline of the pouch and the two lines on which the edges of the zip will lie are sewn.",
    )
    where = (
        "between the two lines, closed, both edges of its tape exactly on them and its pull on the right. Pull and stops must "
        "lie outside the outline on both sides. Tape both ends down."
    )
    held = tuple(_across(pouch, pouch.zip_y + w * (edge - ON_TAPE)) for w in (1, -1))
    words = "Both tapes are held near their edges; the panels will cover these lines."
    return mark, lay(shop, zip_piece(pouch), Face.UP, where), holding(shop, "Tack down the zip", held, words, "zip")


def _across(pouch: Pouch, y: Mm, past: Mm = 0.0) -> LineString:
    """Return a line from side to side."""
    return LineString([(-pouch.half - past, y), (pouch.half + past, y)])


def _names(way: int) -> tuple[str, str]:
    """Return the keys of panel and lining on one side of the zip."""
    return ("front-upper", "front-lining-upper") if way > 0 else ("front-lower", "front-lining-lower")


def _place(pouch: Pouch, way: int) -> Polygon:
    """Return where a panel of the front lies when it is flipped, its allowances included."""
    s, half = pouch.allowance, pouch.half + pouch.allowance
    _, low, _, high = pouch.outline.bounds
    seam = side_seam(pouch, way)
    return box(-half, seam - s, half, high + s) if way > 0 else box(-half, low - s, half, seam + s)


def _over(shape: Polygon, y: Mm) -> Polygon:
    """Return a shape turned over a level line."""
    turned = affine_transform(shape, [1, 0, 0, -1, 0, 2 * y])
    assert isinstance(turned, Polygon)
    return turned


def front_pieces(pouch: Pouch) -> tuple[Piece, ...]:
    """Return the pieces of the front and its linings, as they are laid; a pieced lower front is none of them."""
    return tuple(
        p for way in (1, -1) for p in _side_pieces(pouch, way) if not (pouch.pieced and p.key == "front-lower")
    )


def _side_pieces(pouch: Pouch, way: int) -> tuple[Piece, Piece]:
    outer, inner = _names(way)
    laid = _over(_place(pouch, way), side_seam(pouch, way))
    part = "Upper" if way > 0 else "Lower"
    edge = "its lower edge comes to the zip" if way > 0 else "its upper edge comes to the zip"
    return (
        Piece(outer, f"{part} front", pouch.outer, laid, note=edge),
        Piece(inner, f"{part} front lining", pouch.inner, laid, note=edge),
    )


def panel(pouch: Pouch, way: int) -> tuple[Operation, ...]:
    """Return laying one panel and its lining, their seam, flipping both away from the zip, and the top stitching."""
    shop, (outer, inner) = pouch.shop, _side_pieces(pouch, way)
    seam, past = side_seam(pouch, way), min(shop.project.stitching.tack_outside, pouch.allowance / 2.0)
    edge = "upper" if way > 0 else "lower"
    name = "front" if pouch.pieced and way < 0 else outer.key
    joint = Stitch(
        Role.SEAM,
        f"Seam of the {edge} front",
        shop.thread("seam"),
        (_across(pouch, seam, past),),
        RunStyle(shop.project.stitching.seam_run),
        f"One seam joins the {edge} front, the zip and the lining under the hoop.",
        piece=name,
    )
    top = Stitch(
        Role.TOPSTITCH,
        f"Top stitching of the {edge} front",
        shop.thread("outline"),
        (_across(pouch, seam + way * TOPSTITCH, past),),
        RunStyle(shop.project.stitching.layout_run),
        f"A line {pouch.says(TOPSTITCH)} beside the seam keeps the {edge} front and its lining away from the zip.",
        piece=name,
    )
    return *_laid(pouch, way, outer, inner), joint, *_flipped_away(pouch, way, name, inner.key), top


def _laid(pouch: Pouch, way: int, outer: Piece, inner: Piece) -> tuple[Lay, Lay]:
    edge = "upper" if way > 0 else "lower"
    y = side_seam(pouch, way)
    seam, raw = _ends(_across(pouch, y)), _ends(_across(pouch, y + way * pouch.allowance))
    where = f"over the zip, its raw edge on the {edge} edge of the tape"
    if pouch.pieced and way < 0:
        words = f"Lay the pieced front, right side DOWN, {where}: the edge that will be its upper one. Tape it clear of the seam."
        first = Lay("front", "", _pieced_pose(pouch), Face.DOWN, Side.TOP, raw, seam, words)
    else:
        first = lay(pouch.shop, outer, Face.DOWN, f"{where}. Tape it clear of the seam.", seam=seam, raw_edge=raw)
    under = (
        f"across the zip, its raw edge under the {edge} edge of the tape, just as the piece on top lies. Tape it well."
    )
    return first, lay(pouch.shop, inner, Face.UP, under, side=Side.UNDER, seam=seam, raw_edge=raw)


def _ends(line: LineString) -> tuple[Point, Point]:
    (ax, ay), (bx, by) = line.coords
    return (ax, ay), (bx, by)


def _pieced_pose(pouch: Pouch) -> Polygon:
    """Return the pieced front, trimmed, as it is laid over the zip."""
    seam = side_seam(pouch, -1)
    panel = grown(pouch.shop.panels[FRONT].outline, pouch.allowance)
    return _over(translate(panel, 0.0, pouch.slit), seam)


def _flipped_away(pouch: Pouch, way: int, outer: str, inner: str) -> tuple[HandWork, ...]:
    a, b = _ends(_across(pouch, side_seam(pouch, way)))
    up = "upwards" if way > 0 else "downwards"
    line = (a, b) if way > 0 else (b, a)
    shows = _place(pouch, way).intersection(box(-1e4, a[1], 1e4, 1e4) if way > 0 else box(-1e4, -1e4, 1e4, a[1]))
    assert isinstance(shows, Polygon)
    return (
        Flip(outer, line, shows, f"Flip the front {up}, away from the zip: its right side now shows. Press the seam."),
        Fold(
            (inner,),
            (line[1], line[0]),
            Side.UNDER,
            f"Turn the hoop over and fold the lining {up} too, away from the zip: its right side looks away from the hoop. "
            "Pull it smooth and tape its edges.",
        ),
    )
