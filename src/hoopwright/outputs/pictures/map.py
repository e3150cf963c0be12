"""The map of a panel: letters, numbers and seam numbers, places to measure by, and where findings point.

It needs no sewing order, so that a drawing that cannot be sewn can still be looked at.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

from shapely.geometry import LineString

from hoopwright.core.findings import Finding, Severity
from hoopwright.core.types import Mm, Point
from hoopwright.items.plan import Plan
from hoopwright.outputs.drawing.geometry import areas, hatches
from hoopwright.outputs.drawing.shapes import Area, Circle, Drawing, Label, Line, Shape
from hoopwright.outputs.pictures.finished import panel_of
from hoopwright.outputs.pictures.inks import CUT, FAINT, HAND, INK, WHITE, cloth_paint, mix
from hoopwright.outputs.pictures.titles import growth
from hoopwright.piecing.shapes import PiecedPanel, SeamLine
from hoopwright.plane.inscribed import pole_of_inaccessibility

AROUND: Final[Mm] = 9.0
"""Paper shown round the panel for the scale, mm."""
STEP: Final[Mm] = 10.0
"""Distance of the marks of the scale, mm; every fifth carries its number."""
LETTER: Final[Mm] = 6.0
"""Largest size of a patch letter, mm."""
TAG: Final[Mm] = 2.0
"""Half the side of a seam's number plate, mm."""


def map_drawing(plan: Plan, key: str, findings: Iterable[Finding] = ()) -> Drawing:
    """Return the map of a panel: patch letters with sewing numbers, seam numbers in square plates, a scale in mm.

    Places of findings are ringed. Raises KeyError for a panel that the plan does not have.
    """
    panel = panel_of(plan, key)
    left, low, right, high = panel.outline.bounds
    extent = (left - AROUND, low - AROUND, right + AROUND, high + AROUND)
    grow = growth(extent)
    shapes = (
        *_patches(plan, panel),
        *_scale(extent),
        *(s for seam in panel.map.seams for s in _seam(seam, grow)),
        *(s for letter in panel.map.letters for s in _letter(panel, letter, grow)),
        *(s for f in findings for s in _ringed(f)),
    )
    words = "Letters name the patches in the project file, small numbers say when each is sewn, square plates number the seams."
    return Drawing(extent, shapes, f"{plan.project.title}, map", words, WHITE)


def _patches(plan: Plan, panel: PiecedPanel) -> tuple[Shape, ...]:
    cloths = dict(panel.cloths)
    shapes: list[Shape] = []
    for letter in panel.map.letters:
        area = panel.map.polygon(letter)
        shapes += areas(area, mix(cloth_paint(plan, cloths.get(letter, "")), WHITE, 0.55), INK, 0.35)
        if letter in panel.order.stuck:
            shapes += hatches(area, CUT, 0.3, 3.0, 45.0)
    return (*shapes, *areas(panel.outline, None, INK, 0.7))


def _letter(panel: PiecedPanel, letter: str, grow: float) -> tuple[Shape, ...]:
    at, room = pole_of_inaccessibility(panel.map.polygon(letter))
    size = min(grow * LETTER, room * 1.1)
    number = next((p.number for p in panel.patches if p.letters == (letter,) and p.made_of is None), None)
    name = Label(letter, (at[0], at[1] + size * 0.25), size, INK, bold=True, halo=WHITE, halo_width=0.6)
    if number is None:
        return (name,)
    below = (at[0], at[1] - size * 0.65)
    return name, Label(str(number), below, size * 0.75, HAND, halo=WHITE, halo_width=0.5)


def _seam(seam: SeamLine, grow: float) -> tuple[Shape, ...]:
    """Return the number plate of a seam, at the middle of the line."""
    middle = seam.line.interpolate(0.5, normalized=True)
    x, y = middle.x, middle.y
    high = grow * TAG
    wide = high * (1.0 if seam.number < 10 else 1.4)
    plate = ((x - wide, y - high), (x + wide, y - high), (x + wide, y + high), (x - wide, y + high))
    return Area((plate,), fill=WHITE, edge=INK, width=0.25), Label(str(seam.number), (x, y), high * 1.5, INK)


def _scale(extent: tuple[Mm, Mm, Mm, Mm]) -> tuple[Shape, ...]:
    """Return marks every STEP mm along the lower and left edge, counted from the middle of the panel."""
    left, low, right, high = extent
    shapes: list[Shape] = []
    for k in range(math.ceil((left + AROUND / 2) / STEP), math.floor((right - AROUND / 2) / STEP) + 1):
        shapes += _mark((k * STEP, low), (0.0, 1.0), k)
    for k in range(math.ceil((low + AROUND / 2) / STEP), math.floor((high - AROUND / 2) / STEP) + 1):
        shapes += _mark((left, k * STEP), (1.0, 0.0), k)
    return tuple(shapes)


def _mark(at: Point, inwards: Point, k: int) -> tuple[Shape, ...]:
    long = 2.6 if k % 5 == 0 else 1.4
    end = (at[0] + inwards[0] * long, at[1] + inwards[1] * long)
    line = Line((at, end), FAINT, 0.25)
    if k % 5:
        return (line,)
    beyond = (at[0] + inwards[0] * 5.0, at[1] + inwards[1] * 4.2)
    return line, Label(f"{k * STEP:g}", beyond, 2.4, FAINT)


def _ringed(finding: Finding) -> tuple[Shape, ...]:
    if finding.where.point is None or finding.severity is Severity.NOTES:
        return ()
    x, y = finding.where.point
    cross = [LineString([(x - 1, y - 1), (x + 1, y + 1)]), LineString([(x - 1, y + 1), (x + 1, y - 1)])]
    strokes = tuple(Line(tuple((p[0], p[1]) for p in c.coords), CUT, 0.4) for c in cross)
    return Circle((x, y), 4.0, edge=WHITE, width=1.4), Circle((x, y), 4.0, edge=CUT, width=0.7), *strokes
