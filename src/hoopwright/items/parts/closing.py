"""The seam that closes the work, its opening, and how the work is turned and closed."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

import shapely
from shapely.geometry import LineString, Polygon
from shapely.ops import substring

from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import FLAT
from hoopwright.core.types import Mm, Point
from hoopwright.items.recipe import Piece, Workshop
from hoopwright.operations.vocabulary import Close, HandWork, Press, Role, RunStyle, Stitch, Turn

TIMES = 2
"""The closing seam runs round twice (common practice, no source)."""


def gap_on(outline: Polygon, middle: Point, width: Mm) -> LineString:
    """Return the stretch of the outline ``width`` mm long, along the border, whose middle is nearest to ``middle``.

    Raises GeometryError when the outline is shorter than the gap.
    """
    ring = LineString(outline.exterior.coords)
    if width >= ring.length:
        raise GeometryError("the opening is longer than the seam", "Choose a narrower opening")
    at = ring.project(shapely.Point(middle))
    twice = LineString([*ring.coords, *ring.coords[1:]])
    start = at - width / 2 if at >= width / 2 else at - width / 2 + ring.length
    return LineString(substring(twice, start, start + width).coords)


def closing_seam(
    shop: Workshop,
    outline: Polygon,
    gap: LineString | None,
    title: str = "Closing seam",
    *,
    catches: Iterable[Piece | str] = (),
    spares: Iterable[Piece | str] = (),
) -> Stitch:
    """Return the seam round ``outline``, sewn twice, leaving ``gap`` open; without a gap it is closed.

    It must hold the pieces it ``catches`` and leave free those it ``spares``.
    """
    ring = LineString(outline.exterior.coords)
    path = ring if gap is None else _round_from(ring, gap)
    leaves = "" if gap is None else " It leaves the opening free."
    return Stitch(
        Role.CLOSING,
        title,
        shop.thread("seam"),
        (path,),
        RunStyle(shop.project.stitching.seam_run, times=TIMES),
        f"The seam runs round twice and joins everything that lies there.{leaves}",
        catches=_keys(catches),
        spares=_keys(spares),
    )


def _keys(pieces: Iterable[Piece | str]) -> tuple[str, ...]:
    return tuple(p if isinstance(p, str) else p.key for p in pieces)


def _round_from(ring: LineString, gap: LineString) -> LineString:
    """Return the ring without the gap, as one open line."""
    left = shapely.line_merge(shapely.difference(ring, gap.buffer(FLAT, cap_style="flat")))
    parts = [p for p in shapely.get_parts(left) if isinstance(p, LineString)]
    if len(parts) == 1:
        return parts[0]
    first, last = parts[0], parts[-1]
    return LineString([*last.coords, *first.coords[1:]])


TAPE_OUT: Final = "Take out all tape you can reach"
"""Said before turned work is pressed for the first time: heat bakes tape on (common practice, no source)."""

BY_HAND_OR_EDGE: Final = "close it with small hand stitches or an edge stitch"
"""How an opening is closed at whose edge nothing else hangs."""

CLEAR_OF: Final = (
    "close it with small hand stitches that catch only the lining and the folded allowance; hold the {} clear"
)
"""How an opening is closed at whose edge a piece hangs that would be sewn shut."""


def turning(gap: LineString, below: str, above: str, way: str, how: str = BY_HAND_OR_EDGE) -> tuple[HandWork, ...]:
    """Return turning through the opening, pressing, and closing it.

    ``way`` says in words where the opening is, ``how`` how it is closed.
    """
    return (
        Turn(
            gap,
            below,
            above,
            f"Turn the work right side out through the opening {way}. Push the corners out with something blunt.",
        ),
        Press("all", f"{TAPE_OUT}. Roll the seam between your fingers so that it lies on the edge, and press."),
        Close(
            gap,
            f"Fold the allowances of the opening {way} inwards and {how}.",
        ),
    )
