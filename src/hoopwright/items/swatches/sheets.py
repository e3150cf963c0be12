"""The swatch sheets as a plan: every swatch sewn, and the hoopings that hold them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from shapely.geometry import LineString, Polygon, box

from hoopwright.core.findings import Finding, Severity
from hoopwright.core.types import Mm, Point, frozen_points
from hoopwright.items.plan import Plan
from hoopwright.items.recipe import HoopingOperations
from hoopwright.items.swatches.layout import (
    LABEL,
    LABEL_ROOM,
    TAB,
    Reach,
    RowPlace,
    SquarePlace,
    row_length,
    row_places,
    square_places,
)
from hoopwright.items.swatches.wish import MARKS, SWATCHES, Family, SwatchWish, Weight, project_of
from hoopwright.needle.grounds import GROUNDS
from hoopwright.needle.seam_stitches import SEAM_STITCHES
from hoopwright.needle.sewing import sew, steps_of
from hoopwright.needle.shapes import Hooping, Run
from hoopwright.operations.vocabulary import (
    DrawnStyle,
    GroundStyle,
    Hoop,
    Numeral,
    Operation,
    OrnamentStyle,
    Role,
    RunStyle,
    Stitch,
)
from hoopwright.project.fields import field_of
from hoopwright.project.lengths import show_size
from hoopwright.project.schema import GroundModel, Project

TITLES: Final[dict[Family, str]] = {"seam-stitches": "Seam stitches", "grounds": "Grounds"}
ONE: Final[dict[Family, str]] = {"seam-stitches": "Seam stitch", "grounds": "Ground"}


@dataclass(frozen=True, slots=True, eq=False)
class Swatch:
    """One stitch or ground: ``name`` in its table, ``number`` on the sheet, ``sheet`` the key of its hooping.

    ``runs`` are its stitches, ``marks`` those of its number and outline; ``area`` is the box kept for both, in the frame of the field. ``size`` is the length of a row or the side of a square.
    """

    family: Family
    name: str
    number: int
    sheet: str
    size: Mm
    area: Polygon
    runs: tuple[Run, ...]
    marks: tuple[Run, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Swatches:
    """The sheets as a plan, and every swatch on them in order; ``weight`` is that of the seam stitches."""

    plan: Plan
    swatches: tuple[Swatch, ...]
    weight: Weight

    def of(self, family: Family) -> tuple[Swatch, ...]:
        """Return the swatches of one family."""
        return tuple(s for s in self.swatches if s.family == family)

    def on(self, sheet: str) -> tuple[Swatch, ...]:
        """Return the swatches of one sheet, by the key of its hooping."""
        return tuple(s for s in self.swatches if s.sheet == sheet)


def swatch_sheets(wish: SwatchWish) -> Swatches:
    """Return the sheets with every seam stitch and every ground of the tables, in their usual sizes.

    A field too small for a swatch gives a plan without hoopings whose finding says so; a ground that draws nothing in a square
    is left out and told. Raises HoopwrightError for a field that no hoop has.
    """
    project = project_of(wish)
    field = field_of(project.hoop)
    room = (field[0] - 2 * project.hoop.margin, field[1] - 2 * project.hoop.margin)
    swatches: list[Swatch] = []
    findings: list[Finding] = []
    for family in wish.families:
        made, found = _rows(project, room, wish.weight) if family == "seam-stitches" else _squares(project, room)
        swatches += made
        findings += found
    sheets = dict.fromkeys(s.sheet for s in swatches)
    hoopings = tuple(_hooping(project, key, [s for s in swatches if s.sheet == key]) for key in sheets)
    return Swatches(Plan(project, field, (), hoopings, tuple(findings)), tuple(swatches), wish.weight)


def _rows(project: Project, room: tuple[Mm, Mm], weight: Weight) -> tuple[list[Swatch], list[Finding]]:
    _, length = row_length(room[0])
    drawn = {name: seam_stitch(project, name, length, weight) for name in SEAM_STITCHES} if length else {}
    places = row_places([_reach(runs) for runs in drawn.values()], room)
    if not places:
        return [], [_no_room(project, "seam stitches")]
    swatches = []
    for number, ((name, runs), place) in enumerate(zip(drawn.items(), places, strict=True), start=1):
        here = _moved(runs, place.start)
        marks = _marks(project, number, place.label, ())
        key = _key("seam-stitches", place.sheet, places[-1].sheet)
        area = _row_area(place, (*here, *marks))
        swatches.append(Swatch("seam-stitches", name, number, key, length, area, here, marks))
    return swatches, []


def seam_stitch(project: Project, name: str, length: Mm, weight: Weight) -> tuple[Run, ...]:
    """Return a seam stitch in its usual width along a line from the origin to the right."""
    stitch = SEAM_STITCHES[name]
    path, style = LineString([(0.0, 0.0), (length, 0.0)]), OrnamentStyle(name, stitch.usual(weight), weight=weight)
    return sew(Stitch(Role.ORNAMENT, stitch.title, SWATCHES, (path,), style, ""), project.stitching, project.machine)


def _reach(runs: tuple[Run, ...]) -> Reach:
    across = np.concatenate([run.points[:, 1] for run in runs])
    return Reach(float(-across.min()), float(across.max()))


def _moved(runs: tuple[Run, ...], by: Point) -> tuple[Run, ...]:
    return tuple(Run(frozen_points(run.points + by)) for run in runs)


def _row_area(place: RowPlace, runs: tuple[Run, ...]) -> Polygon:
    across = np.concatenate([run.points[:, 1] for run in runs])
    return box(place.start[0] - LABEL_ROOM, float(across.min()), place.end[0], float(across.max()))


def _squares(project: Project, room: tuple[Mm, Mm]) -> tuple[list[Swatch], list[Finding]]:
    side = next((p.side for p in square_places(1, room)), None)
    if side is None:
        return [], [_no_room(project, "grounds")]
    drawn = {name: runs for name in GROUNDS if (runs := _ground(project, name, side))}
    places = square_places(len(drawn), room)
    swatches = []
    for number, (name, place) in enumerate(zip(drawn, places, strict=True), start=1):
        here = _moved(drawn[name], place.corner)
        marks = _marks(project, number, place.label, _outline(place))
        key = _key("grounds", place.sheet, places[-1].sheet)
        (x, y), high = place.corner, place.corner[1] + side + TAB[1]
        swatches.append(Swatch("grounds", name, number, key, side, box(x, y, x + side, high), here, marks))
    missing = [GROUNDS[name].title for name in GROUNDS if name not in drawn]
    return swatches, [_left_out(project, title, side) for title in missing]


def _outline(place: SquarePlace) -> tuple[LineString, LineString]:
    """Return the outline of a square and that of its tab."""
    (x, y), high = place.corner, place.corner[1] + place.side
    tab = [(x, high), (x, high + TAB[1]), (x + TAB[0], high + TAB[1]), (x + TAB[0], high)]
    return LineString(box(x, y, x + place.side, high).exterior.coords), LineString(tab)


def _ground(project: Project, name: str, side: Mm) -> tuple[Run, ...]:
    """Return a ground in a square whose corner is the origin, so that it is the same in every place."""
    model, ground = GroundModel(), GROUNDS[name]
    style = GroundStyle(name, ground.spacing, model.margin, None, model.seed, project.stitching.run)
    region = box(0.0, 0.0, side, side)
    stitch = Stitch(Role.GROUND, ground.title, SWATCHES, (), style, "", region=region)
    return sew(stitch, project.stitching, project.machine)


def _marks(project: Project, number: int, at: Point, outline: tuple[LineString, ...]) -> tuple[Run, ...]:
    """Return outline and number of a swatch as they are sewn."""
    reach = 3 * LABEL
    numeral = Numeral(str(number), box(at[0] - reach, at[1] - reach, at[0] + reach, at[1] + reach))
    style = RunStyle(project.stitching.layout_run)
    stitching = project.stitching.model_copy(update={"numeral_height": LABEL})
    return sew(Stitch(Role.LAYOUT, "", MARKS, outline, style, "", numerals=(numeral,)), stitching, project.machine)


def _key(family: Family, sheet: int, last: int) -> str:
    return family if last == 0 else f"{family}-{sheet + 1}"


def _hooping(project: Project, key: str, swatches: Sequence[Swatch]) -> Hooping:
    """Return the hooping of one sheet: a block of numbers and outlines, and a block of swatches."""
    family = swatches[0].family
    title = _title(family, swatches[0].number, swatches[-1].number)
    role = Role.ORNAMENT if family == "seam-stitches" else Role.GROUND
    operations: tuple[Operation, ...] = (
        Hoop(
            ("stabilizer", "cloth"),
            "Hoop stabilizer and a plain, firmly woven cloth together, with batting for grounds.",
        ),
        _drawn(Role.LAYOUT, "Numbers and outlines", "are", MARKS, [r for s in swatches for r in s.marks]),
        _drawn(role, title, "are" if len(swatches) > 1 else "is", SWATCHES, [r for s in swatches for r in s.runs]),
    )
    group = HoopingOperations(key, title, key, 0, operations)
    steps, after = steps_of(group.operations, project.stitching, project.machine)
    return Hooping(group.key, group.title, group.panel, group.section, steps, after)


def _title(family: Family, first: int, last: int) -> str:
    if first == last:
        return f"{ONE[family]} {first}"
    return f"{TITLES[family]} {first} to {last}"


def _drawn(role: Role, title: str, verb: str, thread: str, runs: Sequence[Run]) -> Stitch:
    rows = tuple(tuple((float(x), float(y)) for x, y in run.points) for run in runs)
    return Stitch(role, title, thread, (), DrawnStyle(rows, locked=True), f"{title} {verb} sewn.")


def _no_room(project: Project, what: str) -> Finding:
    width, height = field_of(project.hoop)
    return Finding(
        "HW830",
        Severity.BLOCKS,
        f"A field of {show_size(width, height, project.units)} has no room for a swatch of the {what}",
        "Choose a larger field with --field",
    )


def _left_out(project: Project, title: str, side: Mm) -> Finding:
    return Finding(
        "HW831",
        Severity.NOTES,
        f"The ground {title} draws nothing in a square of {show_size(side, side, project.units)}, so it is on no sheet",
        "Nothing need be done; try it in a project of its own, or choose a larger field with --field",
    )
