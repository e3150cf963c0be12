"""The table of roughly cut rectangles, drawn on pages of its own."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.core.types import Degrees, Mm
from hoopwright.estimate.cloth import rough_size
from hoopwright.outputs.saying import Say, plain, saying
from hoopwright.outputs.templates.furniture import Sheet
from hoopwright.outputs.templates.lettering import shortened
from hoopwright.outputs.templates.marks import Area, Line, Mark, Words
from hoopwright.piecing.shapes import Patch
from hoopwright.project.lengths import show_length
from hoopwright.project.schema import Project

ROW: Mm = 7.0
"""Height of a row of the table."""

ALIGNED: Degrees = 3.0
"""A warp that lies nearer than this to a side of the rectangle runs along it for the scissors."""

NOTE = (
    "Cut these rectangles when you do not want to use templates. They still cover after flipping, with some to spare."
)


@dataclass(frozen=True, slots=True)
class RoughCut:
    """One line of the table: patch name, cloth and its colour, the two sides in the maker's units, grain in words."""

    patch: str
    cloth: str
    colour: str
    along: str
    across: str
    grain: str


def rough_cuts(project: Project, patches: Sequence[Patch]) -> tuple[RoughCut, ...]:
    """Return the rough cuts of all patches that are cut from cloth, in sewing order."""
    return tuple(_rough_cut(project, p) for p in patches if p.made_of is None)


def _rough_cut(project: Project, patch: Patch) -> RoughCut:
    cloth = project.cloths[patch.cloth]
    along, across = (show_length(mm, project.units) for mm in rough_size(project, patch))
    if patch.seam is None:
        along, across = f"{along} wide", f"{across} high"
    grain = f"{grain_words(patch)}{', mind its up' if cloth.has_up else ''}"
    say = saying(project)
    return RoughCut(
        f"{patch.number} · {patch.letters[0]}", cloth.name, cloth.colour, say(along), say(across), say(grain)
    )


def grain_words(patch: Patch) -> str:
    """Return how the warp lies in the rectangle, whose first side runs along the seam, or is the width of the first patch."""
    if patch.seam is not None:
        first, second = "length", "width"
        (a, b), (c, d) = patch.seam.start, patch.seam.end
    else:
        first, second = "width", "height"
        corners = patch.rough.outline.exterior.coords[:3]
        sides = (corners[:2], corners[1:])
        (a, b), (c, d) = min(sides, key=lambda side: abs(math.dist(*side) - patch.rough.width))
    turn = math.degrees(math.atan2(d - b, c - a))
    angle = (patch.grain - turn) % 180
    if min(angle, 180 - angle) <= ALIGNED:
        return f"with the {first}"
    if abs(angle - 90) <= ALIGNED:
        return f"with the {second}"
    return f"{min(angle, 180 - angle):.0f}° from the {first}"


def cut_pages(cuts: Sequence[RoughCut], sheet: Sheet, say: Say = plain) -> tuple[tuple[Mark, ...], ...]:
    """Return the marks of each page of the table; nothing when there are no cuts."""
    rows = int((sheet.room[1] - 2 * ROW) // ROW)
    return tuple(_table(cuts[k : k + rows], sheet, say) for k in range(0, len(cuts), rows))


def _table(cuts: Sequence[RoughCut], sheet: Sheet, say: Say) -> tuple[Mark, ...]:
    x, y = sheet.corner
    right = x + sheet.room[0]
    marks: list[Mark] = [Words(say(NOTE), (x, y + 3.0), 9.0)]
    y += ROW + 4.0
    names = ("patch", "cloth", "length (along the seam)", "width", "grain")
    marks += [
        Words(say(n), (x + c, y - 1.0), 8.0, bold=True, style="accent") for n, c in zip(names, _COLUMNS, strict=True)
    ]
    marks.append(Line(((x, y + ROW / 2 - 1), (right, y + ROW / 2 - 1)), "hair"))
    for cut in cuts:
        y += ROW
        marks += _row(cut, x, y)
        marks.append(Line(((x, y + ROW / 2 - 0.5), (right, y + ROW / 2 - 0.5)), "hair"))
    return tuple(marks)


_COLUMNS: tuple[Mm, ...] = (0.0, 22.0, 88.0, 128.0, 158.0)


def _row(cut: RoughCut, x: Mm, y: Mm) -> tuple[Mark, ...]:
    left = x + _COLUMNS[1]
    box = ((left, y - 2.0), (left + 6.0, y - 2.0), (left + 6.0, y + 2.0), (left, y + 2.0))
    return (
        Words(cut.patch, (x, y), 10.0, bold=True),
        Area((box,), cut.colour),
        Line(box, "hair", closed=True),
        Words(shortened(cut.cloth, 9.0, 56.0), (left + 8.0, y), 9.0),
        Words(cut.along, (x + _COLUMNS[2], y), 10.0),
        Words(cut.across, (x + _COLUMNS[3], y), 10.0),
        Words(cut.grain, (x + _COLUMNS[4], y), 8.0),
    )
