"""What an accent is drawn from, and what is sewn of it.

Words: an *accent* is a motif of thread alone, sewn on a *base* that is washed or warmed away; its *lattice* is a net of
crossing runs; a *column* is a satin zigzag over a run; a *rib* is a column inside, the *rim* the one that closes round
everything; the *spine* is the line along which the accent is tacked on later.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Literal

from shapely.geometry import LineString, Polygon

from hoopwright.core.types import Degrees, Mm, Point, Points

NARROW: Final[Mm] = 1.3
"""Width of the thinnest columns, mm: stitches shorter than 1 mm are of no use (common practice)."""

SPACING: Final[Mm] = 0.46
"""Distance between neighbouring stitches of one side of a column, mm: a little more than on cloth (0.4 +-0.05; docs/sources.md,
stitches), for the net below fills it."""


@dataclass(frozen=True, slots=True)
class AccentWish:
    """One accent as wished: motif, ``size`` (its longest extent, mm), and its form.

    ``lobes`` is the number of petals, points, ribs or vein pairs (None: the motif's own), ``fullness`` goes from slender (0)
    to broad (1), ``seed`` other than 0 lets it grow a little askew.
    """

    motif: str
    size: Mm
    lobes: int | None = None
    fullness: float = 0.5
    seed: int = 0


@dataclass(frozen=True, slots=True, eq=False)
class Rib:
    """A column along ``line``, ``root`` mm wide at its first place and ``tip`` mm at its last.

    It is run along first, from root to tip; ``children`` (distance from the root, mm) are sewn on the way. Its satin is
    sewn back from the tip to the root, so that it covers their roots. ``late`` are sewn on the way back, and the satin
    begins where they lie. A closed line comes back to where it began.
    """

    line: LineString
    root: Mm
    tip: Mm
    children: tuple[tuple[Mm, Rib], ...] = ()
    late: tuple[tuple[Mm, Rib], ...] = ()
    dots: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Growth:
    """A motif drawn at its size, the middle of its bounds at the origin.

    ``rim`` is the closed middle line of the rim, ``tree`` the rib from which all others grow, its root on the rim.
    ``nets`` are the families of lattice lines, all ending on the rim; ``spine`` the line it is tacked along.
    """

    rim: Polygon
    tree: Rib
    nets: tuple[tuple[LineString, ...], ...]
    spine: LineString
    width: Mm

    @property
    def outline(self) -> Polygon:
        """The outer edge."""
        return self.rim.buffer(self.width / 2.0)


@dataclass(frozen=True, slots=True)
class Motif:
    """A kind of accent: names, limits, and how it is drawn.

    ``draw`` gets the wish, its lobes decided, and the scale at which to draw so that the size comes out right. ``lobes``
    are least, usual and most; ``what`` says what they are; ``least`` and ``most`` bound the size, mm.
    """

    name: str
    title: str
    description: str
    what: str
    lobes: tuple[int, int, int]
    least: Mm
    most: Mm
    draw: Callable[[AccentWish, Mm], Growth]


@dataclass(frozen=True, slots=True, eq=False)
class Accent:
    """An accent sewn in its own frame (its middle at the origin, upright): needle positions, outer edge, spine."""

    wish: AccentWish
    points: Points
    outline: Polygon
    spine: LineString


@dataclass(frozen=True, slots=True)
class Planned:
    """An accent to be made: ``key`` names it ("leaf-2"), ``title`` is what the maker reads ("leaf 2").

    ``at`` and ``turn`` say where it lies on its panel, in the hoop; None for an accent that is laid nowhere. ``base`` is
    what it is sewn on.
    """

    key: str
    title: str
    wish: AccentWish
    thread: str
    at: Point | None = None
    turn: Degrees = 0.0
    base: Literal["film", "net"] = "film"


@dataclass(frozen=True, slots=True, eq=False)
class Placed:
    """An accent as it lies in a hoop: needle positions, outer edge, spine."""

    points: Points
    outline: Polygon
    spine: LineString
