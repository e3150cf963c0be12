"""The closed set of operations, in the order they are carried out.

Words: *lay* puts a cloth on the work; *face* says which side of it shows towards the needle ("up" is right side
towards the needle); *lay pose* is the outline of the cloth as it lies before flipping; a *halt* is the machine
waiting for hands; a *block* is one thread colour of the stitch file.
Every operation carries the sentence the maker reads. Coordinates: see hoopwright.core.types.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final, Literal, TypeAlias

from shapely.geometry import LineString, MultiPolygon, Polygon

from hoopwright.core.types import Degrees, Mm, Point


class Face(StrEnum):
    """Which way a cloth looks."""

    UP = "up"
    """Right side towards the needle."""
    DOWN = "down"
    """Right side towards the foundation."""


class Side(StrEnum):
    """Where a cloth is put."""

    TOP = "top"
    UNDER = "under"


class Role(StrEnum):
    """What a block of stitches is for."""

    LAYOUT = "layout"
    PLACEMENT = "placement"
    TACK = "tack-down"
    SEAM = "seam"
    HOLD = "holding line"
    ORNAMENT = "seam stitch"
    GROUND = "ground"
    BASTE = "basting"
    TOPSTITCH = "top stitching"
    CLOSING = "closing seam"
    LETTERING = "lettering"
    PLACED = "placed stitches"
    ACCENT = "accent"
    EDGE = "edge satin"
    OUTLINE = "outline"


IN_SIGHT: Final = frozenset({Role.ORNAMENT, Role.GROUND, Role.LETTERING, Role.PLACED, Role.TOPSTITCH})
"""Blocks that are sewn to be seen on the finished work."""


@dataclass(frozen=True, slots=True)
class Hoop:
    """Hoop the foundation (and what lies on it from the start)."""

    layers: tuple[str, ...]
    sentence: str


@dataclass(frozen=True, slots=True)
class Lace:
    """What an accent is made of instead of cloth: a key of the project's threads, and its needle positions as it lies."""

    thread: str
    row: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Lay:
    """Lay a piece: ``piece`` is the patch letter or section name, ``pose`` its outline as it lies now.

    ``raw_edge`` is the cut edge that lies one allowance past the seam line, ``seam`` that line; both None for a
    piece laid flat without a seam. ``fold``: the piece is folded before it is laid; ``pose`` is its outline unfolded, and
    what lies of it to the left of ``fold`` comes to lie on top of the rest. ``lace``: an accent is laid, which has no cloth.
    """

    piece: str
    cloth: str
    pose: Polygon
    face: Face
    side: Side
    raw_edge: tuple[Point, Point] | None
    seam: tuple[Point, Point] | None
    sentence: str
    fold: tuple[Point, Point] | None = None
    lace: Lace | None = None


@dataclass(frozen=True, slots=True)
class Fold:
    """Fold what lies of ``pieces`` to the left of ``line`` over it, on to the top or the underside of everything.

    No pieces: all but the foundation.
    """

    pieces: tuple[str, ...]
    line: tuple[Point, Point]
    onto: Side
    sentence: str


@dataclass(frozen=True, slots=True)
class Flip:
    """Fold a laid piece open over its seam; ``pose`` is where it lies afterwards, right side up."""

    piece: str
    line: tuple[Point, Point]
    pose: Polygon
    sentence: str


@dataclass(frozen=True, slots=True)
class Trim:
    """Cut cloth away.

    ``away`` is the region removed from ``piece``; None when cloth under the piece is cut back to the allowance beyond
    its seam. ``keep`` is set instead when everything is cut along one line: its inside stays.
    """

    piece: str
    away: Polygon | None
    sentence: str
    keep: Polygon | None = None


@dataclass(frozen=True, slots=True)
class Press:
    """Press, crease with a finger, or tape; ``piece`` says what."""

    piece: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Hand:
    """Any other work by hand that leaves the layers as they lie: mark, pin, notch, sew by hand; ``piece`` says what."""

    piece: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Release:
    """Take the work out of the hoop; ``foundation_goes`` when it is torn or washed away now."""

    sentence: str
    foundation_goes: bool = False


@dataclass(frozen=True, slots=True)
class Open:
    """Make ready a piece that must stand open before the next seam, such as a zip, half way."""

    piece: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Turn:
    """Turn the work right side out through the opening along ``line``, between the sheets ``below`` and ``above``.

    What hung between them afterwards lies on top, or on the underside, as ``hanging`` says.
    """

    line: LineString
    below: str
    above: str
    sentence: str
    hanging: Side = Side.TOP


@dataclass(frozen=True, slots=True)
class Close:
    """Close the opening along ``line`` by hand or with an edge stitch."""

    line: LineString
    sentence: str


@dataclass(frozen=True, slots=True)
class RunStyle:
    """A plain line of stitches of about ``length`` mm, sewn ``times`` times over (back and forth when open)."""

    length: float
    times: int = 1


@dataclass(frozen=True, slots=True)
class OrnamentStyle:
    """A decorative seam stitch along the path.

    ``stitch`` is a name from the seam stitch table; ``width`` is the whole width across the seam, ``repeat`` the
    wished length of one repeat (None: the stitch's own proportion), ``clip`` the region its stitches must stay in
    (None: no bound), ``mirror`` swaps its two sides, ``turn`` sews it from the other end.
    ``sides`` are those it reaches to (None: the stitch's own), ``spacing`` is the gap between repeats, ``ease`` how far the row
    stays off both ends, ``taper`` over what length it grows there, all mm. ``weight`` says how thick each line is sewn.
    ``under`` is the row below, whose ends and repeats this one keeps.
    """

    stitch: str
    width: Mm
    repeat: Mm | None = None
    mirror: bool = False
    turn: bool = False
    clip: Polygon | None = None
    sides: Literal["both", "left", "right", "alternate"] | None = None
    spacing: Mm = 0.0
    ease: Mm = 0.0
    taper: Mm = 0.0
    weight: Literal["fine", "bold", "corded"] = "bold"
    under: OrnamentStyle | None = None


@dataclass(frozen=True, slots=True)
class GroundStyle:
    """Quilting lines that fill the stitch's ``region``.

    ``kind`` is a name from the table of grounds; ``spacing`` the distance between neighbouring lines, ``margin`` how far
    they stay inside the region, ``angle`` the direction of the pattern (None: the ground's own), ``length`` that of a
    stitch, ``times`` how often each line is sewn. ``motif`` holds the lines of the maker's own motif.
    """

    kind: str
    spacing: Mm
    margin: Mm
    angle: Degrees | None
    seed: int
    length: Mm
    times: int = 1
    motif: tuple[LineString, ...] = ()


Underlay: TypeAlias = Literal["none", "centre", "edges", "zigzag"]
"""What is sewn below a column before its satin."""


@dataclass(frozen=True, slots=True)
class EdgeStyle:
    """Satin over a cut edge: a zigzag column ``width`` mm wide whose middle is the path.

    ``spacing`` is the distance between neighbouring stitches of one side, mm; ``pull`` is added to the width, because
    columns are drawn together when sewn; wider than ``split`` each stitch is divided.
    """

    width: Mm
    spacing: Mm = 0.4
    underlay: Underlay = "none"
    corners: Literal["mitre", "round"] = "mitre"
    pull: Mm = 0.0
    split: Mm = 7.0


@dataclass(frozen=True, slots=True)
class LetteringStyle:
    """Up to four ``lines`` of letters in the box that is the stitch's ``region``; the box's first side is the direction of writing.

    ``height`` is that of the capitals, mm; None: as large as fits. ``font`` holds a font file for satin letters; None sews
    single lines, each ``times`` times. ``pull``, ``underlay`` and ``spacing`` are those of the columns.
    """

    lines: tuple[str, ...]
    height: Mm | None = None
    align: Literal["left", "middle", "right"] = "middle"
    font: bytes | None = None
    times: int = 2
    pull: Mm = 0.2
    underlay: Underlay = "centre"
    spacing: Mm = 0.4


@dataclass(frozen=True, slots=True)
class DrawnStyle:
    """Needle positions decided beforehand, sewn in this order; each row is one run. ``locked``: the rows bring their own locks."""

    rows: tuple[tuple[Point, ...], ...]
    locked: bool = False


Style: TypeAlias = RunStyle | OrnamentStyle | GroundStyle | EdgeStyle | LetteringStyle | DrawnStyle
"""How the lines of a block are sewn."""


@dataclass(frozen=True, slots=True)
class Numeral:
    """A number or letters to sew inside ``region``."""

    text: str
    region: Polygon


@dataclass(frozen=True, slots=True)
class Stitch:
    """Sew one block: lines in the style given, and numerals.

    ``thread`` is a key of the project's threads. ``piece`` names the patch concerned, ``seam`` the seam number of
    an ornament; both may be missing. ``hidden_under`` is the region that later cloth will cover: stitches and
    travel inside it do not show. ``catches`` names the pieces this block must hold, ``spares`` those it must leave free.
    ``region`` is what a ground fills, or the box that letters stand in. ``along`` are lines already sewn, or to be sewn over:
    travel along them does not show. ``after`` are the seam numbers whose ornaments end on this one and must be sewn before it.
    """

    role: Role
    title: str
    thread: str
    paths: tuple[LineString, ...]
    style: Style
    sentence: str
    piece: str | None = None
    seam: int | None = None
    numerals: tuple[Numeral, ...] = ()
    hidden_under: Polygon | None = None
    catches: tuple[str, ...] = ()
    spares: tuple[str, ...] = ()
    region: Polygon | MultiPolygon | None = None
    along: tuple[LineString, ...] = ()
    after: tuple[int, ...] = ()


HandWork: TypeAlias = Hoop | Lay | Fold | Flip | Trim | Press | Hand | Open | Release | Turn | Close
Operation: TypeAlias = HandWork | Stitch
