"""What the piecing room hands on.

Words: a *patch map* is an outline cut into *faces* by *seam lines*; a face has a *letter* that stays the same when
the drawing is only moved a little; a patch also has a *number*, its place in the sewing order. A *section* is a
group of patches pieced by itself that is then laid as if it were one patch. A *member* is what one step of an order
adds: a face or a section. A patch's *seam* is the segment along which it is sewn on.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from shapely.geometry import LineString, Polygon

from hoopwright.core.findings import Finding
from hoopwright.core.types import Degrees, Mm, Point
from hoopwright.plane.subdivision import Subdivision


@dataclass(frozen=True, slots=True)
class Frame:
    """How places of a panel's own numbers are brought into the hoop: moved by ``shift``, turned, moved by ``back``."""

    shift: Point = (0.0, 0.0)
    turn: Degrees = 0.0
    back: Point = (0.0, 0.0)

    def place(self, place: Point) -> Point:
        """Return where a place of the project file lies in the hoop, mm."""
        x, y = place[0] + self.shift[0], place[1] + self.shift[1]
        cosine, sine = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        return cosine * x - sine * y + self.back[0], sine * x + cosine * y + self.back[1]

    def file_place(self, place: Point) -> Point:
        """Return the place of the project file that lies at ``place`` in the hoop, mm."""
        x, y = place[0] - self.back[0], place[1] - self.back[1]
        cosine, sine = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        return cosine * x + sine * y - self.shift[0], cosine * y - sine * x - self.shift[1]


@dataclass(frozen=True, slots=True)
class SeamLine:
    """A longest straight seam of the finished panel: number from 1, its chain in the subdivision, its ends."""

    number: int
    chain: int
    start: Point
    end: Point

    @property
    def line(self) -> LineString:
        """The seam line as a geometry."""
        return LineString([self.start, self.end])


@dataclass(frozen=True, slots=True, eq=False)
class PatchMap:
    """An outline cut into faces. ``letters[i]`` names face i of ``plane``; ``seams`` are the seam lines.

    ``seams`` covers every chain of the subdivision exactly once.
    """

    outline: Polygon
    plane: Subdivision
    letters: tuple[str, ...]
    seams: tuple[SeamLine, ...]

    def face(self, letter: str) -> int:
        """Return the number of the face with this letter. Raises KeyError for an unknown letter."""
        try:
            return self.letters.index(letter)
        except ValueError:
            raise KeyError(letter) from None

    def polygon(self, letter: str) -> Polygon:
        """Return the area of the face with this letter."""
        return self.plane.faces[self.face(letter)]


@dataclass(frozen=True, slots=True)
class Seam:
    """Where a patch is sewn on: from start to end with the NEW patch on the left; ``number`` is the seam line's."""

    number: int
    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Member:
    """One step of an order: a face by letter or a section by number (the other is None), with its seam.

    ``letters`` are all patches it brings. ``seam`` is None for the first member. ``why`` says in one sentence why it
    can be sewn here.
    """

    letters: tuple[str, ...]
    section: int | None
    seam: Seam | None
    why: str


@dataclass(frozen=True, slots=True)
class Section:
    """A group pieced on one foundation, members in sewing order. Numbers count from 1; the last one is the panel."""

    number: int
    members: tuple[Member, ...]

    @property
    def letters(self) -> tuple[str, ...]:
        """All patches in it, in sewing order."""
        return tuple(letter for m in self.members for letter in m.letters)


@dataclass(frozen=True, slots=True)
class WishResult:
    """How well the order meets one wish: 0 is perfect; ``sentence`` explains it to the maker."""

    wish: str
    weight: float
    value: float
    sentence: str


@dataclass(frozen=True, slots=True)
class SewingOrder:
    """How the panel is pieced. ``sections`` is empty when it cannot be; the last section is the whole panel.

    ``count`` is the number of valid orders on one foundation (0 when sections are needed); ``count_exact`` is false
    when counting was stopped and the true number is larger. ``bounded`` tells that the section search hit its bound.
    ``stuck`` lists the patches that are to blame when straight full seams cannot make it.
    """

    sections: tuple[Section, ...]
    count: int
    count_exact: bool
    wishes: tuple[WishResult, ...]
    stuck: tuple[str, ...]
    bounded: bool
    findings: tuple[Finding, ...]

    @property
    def sewable(self) -> bool:
        """Whether there is a way to sew the panel."""
        return bool(self.sections)


@dataclass(frozen=True, slots=True, eq=False)
class Cover:
    """How sure a cloth is to cover its patch and catch its seam under placing errors.

    ``worst`` is the deepest shortfall in mm over all errors up to the stated shift and turn (0: always covers);
    ``chance`` the simulated chance of failing, ``trials`` the number of simulated layings.
    """

    worst: Mm
    chance: float
    trials: int


@dataclass(frozen=True, slots=True, eq=False)
class Cut:
    """A piece of cloth to cut: its outline as it will lie when flipped open, right side up, and how sure it covers.

    ``width`` and ``height`` are measured along and across the seam (or x and y for the first patch).
    """

    outline: Polygon
    width: Mm
    height: Mm
    cover: Cover


@dataclass(frozen=True, slots=True, eq=False)
class Patch:
    """One patch of a section, or a whole section laid as one.

    ``number`` counts through all sections in sewing order for faces; a laid section has number 0 and a ``label`` like
    "S1". ``area`` is what shows; ``template`` area plus allowance, right side up, in place; ``rough`` the smallest
    rectangle that still covers; ``lay_template`` and ``lay_rough`` are both mirrored over the seam: where the cloth
    lies before flipping. ``raw_edge`` is the cut edge to be aligned, one allowance past the seam. ``grain`` is the warp's direction.
    ``clip`` is allowance that must be cut away because it would cover visible patches, with the letters it would cover;
    it is the largest of the parts in ``clips``. A laid section has no cloth of its own: its ``cloth`` is the empty text.
    """

    number: int
    label: str
    letters: tuple[str, ...]
    section: int
    made_of: int | None
    cloth: str
    area: Polygon
    seam: Seam | None
    template: Polygon
    rough: Cut
    exact: Cut
    lay_template: Polygon
    lay_rough: Polygon
    raw_edge: tuple[Point, Point] | None
    grain: Degrees
    clip: Polygon | None
    clip_covers: tuple[str, ...]
    clips: tuple[Polygon, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class PiecedPanel:
    """A panel pieced on paper: map, order, patches in sewing order through all sections, cloth of each letter, frame."""

    key: str
    outline: Polygon
    map: PatchMap
    order: SewingOrder
    patches: tuple[Patch, ...]
    cloths: tuple[tuple[str, str], ...]
    findings: tuple[Finding, ...]
    frame: Frame = field(default_factory=Frame)

    def cloth_of(self, letter: str) -> str:
        """Return the cloth key of a patch letter. Raises KeyError for an unknown letter."""
        return dict(self.cloths)[letter]

    def of_section(self, number: int) -> tuple[Patch, ...]:
        """Return the patches laid in one section, in sewing order."""
        return tuple(p for p in self.patches if p.section == number)
