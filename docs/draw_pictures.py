"""Draws the pictures of the handbook that show what the program itself makes. Run by ``make pictures``."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from shapely.geometry import LineString

from hoopwright.core.types import Mm, Point
from hoopwright.needle.seam_stitches import SEAM_STITCHES, SeamStitch, sew_seam_stitch
from hoopwright.operations.vocabulary import OrnamentStyle, Role
from hoopwright.outputs.drawing.shapes import Area, Drawing, Label, Line, Shape
from hoopwright.outputs.drawing.svg import to_svg
from hoopwright.outputs.pictures.finished import finished_png
from hoopwright.outputs.pictures.steps import step_svg
from hoopwright.pipeline import plan
from hoopwright.project.load import load

PICTURES: Final = Path(__file__).parent / "pictures"
EXAMPLES: Final = Path(__file__).parents[1] / "examples"
ENLARGED: Final = 2.0
"""The sheet of seam stitches is drawn twice as large as sewn."""

CELL: Final[tuple[Mm, Mm]] = (50.0, 20.0)
COLUMNS: Final = 2
SEAM: Final[Mm] = 40.0
BAND: Final[Mm] = 6.5
HEAD: Final[Mm] = 5.0
THREAD: Final[Mm] = 0.4
INK, UPPER, LOWER, SILK, FAINT = "#2b2b2b", "#efe6d0", "#d8c8a2", "#233a63", "#a08c62"


def seam_stitches() -> Drawing:
    """Return the contact sheet: every seam stitch in its usual width on 40 mm of a seam, in the order of the table."""
    shapes: list[Shape] = []
    stitches = tuple(SEAM_STITCHES.values())
    for i, stitch in enumerate(stitches):
        left, top = i % COLUMNS * CELL[0], -(i // COLUMNS) * CELL[1]
        shapes += _cell(stitch, (left + (CELL[0] - SEAM) / 2, top - HEAD - BAND))
    rows = -(-len(stitches) // COLUMNS)
    bottom = -rows * CELL[1] - 8.0
    shapes += _scale((CELL[0] - SEAM) / 2, bottom + 4.0)
    words = f"Every seam stitch in its usual width, {ENLARGED:g} times as large as sewn"
    return Drawing((0.0, bottom, COLUMNS * CELL[0], 0.0), tuple(shapes), words, background="#ffffff")


def _cell(stitch: SeamStitch, start: Point) -> list[Shape]:
    """Return one stitch on its seam between two cloths, with its name and width above."""
    x, y = start
    end = (x + SEAM, y)
    (points,) = sew_seam_stitch(LineString([start, end]), OrnamentStyle(stitch.name, stitch.width), 1.0, 7.0)
    return [
        Area(((start, end, (end[0], y + BAND), (x, y + BAND)),), fill=UPPER),
        Area(((start, end, (end[0], y - BAND), (x, y - BAND)),), fill=LOWER),
        Line((start, end), FAINT, 0.15),
        Line(tuple((float(u), float(v)) for u, v in points), SILK, THREAD),
        Label(stitch.name, (x, y + BAND + 2.0), 3.0, INK, "start", bold=True),
        Label(f"{stitch.width:g} mm", (end[0], y + BAND + 2.0), 2.6, INK, "end"),
    ]


def _scale(x: Mm, y: Mm) -> list[Shape]:
    """Return a bar of 10 mm of seam."""
    ticks = [Line(((x + d, y - 0.8), (x + d, y + 0.8)), INK, 0.2) for d in (0.0, 10.0)]
    return [Line(((x, y), (x + 10.0, y)), INK, 0.2), *ticks, Label("10 mm of seam", (x + 12.0, y), 2.6, INK, "start")]


def front_page() -> None:
    """Write the two pictures of the README: the finished flap of the example, and the halt at which patch 4 is laid."""
    made = plan(load(EXAMPLES / "tide-mill-flap" / "project.toml").project)
    (PICTURES / "flap-finished.png").write_bytes(finished_png(made, "panel", pixels_per_mm=5.0))
    hooping = made.hoopings[0]
    patch = next(p for p in made.panels[0].patches if p.number == 4)
    step = next(s for s in hooping.steps if s.stitch.role is Role.SEAM and s.stitch.piece == patch.label)
    (PICTURES / "flap-halt.svg").write_text(step_svg(made, hooping, step.index), encoding="utf-8", newline="\n")


def main() -> None:
    """Write all pictures."""
    PICTURES.mkdir(exist_ok=True)
    front_page()
    drawing = seam_stitches()
    text = to_svg(drawing, width_mm=drawing.width * ENLARGED)
    (PICTURES / "seam-stitches.svg").write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
