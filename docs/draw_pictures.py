"""Draws the pictures of the handbook that show what the program itself makes. Run by ``make pictures``."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final, Literal

from shapely.geometry import LineString, Polygon, box
from shapely.geometry.polygon import orient

from hoopwright.core.types import Mm, Point
from hoopwright.items.plan import Plan
from hoopwright.items.swatches.sheets import swatch_sheets
from hoopwright.items.swatches.wish import SwatchWish
from hoopwright.needle.grounds import GROUNDS, Ground
from hoopwright.needle.seam_stitches import SEAM_STITCHES, SeamStitch, sew_seam_stitch
from hoopwright.needle.sewing import sew
from hoopwright.operations.vocabulary import GroundStyle, OrnamentStyle, Role, Stitch
from hoopwright.outputs.drawing.geometry import areas
from hoopwright.outputs.drawing.shapes import Area, Drawing, Label, Line, Shape
from hoopwright.outputs.drawing.svg import to_svg
from hoopwright.outputs.pictures.face import face_drawing
from hoopwright.outputs.pictures.finished import finished_png
from hoopwright.outputs.pictures.legend import legend_drawing
from hoopwright.outputs.pictures.steps import hands_drawing, lay_drawings, step_drawing, step_svg
from hoopwright.outputs.pictures.vector import finished_drawing
from hoopwright.outputs.swatches.pictures import sheet_png
from hoopwright.pipeline import new_project, plan
from hoopwright.project.load import load, parse
from hoopwright.project.schema import GroundModel, MachineModel, StitchingModel

PICTURES: Final = Path(__file__).parent / "pictures"
RECIPE_PICTURES: Final = Path(__file__).parent / "recipes" / "pictures"
SHELF_PICTURES: Final = Path(__file__).parents[1] / "src" / "hoopwright" / "worktable" / "recipes"
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
LAID: Final = {"fine": 0.3, "bold": 0.55, "corded": THREAD}
"""How wide the thread of a row lies: drawn once, three times, or side by side."""

MADDER: Final = "#b8482e"
"""Thread of a row over another."""

ROUND: Final[Mm] = 44.0
ROUND_RADIUS: Final[Mm] = 16.0
"""Side and rounded corners of the flap with a row along its outline."""

SQUARE: Final[Mm] = 60.0
"""Side of a ground on its sheet."""

SQUARE_CELL: Final[tuple[Mm, Mm]] = (66.0, 72.0)
SQUARES_ACROSS: Final = 3
GROUND_LENGTH: Final[Mm] = 2.5
"""Stitches of the grounds on their sheet."""

SWATCH_FIELD: Final = "200x200"
SWATCH_SCALE: Final = 4.0
"""Field of the sheet on the page of the swatches, and pixels to the mm of its picture."""

RECIPE_WIDTH: Final[Mm] = 75.0
"""Width of a picture on a recipe's page."""


@dataclass(frozen=True, slots=True)
class Shown:
    """One picture of a recipe's page: its name after the recipe's, and the halt it shows.

    The halt is that before the first block of ``role`` that belongs to ``piece`` (of any piece for "*"), in the hooping of
    the same key; the role "end" is the work when all is sewn, the role "finished" the finished panel of that key. ``part`` "step" shows what is laid and sewn, "hands" what is
    trimmed, flipped and folded before, "lay" the first of several pieces laid there.
    """

    name: str
    hooping: str
    role: str
    piece: str | None = None
    part: str = "step"


SHOWN: Final[dict[str, tuple[str | None, tuple[Shown, ...]]]] = {
    "panel": (
        "tide-mill-flap",
        (
            Shown("layout", "panel", "layout"),
            Shown("lay", "panel", "seam", "F"),
            Shown("flip", "panel", "placement", "D", "hands"),
            Shown("decorate", "panel", "seam stitch"),
            Shown("trim", "panel", "end"),
        ),
    ),
    "block": (
        None,
        (
            Shown("layout", "block", "layout"),
            Shown("first", "block", "tack-down", "*"),
            Shown("lay", "block", "seam", "*"),
            Shown("trim", "block", "end"),
        ),
    ),
    "mat": (
        "tide-mat",
        (
            Shown("pieced", "mat", "finished"),
            Shown("lower-back", "mat", "closing seam", None, "lay"),
            Shown("upper-back", "mat", "closing seam"),
        ),
    ),
    "bookmark": (
        "reed-bookmark",
        (
            Shown("lay", "bookmark", "seam", "B"),
            Shown("ribbons", "bookmark", "basting", "*"),
            Shown("back", "bookmark", "closing seam"),
        ),
    ),
    "key-tab": (
        "sluice-key-tab",
        (
            Shown("lay", "key-tab", "seam", "B"),
            Shown("back", "key-tab", "tack-down", None),
            Shown("done", "key-tab", "end"),
        ),
    ),
    "glasses-sleeve": (
        "reading-sleeve",
        (
            Shown("front-lining", "front", "seam", "front-lining"),
            Shown("front-folded", "front", "end", None, "hands"),
            Shown("pocket", "sleeve", "seam", "pocket"),
            Shown("front", "sleeve", "basting", "front"),
            Shown("lining", "sleeve", "closing seam"),
        ),
    ),
    "flap-pouch": (
        "quay-pouch",
        (
            Shown("flap", "pouch", "seam", "flap"),
            Shown("flap-up", "pouch", "basting", "flap", "hands"),
            Shown("strap", "pouch", "basting", "strap"),
            Shown("pocket", "pouch", "seam", "pocket"),
            Shown("lining", "pouch", "closing seam"),
        ),
    ),
    "frame-purse": (
        "lockkeeper-purse",
        (
            Shown("lay", "shell", "seam", "D"),
            Shown("pieced", "front", "finished"),
            Shown("back", "shell", "closing seam"),
            Shown("lining", "lining", "closing seam"),
        ),
    ),
    "label": (
        "mill-label",
        (
            Shown("lay", "label", "basting", "label"),
            Shown("letters", "label", "lettering", "label"),
            Shown("done", "label", "end"),
        ),
    ),
    "zip-pouch": (
        "ferry-zip-pouch",
        (
            Shown("zip", "pouch", "tack-down", "zip"),
            Shown("upper-front", "pouch", "seam", "front-upper"),
            Shown("upper-flipped", "pouch", "top stitching", "front-upper", "hands"),
            Shown("zip-open", "pouch", "basting", "zip"),
            Shown("back", "pouch", "closing seam"),
        ),
    ),
    "accent": (
        "tide-lace",
        (
            Shown("leaves", "accent", "accent"),
            Shown("blossom", "accent", "accent", "blossom"),
            Shown("done", "accent", "end"),
        ),
    ),
}
"""The pictures of every recipe's page, from an example or, without one, from the first project `new` writes."""


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


def _two(
    below: str, width: Mm, over: str, over_width: Mm, weight: Literal["bold", "corded"] = "bold"
) -> tuple[OrnamentStyle, OrnamentStyle]:
    """Return a row and another over it."""
    base = OrnamentStyle(below, width, weight=weight)
    return base, OrnamentStyle(over, over_width, under=base)


SHOWN_ROWS: Final[tuple[tuple[str, tuple[OrnamentStyle, ...]], ...]] = (
    ("fine", (OrnamentStyle("feather", 9.0, weight="fine"),)),
    ("fine", (OrnamentStyle("herringbone", 8.0, weight="fine"),)),
    ("bold", (OrnamentStyle("feather", 9.0),)),
    ("bold", (OrnamentStyle("herringbone", 8.0),)),
    ("corded", (OrnamentStyle("feather", 9.0, weight="corded"),)),
    ("corded", (OrnamentStyle("herringbone", 8.0, weight="corded"),)),
    ("left", (OrnamentStyle("fan", 9.0, sides="left"),)),
    ("both", (OrnamentStyle("fan", 9.0, sides="both"),)),
    ("spacing 3 mm", (OrnamentStyle("cross", 5.0, spacing=3.0),)),
    ("ease 3 mm, taper 12 mm", (OrnamentStyle("fern", 8.0, ease=3.0, taper=12.0),)),
    ("zigzag-coral over herringbone", _two("herringbone", 7.0, "zigzag-coral", 4.5)),
    ("coral over star", _two("star", 8.0, "coral", 1.4)),
    ("zigzag-coral over fan", _two("fan", 10.0, "zigzag-coral", 6.0)),
    ("lacing over corded cretan", _two("cretan", 10.0, "lacing", 6.0, "corded")),
)
"""The rows of the second sheet of seam stitches: what each shows, and the styles sewn one over the other."""


def seam_rows() -> Drawing:
    """Return the sheet of what else can be asked of a row: weights, sides, gaps, ends, rows over rows, and rows round corners."""
    shapes: list[Shape] = []
    for i, (words, styles) in enumerate(SHOWN_ROWS):
        left, top = i % COLUMNS * CELL[0], -(i // COLUMNS) * CELL[1]
        shapes += _row(words, styles, (left + (CELL[0] - SEAM) / 2, top - HEAD - BAND))
    top = -(-len(SHOWN_ROWS) // COLUMNS) * -CELL[1]
    for k, weight in enumerate(("bold", "corded")):
        shapes += _round(weight, (k * CELL[0] + CELL[0] / 2, top - HEAD - ROUND / 2))
    bottom = top - HEAD - ROUND - 10.0
    shapes += _scale((CELL[0] - SEAM) / 2, bottom + 4.0)
    words = f"Weights, sides, gaps and ends of seam stitches, rows over rows, and rows along outlines, {ENLARGED:g} times as large as sewn"
    return Drawing((0.0, bottom, COLUMNS * CELL[0], 0.0), tuple(shapes), words, background="#ffffff")


def seam_rows_svg() -> str:
    """Return that sheet as SVG."""
    drawing = seam_rows()
    return to_svg(drawing, width_mm=drawing.width * ENLARGED)


def _row(words: str, styles: tuple[OrnamentStyle, ...], start: Point) -> list[Shape]:
    """Return rows sewn one over the other on a seam between two cloths, with words above."""
    x, y = start
    end = (x + SEAM, y)
    return [
        Area(((start, end, (end[0], y + BAND), (x, y + BAND)),), fill=UPPER),
        Area(((start, end, (end[0], y - BAND), (x, y - BAND)),), fill=LOWER),
        *_sewn(LineString([start, end]), styles),
        Label(words, (x, y + BAND + 2.0), 3.0, INK, "start", bold=True),
    ]


def _round(weight: str, middle: Point) -> list[Shape]:
    """Return a row along the inside of a flap's outline."""
    half = ROUND / 2
    body = box(middle[0] - half, middle[1] - half, middle[0] + half, middle[1] + half)
    flap = (
        body.buffer(-ROUND_RADIUS)
        .buffer(ROUND_RADIUS, quad_segs=32)
        .union(box(middle[0] - half, middle[1], middle[0] + half, middle[1] + half))
    )
    style = OrnamentStyle("cretan", 6.0 if weight == "bold" else 8.0, weight="corded" if weight == "corded" else "bold")
    lane = flap.buffer(-2.5 - style.width / 2, join_style="mitre")
    assert isinstance(lane, Polygon)
    return [
        *areas(flap, UPPER),
        *_sewn(LineString(orient(lane).exterior.coords), (style,)),
        Label(f"along an outline, {weight}", (middle[0] - half, middle[1] + half + 2.0), 3.0, INK, "start", bold=True),
    ]


def _sewn(path: LineString, styles: tuple[OrnamentStyle, ...]) -> list[Shape]:
    """Return the stitches of rows along a path, each in a colour of its own."""
    return [
        Line(tuple((float(u), float(v)) for u, v in run), colour, LAID[style.weight])
        for style, colour in zip(styles, (SILK, MADDER), strict=False)
        for run in sew_seam_stitch(path, style, 1.0, 7.0)
    ]


def grounds() -> Drawing:
    """Return the contact sheet: every ground in its usual spacing in a square, true to size, in the order of the table."""
    shapes: list[Shape] = []
    for i, ground in enumerate(GROUNDS.values()):
        shapes += _square(ground, (i % SQUARES_ACROSS * SQUARE_CELL[0] + 3.0, -(i // SQUARES_ACROSS) * SQUARE_CELL[1]))
    bottom = -(-len(GROUNDS) // SQUARES_ACROSS) * -SQUARE_CELL[1] - 8.0
    shapes += _scale(3.0, bottom + 4.0, "10 mm")
    words = f"Every ground in its usual spacing, in a square of {SQUARE:g} mm"
    return Drawing((0.0, bottom, SQUARES_ACROSS * SQUARE_CELL[0], 0.0), tuple(shapes), words, background="#ffffff")


def _square(ground: Ground, corner: Point) -> list[Shape]:
    """Return one ground as it is sewn in a square of cloth, with its name and spacing above."""
    left, top = corner[0], corner[1] - 8.0
    region = box(left, top - SQUARE, left + SQUARE, top)
    style = GroundStyle(ground.name, ground.spacing, GroundModel().margin, None, 1, GROUND_LENGTH)
    stitch = Stitch(Role.GROUND, ground.title, "thread", (), style, "", region=region)
    runs = sew(stitch, StitchingModel(), MachineModel())
    return [
        *areas(region, UPPER),
        *(Line(tuple((float(x), float(y)) for x, y in run.points), SILK, THREAD) for run in runs),
        Label(ground.name, (left, top + 3.0), 4.2, INK, "start", bold=True),
        Label(f"{ground.spacing:g} mm", (left + SQUARE, top + 3.0), 3.6, INK, "end"),
    ]


def _scale(x: Mm, y: Mm, words: str = "10 mm of seam") -> list[Shape]:
    """Return a bar of 10 mm."""
    ticks = [Line(((x + d, y - 0.8), (x + d, y + 0.8)), INK, 0.2) for d in (0.0, 10.0)]
    return [Line(((x, y), (x + 10.0, y)), INK, 0.2), *ticks, Label(words, (x + 12.0, y), 2.6, INK, "start")]


def swatches() -> bytes:
    """Return the first sheet of the swatches, sewn, as PNG."""
    sheets = swatch_sheets(SwatchWish(field=SWATCH_FIELD))
    return sheet_png(sheets, sheets.plan.hoopings[0].key, SWATCH_SCALE)


def front_page() -> None:
    """Write the two pictures of the README: the finished flap of the example, and the halt at which patch 4 is laid."""
    made = plan(load(EXAMPLES / "tide-mill-flap" / "project.toml").project)
    (PICTURES / "flap-finished.png").write_bytes(finished_png(made, "panel", pixels_per_mm=5.0))
    hooping = made.hoopings[0]
    patch = next(p for p in made.panels[0].patches if p.number == 4)
    step = next(s for s in hooping.steps if s.stitch.role is Role.SEAM and s.stitch.piece == patch.label)
    (PICTURES / "flap-halt.svg").write_text(step_svg(made, hooping, step.index), encoding="utf-8", newline="\n")


@cache
def recipe_plan(recipe: str) -> Plan:
    """Return the plan whose pictures stand on a recipe's page."""
    example, _ = SHOWN[recipe]
    if example is None:
        return plan(parse(new_project(recipe, f"Tide mill {recipe}"), None).project)
    return plan(load(EXAMPLES / example / "project.toml").project)


def recipe_drawing(recipe: str, shown: Shown) -> Drawing:
    """Return one picture of a recipe's page. Raises StopIteration when the plan has no such hooping or halt."""
    made = recipe_plan(recipe)
    if shown.role == "finished":
        return finished_drawing(made, shown.hooping)
    hooping = next(h for h in made.hoopings if h.key == shown.hooping)
    halts = ((s.index, s.stitch.role.value, s.stitch.piece) for s in hooping.steps)
    ends = ((len(hooping.steps) + 1, "end", None),)
    index = next(i for i, role, piece in (*halts, *ends) if role == shown.role and shown.piece in ("*", piece))
    if shown.part == "lay":
        return lay_drawings(made, hooping, index)[0]
    if shown.part == "hands":
        drawn = hands_drawing(made, hooping, index)
        assert drawn is not None, f"nothing is flipped or folded: {shown}"
        return drawn
    return step_drawing(made, hooping, index)


def recipe_svg(recipe: str, shown: Shown) -> str:
    """Return one picture of a recipe's page as SVG."""
    return to_svg(recipe_drawing(recipe, shown), width_mm=RECIPE_WIDTH)


def legend() -> str:
    """Return the signs of all these pictures as SVG."""
    drawing = legend_drawing(pieces=True)
    return to_svg(drawing, width_mm=2.0 * RECIPE_WIDTH)


def recipe_pages() -> None:
    """Write the pictures of all recipes, and take away those that no recipe has any more."""
    RECIPE_PICTURES.mkdir(exist_ok=True)
    fresh = {f"{r}-{s.name}.svg": recipe_svg(r, s) for r, (_, rows) in SHOWN.items() for s in rows}
    fresh["legend.svg"] = legend()
    for path in RECIPE_PICTURES.glob("*.svg"):
        if path.name not in fresh:
            path.unlink()
    for name, text in fresh.items():
        (RECIPE_PICTURES / name).write_text(text, encoding="utf-8", newline="\n")


def shelf_svg(recipe: str) -> str:
    """Return the picture of a recipe on the worktable's shelf: the item of its page, finished. Raises AssertionError for nothing."""
    drawn = face_drawing(recipe_plan(recipe))
    assert drawn is not None, f"nothing to show of {recipe}"
    return to_svg(drawn)


def shelf_cards() -> None:
    """Write the picture of every recipe on the worktable's shelf; these go with the package."""
    SHELF_PICTURES.mkdir(exist_ok=True)
    for recipe in SHOWN:
        (SHELF_PICTURES / f"{recipe}.svg").write_text(shelf_svg(recipe), encoding="utf-8", newline="\n")


def main() -> None:
    """Write all pictures."""
    PICTURES.mkdir(exist_ok=True)
    shelf_cards()
    front_page()
    recipe_pages()
    drawing = seam_stitches()
    text = to_svg(drawing, width_mm=drawing.width * ENLARGED)
    (PICTURES / "seam-stitches.svg").write_text(text, encoding="utf-8", newline="\n")
    (PICTURES / "seam-rows.svg").write_text(seam_rows_svg(), encoding="utf-8", newline="\n")
    (PICTURES / "swatches.png").write_bytes(swatches())
    (PICTURES / "grounds.svg").write_text(to_svg(grounds()), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
