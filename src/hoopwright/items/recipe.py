"""What a recipe is: how one kind of item is made, from its own settings.

Words: a *recipe* knows sizes, panels, operations and hand texts of one kind of item; its *settings* are what the maker
writes below [make]; a *wanted* panel is one it needs pieced; a *piece* is cut from one cloth and is no patch; a
*making* is everything the recipe yields.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.findings import Finding
from hoopwright.core.types import Degrees, Mm
from hoopwright.needle.decorations import Decorations
from hoopwright.needle.ornaments import Ornament
from hoopwright.operations.vocabulary import HandWork, Operation
from hoopwright.piecing.shapes import PiecedPanel
from hoopwright.project.lengths import show_length
from hoopwright.project.schema import Model, Outline, Project


@dataclass(frozen=True, slots=True)
class Wanted:
    """A pieced panel a recipe needs: its key (also in file names), its title, and the outline it must have.

    ``outline`` None takes the one of the project's [panel].
    """

    key: str
    title: str
    outline: Outline | None


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """A piece to cut that is no patch.

    ``key`` is the name its Lay uses, ``cloth`` a key of the project's cloths. ``cut`` is its cutting line, right side up and
    unfolded, in the place where it will lie, mm; ``sewn`` the seam line inside, None where nothing is sewn along it.
    ``count`` says how many are cut, ``note`` what to mind ("cut on the fold"). ``finished`` marks what needs no allowance along
    its length: ribbon, a strap already sewn, a zip.
    """

    key: str
    title: str
    cloth: str
    cut: Polygon
    sewn: Polygon | None = None
    grain: Degrees = 90.0
    count: int = 1
    note: str = ""
    finished: bool = False


@dataclass(frozen=True, slots=True)
class Promise:
    """What the sewn work is as a surface: connected parts, rims, Euler number, before and after the opening is closed.

    ``shell`` names the pieces that are the surface, a panel pieced in the same hooping by its key; what only hangs on it
    (pockets, straps) is left out. Empty: nothing is proved of the numbers. ``rims`` and ``closed_rims`` are None where more
    than two layers meet along a seam: that is no surface, its free edges bound nothing, and only parts and Euler number are
    compared. ``shut`` names the pieces that closing the opening joins; empty: those between which the work was turned.
    ``rests`` are rims that stay open: the line along which a seam would run on, and the two pieces it lies between.
    """

    parts: int
    rims: int | None
    euler: int
    closed_rims: int | None
    closed_euler: int
    shell: tuple[str, ...] = ()
    shut: tuple[str, ...] = ()
    rests: tuple[tuple[LineString, str, str], ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Look:
    """How the work of the hooping ``hooping`` looks when all is done, laid flat as it lay in the hoop.

    ``area`` is what is looked at: inside the seams. ``top`` and ``underside`` name pieces of which something must show on that side.
    ``walls`` are the layers that can be lifted apart, each named by the pieces it is made of: both sides of each must show right
    sides and no cut edge.
    """

    hooping: str
    area: BaseGeometry
    top: tuple[str, ...] = ()
    underside: tuple[str, ...] = ()
    walls: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class HandSeam:
    """A seam sewn by hand or on a sewing machine after the hoopings.

    It joins ``pieces`` along ``line`` with ``others`` along ``other_line``, each as it lay in its hoop; the two lines differ by a
    shift only.
    """

    line: LineString
    pieces: tuple[str, ...]
    other_line: LineString
    others: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HoopingOperations:
    """The operations of one hooping, in sewing order.

    ``key`` names its files, ``panel`` the pieced panel it makes or the item, ``section`` a section's number (0: none).
    """

    key: str
    title: str
    panel: str
    section: int
    operations: tuple[Operation, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Making:
    """What a recipe yields: hoopings in order, pieces to cut, handwork after the last hooping, care of the finished item.

    ``promise`` and ``looks`` say what must come of it; both are proved on the cloth, with the ``hand_seams`` that the assembly
    tells of in words.
    """

    hoopings: tuple[HoopingOperations, ...]
    pieces: tuple[Piece, ...] = ()
    assembly: tuple[HandWork, ...] = ()
    care: tuple[str, ...] = ()
    promise: Promise | None = None
    looks: tuple[Look, ...] = ()
    hand_seams: tuple[HandSeam, ...] = ()
    findings: tuple[Finding, ...] = ()


NOTHING = Making(())
"""The making of a plan that could not be made."""


@dataclass(frozen=True, slots=True, eq=False)
class Workshop:
    """What a recipe has at hand: the project, its settings, the panels already pieced, with their seam stitches and what
    else is sewn on them, and the contents of the files the project names.
    """

    project: Project
    settings: Any
    panels: Mapping[str, PiecedPanel] = field(default_factory=dict)
    ornaments: Mapping[str, tuple[Ornament, ...]] = field(default_factory=dict)
    decorations: Mapping[str, Decorations] = field(default_factory=dict)
    files: Mapping[str, bytes] = field(default_factory=dict)

    def length(self, mm: Mm) -> str:
        """Return a length in the maker's units."""
        return show_length(mm, self.project.units)

    def cloth(self, key: str) -> str:
        """Return the shown name of a cloth."""
        return self.project.cloths[key].name

    def thread(self, use: str) -> str:
        """Return the key of the thread for a working line ("layout", "seam", "hold", "outline")."""
        chosen: str | None = getattr(self.project.guides, use)
        return chosen or next(iter(self.project.threads))


class NoSettings(Model):
    """Settings of a recipe that has none."""


@dataclass(frozen=True, slots=True)
class Recipe:
    """How one kind of item is made.

    ``refuse`` returns why sizes are impossible (blocking findings) or doubtful; ``wanted`` the panels to be pieced first;
    ``make`` the rest. All three are pure.
    """

    name: str
    title: str
    summary: str
    settings: type[Model]
    make: Callable[[Workshop], Making]
    wanted: Callable[[Any, Project], tuple[Wanted, ...]] = lambda _settings, _project: ()
    refuse: Callable[[Any, Project], tuple[Finding, ...]] = lambda _settings, _project: ()
