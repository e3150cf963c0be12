"""A first project to change: a crazy-pieced panel of six patches, every setting explained."""

from __future__ import annotations

from importlib.resources import files
from string import Template
from typing import Final, Literal, TypeAlias

import tomlkit

from hoopwright.catalog.hoops import fields
from hoopwright.core.errors import HoopwrightError
from hoopwright.core.types import Mm, Point
from hoopwright.project.crossing import unprintable
from hoopwright.project.lengths import INCH, Units, show_length

Shape: TypeAlias = Literal["flap", "rectangle", "tongue", "ellipse"]
"""Outlines a first project can have."""

LONGEST_TITLE: Final = 120
"""Letters a title may have."""

_SIZE: Final = {"mm": (108.0, 92.0), "in": (4.25 * INCH, 3.625 * INCH)}
LEAST: Final = 70.0
MOST: Final = 950.0
"""Shortest and longest side of a first panel, mm."""
_CUTS: Final[tuple[tuple[Point, Point], ...]] = (
    ((1.0, 0.72), (-1.0, 0.46)),
    ((-0.48, 0.5276), (-0.24, -1.0)),
    ((0.62, -1.0), (0.46, 0.6498)),
    ((-0.34369, -0.34), (0.56569, -0.44)),
    ((0.52883, -0.06), (-0.24, 0.5588)),
)
"""Cuts in halves of a rectangle's width and height, from its middle; each ends on the rim or on an earlier cut."""

_RIM: Final = 1.0
_HALVINGS: Final = 40
_TIP: Final = 0.25


def starter_text(
    title: str, units: Units = "mm", shape: Shape = "flap", width: Mm | None = None, height: Mm | None = None
) -> str:
    """Return the text of a project that loads without a finding: six patches on a panel of a hand's width.

    ``width`` and ``height`` are mm, 70 to 950, so that six patches have room and a hoop holds them. Raises HoopwrightError otherwise, or
    for a title that is empty, too long or not printable.
    """
    _check_title(title)
    asked = (width or _SIZE[units][0], height or _SIZE[units][1])
    if not all(LEAST <= side <= MOST for side in asked):
        raise HoopwrightError(
            f"a panel of {asked[0]:g} × {asked[1]:g} mm is not for six patches",
            f"Choose sides of {LEAST:g} to {MOST:g} mm",
        )
    wide, high = (_rounded(side, units) for side in asked)
    template = Template(files("hoopwright.project").joinpath("starter.toml").read_text(encoding="utf-8"))
    return template.substitute(
        title=tomlkit.item(title.strip()).as_string(),
        units=units,
        paper="A4" if units == "mm" else "Letter",
        field=_field(wide, high),
        allowance="6.35" if units == "mm" else '"1/4 in"',
        outline=_outline(shape, wide, high, units),
        cuts=_cuts(shape, wide, high, _corner(shape, wide, high, units)),
    )


def _check_title(title: str) -> None:
    if not title.strip() or len(title.strip()) > LONGEST_TITLE or unprintable(title.strip()):
        raise HoopwrightError(
            f"The title must be one line of 1 to {LONGEST_TITLE} printable letters", "Give the project a short name"
        )


def _field(wide: Mm, high: Mm) -> str:
    """Return the smallest field sold that has room for the panel with its margin, else one made for it."""
    for field in fields():
        if field.width >= wide + _ROUND and field.height >= high + _ROUND:
            return f'"{field.name}"'
    return f"[{wide + _ROUND:.0f}, {high + _ROUND:.0f}]"


_ROUND: Final = 20.0
"""Room in mm that allowances, holding line and margin need beside the panel, both sides together."""


def _outline(shape: Shape, wide: Mm, high: Mm, units: Units) -> str:
    """Return the settings of the outline as lines."""
    lines = [f'shape = "{shape}"', f"width = {_written(wide, units)}", f"height = {_written(high, units)}"]
    remarks = [_SHAPES, "", ""]
    if shape in ("flap", "rectangle"):
        lines.append(f"radius = {_written(_corner(shape, wide, high, units), units)}")
        remarks.append("of the rounded corners" + (": the two at the bottom" if shape == "flap" else ""))
    if shape == "tongue":
        lines += [f"tip = {_written(_corner(shape, wide, high, units), units)}", "radius = 0"]
        remarks += ["how high the point at the bottom is", "of the rounded end; 0 leaves it sharp"]
    return "\n".join(f"{line:<25} # {r}" if r else line for line, r in zip(lines, remarks, strict=True))


_SHAPES: Final = '"flap", "rectangle", "tongue", "ellipse", "polygon" or "drawing"'


def _corner(shape: Shape, wide: Mm, high: Mm, units: Units) -> Mm:
    """Return the radius of rounded corners, or the height of a tongue's tip, as it is written."""
    if shape == "tongue":
        return _rounded(high * _TIP, units)
    least = min(wide, high)
    wished = least * (0.35 if shape == "flap" else 0.08)
    return round(wished / INCH * 4) / 4 * INCH if units == "in" else float(round(wished))


def _rounded(mm: Mm, units: Units) -> Mm:
    """Return a size as it can be written: to a tenth of a millimetre, or to a sixteenth of an inch."""
    return round(mm / INCH * 16) / 16 * INCH if units == "in" else round(mm, 1)


def _written(mm: Mm, units: Units) -> str:
    """Return a length as the file writes it: a number of mm, or inches in quotes."""
    return f'"{show_length(mm, "in")}"' if units == "in" else f"{round(mm, 1):g}"


def _cuts(shape: Shape, wide: Mm, high: Mm, corner: Mm) -> str:
    """Return the cuts as lines of the file, their outer ends on the panel's outline."""
    return "\n".join(f"  [{_place(a)}, {_place(b)}]," for a, b in _fitted(shape, wide, high, corner))


def _place(point: Point) -> str:
    return f"[{round(point[0], 2):g}, {round(point[1], 2):g}]"


def _fitted(shape: Shape, wide: Mm, high: Mm, corner: Mm) -> list[tuple[Point, Point]]:
    x, y = wide / 2, high / 2
    fitted = []
    for ends in _CUTS:
        a, b = ((px * x, py * y) for px, py in ends)
        on_rim = [max(abs(px), abs(py)) >= _RIM for px, py in ends]
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        new = [_drawn_in(shape, p, middle, (x, y), corner) if rim else p for p, rim in zip((a, b), on_rim, strict=True)]
        fitted.append((new[0], new[1]))
    return fitted


def _drawn_in(shape: Shape, outer: Point, inner: Point, half: Point, corner: Mm) -> Point:
    """Return the place between ``outer`` and ``inner`` (inside) where the outline is met, by halving."""
    for _ in range(_HALVINGS):
        middle = ((outer[0] + inner[0]) / 2, (outer[1] + inner[1]) / 2)
        if _inside(shape, middle, half, corner):
            inner = middle
        else:
            outer = middle
    return inner


def _inside(shape: Shape, point: Point, half: Point, corner: Mm) -> bool:
    """Whether a place lies in the outline of half sizes ``half``; ``corner`` is the radius of its corners or the height of its tip."""
    (x, y), (w, h) = point, half
    if abs(x) > w or abs(y) > h:
        return False
    if shape == "ellipse":
        return (x / w) ** 2 + (y / h) ** 2 <= 1
    if shape == "tongue":
        return y + h >= corner * abs(x) / w
    in_corner = abs(x) > w - corner and (y < corner - h or (shape == "rectangle" and y > h - corner))
    return not in_corner or (abs(x) - w + corner) ** 2 + (abs(y) - h + corner) ** 2 <= corner**2
