"""The sheet stack as frozen values.

Words: a *sheet* is one cloth as it was laid; a *layer* is a piece of a sheet that lies flat, so that a folded sheet
has several; the *stack* is all layers from the lowest to the highest. A *join* is what one line of stitches holds
together. Coordinates are the hoop's, mm (hoopwright.core.types).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.placing import AS_LAID, Placing
from hoopwright.core.tolerances import SCRAP
from hoopwright.core.types import Mm, Point
from hoopwright.operations.vocabulary import Face, Role, Side

Region = Polygon | MultiPolygon
"""What a layer covers, mm."""

Line = tuple[Point, Point]
"""A straight line by two of its places."""


@dataclass(frozen=True, slots=True, eq=False)
class Layer:
    """A piece of a sheet as it lies.

    ``thickness`` is that of its cloth under the foot, mm. ``side`` says whether it lies on top of the hoop or under
    it. ``foundation`` marks what is hooped, or was when a section was pieced on it. ``folds`` are the edges at which it goes on into another layer of its
    sheet. ``placing`` leads from the sheet's own frame to the hoop. ``lace`` marks an accent: it is no cloth and has no cut edge.
    """

    sheet: str
    cloth: str
    thickness: Mm
    region: Region
    face: Face
    side: Side
    foundation: bool = False
    folds: tuple[LineString, ...] = ()
    placing: Placing = AS_LAID
    lace: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Held:
    """A layer caught by a line: its sheet, how it lay and was placed then, over what length (mm), and where (``line``)."""

    sheet: str
    face: Face
    length: Mm
    line: BaseGeometry
    placing: Placing = AS_LAID

    @property
    def own_line(self) -> BaseGeometry:
        """The line in the sheet's own frame."""
        return self.placing.undone().shape(self.line)


@dataclass(frozen=True, slots=True, eq=False)
class Join:
    """A line of stitches with the layers it holds, lowest first.

    ``name`` and ``role`` say what it is for, ``piece`` the sheet it is meant for, ``step`` its place in the run sheet.
    ``binds`` is how far to each side its stitches close over a cut edge (0: a plain line).
    """

    name: str
    role: Role | None
    piece: str | None
    path: BaseGeometry
    held: tuple[Held, ...]
    binds: Mm = 0.0
    step: int | None = None

    def length_of(self, sheet: str) -> Mm:
        """Return over what length the line holds a sheet, each place counted once, mm."""
        parts = [h.line for h in self.held if h.sheet == sheet]
        return float(shapely.length(shapely.union_all(parts))) if len(parts) > 1 else sum(p.length for p in parts)


@dataclass(frozen=True, slots=True, eq=False)
class Stack:
    """All layers, lowest first, and the joins in the order they were sewn.

    ``hooped``: still in the hoop. ``turned``: turned right side out.
    """

    layers: tuple[Layer, ...] = ()
    joins: tuple[Join, ...] = ()
    hooped: bool = True
    turned: bool = False

    def of(self, sheet: str) -> tuple[Layer, ...]:
        """Return the layers of one sheet, lowest first."""
        return tuple(layer for layer in self.layers if layer.sheet == sheet)

    @property
    def sheets(self) -> tuple[str, ...]:
        """Names of the sheets, each once, in the order of their lowest layers."""
        return tuple(dict.fromkeys(layer.sheet for layer in self.layers))


def region_of(shape: BaseGeometry) -> Region:
    """Return the polygons of a shape without scraps smaller than SCRAP; empty when nothing is left."""
    if isinstance(shape, Polygon):
        return shape if shape.area > SCRAP else Polygon()
    parts = [p for p in shapely.get_parts(shape) if isinstance(p, Polygon) and p.area > SCRAP]
    return parts[0] if len(parts) == 1 else MultiPolygon(parts) if parts else Polygon()


def united(shapes: Iterable[BaseGeometry]) -> Region:
    """Return the union of shapes."""
    return region_of(shapely.union_all(list(shapes)))


def turned_over(face: Face) -> Face:
    """Return the face that shows when a piece is turned over."""
    return Face.UP if face is Face.DOWN else Face.DOWN
