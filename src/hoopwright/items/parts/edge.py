"""An edge covered by satin: cloths are tacked, trimmed close, and sewn over with a zigzag column.

From the finished edge inwards: the satin reaches over the whole column's width, the cut edge lies under it, and the
line that holds the cloths lies inside the cut edge, still under the satin.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import shapely
from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Mm
from hoopwright.items.parts.flat import grown, holding
from hoopwright.items.recipe import Workshop
from hoopwright.needle.working_lines import largest, ring
from hoopwright.operations.vocabulary import EdgeStyle, Role, Stitch, Trim

CUT_INSIDE: Final = 0.25
"""The cut edge lies this part of the column's width inside the finished edge (common practice, no source)."""

TACK_INSIDE: Final = 0.6
"""The line that holds the cloths lies this part of the column's width inside the finished edge (common practice, no source)."""

PULL: Final[Mm] = 0.3
"""Columns come out narrower than they are sewn; 0.2 to 0.4 mm are added (common practice; docs/sources.md, stitches)."""

LEAST_WIDTH: Final[Mm] = 3.0
"""Narrower columns do not hold a cut edge well (common practice, no source)."""

WIDEST: Final[Mm] = 4.0
"""Wider columns catch on things (common practice, no source)."""


@dataclass(frozen=True, slots=True, eq=False)
class Edge:
    """The lines of a satin edge ``width`` mm wide: where cloth is tacked and cut, and the middle of the column."""

    finished: Polygon
    width: Mm
    tack: LineString
    cut: Polygon
    middle: LineString

    @property
    def margin(self) -> Mm:
        """Return how far outside the tack-down cloth is cut."""
        return (TACK_INSIDE - CUT_INSIDE) * self.width


def edge_of(finished: Polygon, width: Mm) -> Edge:
    """Return the lines of a satin edge whose outer rail is the border of ``finished``."""
    tack, cut, middle = (largest(grown(finished, -part * width)) for part in (TACK_INSIDE, CUT_INSIDE, 0.5))
    return Edge(finished, width, ring(tack), cut, ring(middle))


def edge_tack(shop: Workshop, edges: tuple[Edge, ...], what: str) -> Stitch:
    """Return the block that holds all layers of ``what`` inside the cut edge."""
    return holding(
        shop,
        f"Tack-down of {what}",
        tuple(e.tack for e in edges),
        "A line all round holds front and back together; the satin will cover it.",
    )


def trim_to_edge(edges: tuple[Edge, ...], sheet: str, cloth: Polygon, sentence: str) -> Trim:
    """Return cutting one sheet, laid as ``cloth``, back to the cut edges."""
    away = shapely.difference(cloth, shapely.union_all([e.cut for e in edges]))
    return Trim(sheet, largest(away), sentence)


def edge_satin(shop: Workshop, edges: tuple[Edge, ...], what: str, thread: str) -> Stitch:
    """Return the block that covers the cut edges of ``what``."""
    return Stitch(
        Role.EDGE,
        f"Satin edge of {what}",
        thread,
        tuple(e.middle for e in edges),
        EdgeStyle(edges[0].width + PULL),
        f"A column of satin, {shop.length(edges[0].width)} wide, covers the cut edges.",
    )
