"""A pieced flap, made in a hooping of its own, sewn to the upper edge of a body and flipped up.

The flap is drawn as it is worn: straight edge above, rounded end below. Flipped up in the hoop it stands on its head.
"""

from __future__ import annotations

from dataclasses import dataclass

import shapely
from shapely.affinity import affine_transform
from shapely.geometry import LineString, Polygon, box

from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm, Point
from hoopwright.items.parts.flat import basting, placement
from hoopwright.items.pieced import region_cut
from hoopwright.items.recipe import Workshop
from hoopwright.needle.working_lines import ring
from hoopwright.operations.vocabulary import Face, Flip, Lay, Operation, Press, Role, RunStyle, Side, Stitch
from hoopwright.piecing.outline import outline_of
from hoopwright.project.schema import FlapOutline


@dataclass(frozen=True, slots=True)
class Flap:
    """A flap ``width`` by ``height`` mm with lower corners of ``radius``, hinged at y = ``hinge`` in the hoop."""

    width: Mm
    height: Mm
    radius: Mm
    hinge: Mm

    @property
    def outline(self) -> FlapOutline:
        """The outline for its pieced panel, as worn."""
        return FlapOutline(shape="flap", width=self.width, height=self.height, radius=self.radius)

    @property
    def worn(self) -> Polygon:
        """Its seam line as worn, the middle at the origin. Raises nothing: radius and sizes are checked by the recipe."""
        shape, findings, _ = outline_of(self.outline, {})
        assert shape is not None, findings
        return shape

    def up(self, worn: Polygon) -> Polygon:
        """Return a shape of the worn flap where it lies flipped up: on its head above the hinge."""
        return affine_transform(worn, [-1, 0, 0, -1, 0, self.hinge + self.height / 2.0])

    def down(self, worn: Polygon) -> Polygon:
        """Return a shape of the worn flap where it lies face down, hanging over the body."""
        return affine_transform(worn, [-1, 0, 0, 1, 0, self.hinge - self.height / 2.0])

    @property
    def seam(self) -> tuple[Point, Point]:
        """Its seam, directed so that the flap flipped up lies on the left."""
        return (-self.width / 2.0, self.hinge), (self.width / 2.0, self.hinge)


def flap_operations(shop: Workshop, flap: Flap) -> tuple[Operation, ...]:
    """Return laying the flap face down, its seam, flipping it up, and basting its free edges in the allowance."""
    s, past = shop.project.piecing.allowance, shop.project.stitching.tack_outside
    cut = region_cut(flap.worn, s)
    (left, y), (right, _) = flap.seam
    line = LineString([(left - past, y), (right + past, y)])
    lay = Lay(
        "flap",
        "",
        flap.down(cut),
        Face.DOWN,
        Side.TOP,
        ((left - s, y + s), (right + s, y + s)),
        flap.seam,
        "Lay the pieced flap right side DOWN over the body, hanging downwards: its straight raw edge lies on the upper raw edge "
        f"of the body, {shop.length(s)} past the flap line. Tape it clear of the seam.",
    )
    seam = Stitch(
        Role.SEAM,
        "Seam of the flap",
        shop.thread("seam"),
        (line,),
        RunStyle(shop.project.stitching.seam_run, times=2),
        "The seam that holds the flap is sewn twice.",
        piece="flap",
    )
    flip = Flip("flap", flap.seam, flap.up(cut), "Flip the flap upwards over its seam: its right side now shows.")
    press = Press("flap", "Press the seam with a finger and tape the flap down round its edge, inside the outer line.")
    return placement(shop, "the flap", line, "flap"), lay, seam, flip, press, _basted(shop, flap)


def _basted(shop: Workshop, flap: Flap) -> Stitch:
    """Return the line just outside the three free edges of the flap."""
    outside = shop.project.stitching.hold_outside
    above = box(-10 * flap.width, flap.hinge + outside, 10 * flap.width, flap.hinge + 10 * flap.height)
    edge = shapely.line_merge(ring(flap.up(flap.worn), outside).intersection(above))
    paths = tuple(p for p in shapely.get_parts(edge) if isinstance(p, LineString) and p.length > MERGE)
    return basting(shop, "Basting of the flap", paths, "The edges of the flap are held in the allowance.", "flap")
