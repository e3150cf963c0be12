"""The display list: what a drawing is made of, drawn once and replayed to SVG or PNG.

Words: *paint* is a colour as "#rrggbb"; an *extent* is (left, bottom, right, top). All lengths are mm, y points up.
Later shapes lie over earlier ones.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from hoopwright.core.types import Degrees, Mm, Point

Ring: TypeAlias = tuple[Point, ...]
"""A closed row of places; the last one is not repeated."""

Extent: TypeAlias = tuple[float, float, float, float]
"""Left, bottom, right, top in mm."""

Paint: TypeAlias = str
"""A colour, "#rrggbb"."""


@dataclass(frozen=True, slots=True)
class Area:
    """A polygon, ``rings[0]`` its rim and the others its holes; filled, edged with a line of ``width`` mm, or both."""

    rings: tuple[Ring, ...]
    fill: Paint | None = None
    edge: Paint | None = None
    width: Mm = 0.0
    dash: tuple[Mm, ...] = ()
    opacity: float = 1.0


@dataclass(frozen=True, slots=True)
class Line:
    """A stroked row of places, ``width`` mm wide, round at ends and corners (square-ended when dashed)."""

    points: tuple[Point, ...]
    colour: Paint
    width: Mm
    dash: tuple[Mm, ...] = ()
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle, filled, edged, or both."""

    centre: Point
    radius: Mm
    fill: Paint | None = None
    edge: Paint | None = None
    width: Mm = 0.0


@dataclass(frozen=True, slots=True)
class Label:
    """One line of text; ``size`` is the size of the type in mm, ``at`` the middle of its capitals' height.

    ``halo`` is a paint that is laid round the letters, ``halo_width`` mm wide on each side.
    """

    text: str
    at: Point
    size: Mm
    colour: Paint = "#000000"
    anchor: Literal["start", "middle", "end"] = "middle"
    bold: bool = False
    halo: Paint | None = None
    halo_width: Mm = 0.0


@dataclass(frozen=True, slots=True)
class Arrow:
    """A stroked row of places that ends in a filled head ``head`` mm long."""

    points: tuple[Point, ...]
    colour: Paint
    width: Mm
    head: Mm


@dataclass(frozen=True, slots=True)
class Hatch:
    """Parallel lines across a polygon, ``spacing`` mm apart at ``angle``, in ``colour``.

    The lines of all hatches with the same spacing and angle run on into each other.
    """

    rings: tuple[Ring, ...]
    colour: Paint
    width: Mm
    spacing: Mm
    angle: Degrees = 45.0
    dash: tuple[Mm, ...] = ()


Primitive: TypeAlias = Area | Line | Circle | Label
"""What a replay must know how to draw."""

Shape: TypeAlias = Primitive | Arrow | Hatch
"""What a display list may hold."""


@dataclass(frozen=True, slots=True)
class Drawing:
    """A display list with the part of the plane it shows, and words for those who cannot see it."""

    extent: Extent
    shapes: tuple[Shape, ...]
    title: str
    description: str = ""
    background: Paint | None = None

    @property
    def width(self) -> Mm:
        """Width of the extent."""
        return self.extent[2] - self.extent[0]

    @property
    def height(self) -> Mm:
        """Height of the extent."""
        return self.extent[3] - self.extent[1]
