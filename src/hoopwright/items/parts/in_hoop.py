"""A pieced panel that stays in the hoop: its back is sewn to it there.

The panel's own outline is not sewn: the line that holds all patches down, a little outside it, shows where the next
piece goes, and the closing seam becomes the edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import takewhile
from typing import Final

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm
from hoopwright.items.parts.flat import grown
from hoopwright.items.pieced import pieced_hoopings
from hoopwright.items.recipe import HoopingOperations, Workshop
from hoopwright.operations.vocabulary import HandWork, Hoop, Operation, Release, Role, Stitch, Trim
from hoopwright.piecing.shapes import Patch, PiecedPanel
from hoopwright.project.schema import FoundationModel

HELD: Final[Mm] = 8.0
"""A patch that lies along a seam for less need not be held by it, mm (from memory)."""


@dataclass(frozen=True, slots=True, eq=False)
class InHoop:
    """A panel pieced in the hoop: the hoopings of its sections ``before``, and the ``operations`` of its own.

    ``patches`` lie there at the end, in sewing order; ``section`` is the number of the last section.
    """

    before: tuple[HoopingOperations, ...]
    operations: tuple[Operation, ...]
    patches: tuple[Patch, ...]
    section: int

    def top_at(self, line: LineString) -> str:
        """Return the name of the patch sewn last among those that lie under ``line``; the first patch if none does."""
        under = [p.label for p in self.patches if p.area.intersects(line)]
        return under[-1] if under else self.patches[0].label

    def along(self, *lines: BaseGeometry) -> tuple[str, ...]:
        """Return the names of the patches of which at least HELD mm lie along the lines: a seam there must hold them."""
        whole = shapely.union_all(list(lines))
        return tuple(p.label for p in self.patches if p.area.buffer(MERGE).intersection(whole).length >= HELD)


def stays_in_hoop(shop: Workshop, key: str, title: str, *, outlined: bool = False) -> InHoop:
    """Return the piecing of panel ``key`` up to its seam stitches, without release and trimming.

    ``outlined`` sews its outline too, for work whose next seam does not go all round.
    """
    panel: PiecedPanel = shop.panels[key]
    *before, last = pieced_hoopings(shop, key, title)
    in_hoop = takewhile(lambda o: not isinstance(o, Release), last.operations)
    kept = tuple(o for o in in_hoop if outlined or not _outline(o))
    return InHoop(tuple(before), kept, panel.of_section(last.section), last.section)


def _outline(operation: Operation) -> bool:
    return isinstance(operation, Stitch) and operation.role is Role.OUTLINE


def hoop_foundation(foundation: FoundationModel) -> Hoop:
    """Return the hooping of the project's foundation, with its batting if there is one."""
    layers = tuple(n for n in (foundation.name, foundation.batting) if n)
    return Hoop(layers, f"Hoop the {' and '.join(layers)}, drum-tight and without a crease.")


def taken_out(shop: Workshop, outline: Polygon, what: str, corners: str = "") -> tuple[HandWork, ...]:
    """Return taking ``what`` out of the hoop and trimming it an allowance outside its seam."""
    allowance = shop.project.piecing.allowance
    margin = shop.length(allowance)
    return (
        Release(f"Take {what} out of the hoop. Tear the {shop.project.foundation.name} away outside the seam."),
        Trim(
            "all",
            None,
            f"Trim {what} {margin} outside the seam, all layers together.{corners}",
            keep=grown(outline, allowance),
        ),
    )


def cut_corners(radius: float) -> str:
    """Return what to do with the allowance at corners of this radius: clip sharp ones, notch round ones."""
    if radius <= 0.0:
        return " Cut the corners across, 2 mm from the seam."
    return " Cut notches out of the allowance round the corners, as far as 2 mm from the seam."
