"""The field of the project's hoop, by name or by its own size."""

from __future__ import annotations

import re
from typing import Any, Final

from hoopwright.catalog.hoops import field_named, fields
from hoopwright.core.types import Mm
from hoopwright.project.lengths import INCH, LengthError, read_length
from hoopwright.project.problems import Problem, clipped, nearest
from hoopwright.project.schema import HoopModel

SMALLEST_FIELD: Final = 20.0
"""Side in mm below which no hoop is sold (common practice, no source)."""

LARGEST_FIELD: Final = 1000.0
"""Side in mm above which no hoop for home machines is sold (common practice, no source)."""


NOMINAL: Final = 15.0
"""Mm by which a field may differ on each side from the inches it is sold as: 130x180 is sold as 5x7 (127 by 177.8), and
both 150x240 and 160x260 as 6x10 (152.4 by 254), so that this name does not say which ("Hoopla about hoop sizes", 2015)."""

_IN_INCHES: Final = re.compile(
    r"""\s*([0-9]{1,2}(?:\.[0-9]+)?)\s*(?:"|in)?\s*[x×X]\s*([0-9]{1,2}(?:\.[0-9]+)?)\s*(?:"|''|in|inch|inches)?\s*"""
)


def field_of(hoop: HoopModel) -> tuple[Mm, Mm]:
    """Return width and height of the hoop's field in mm. Raises KeyError for a name that ``load`` would refuse."""
    if isinstance(hoop.field, str):
        known = field_named(hoop.field)
        return (known.width, known.height)
    return hoop.field


def field_problems(hoop: Any) -> list[Problem]:
    """Return what is wrong with the field in the table [hoop] as read from the file, whatever it holds."""
    if not isinstance(hoop, dict):
        return []
    field = hoop.get("field")
    if isinstance(field, str):
        return _name_problems(field)
    return _size_problems(field, hoop.get("margin", HoopModel().margin))


def _name_problems(name: str) -> list[Problem]:
    try:
        field_named(name)
    except KeyError:
        names = [f.name for f in fields()]
        near = nearest(name.lower().replace(" ", ""), names)
        first = f'Did you mean "{near}"? ' if near else ""
        cure = f"{_as_sold(name) or first}Known fields are {', '.join(names)}; any other is given as field = [width, height]"
        return [Problem("HW120", ("hoop", "field"), f"no field is called {clipped(name)}", cure)]
    return []


def _as_sold(name: str) -> str:
    """Return what a name in inches, such as "5x7", stands for in mm; empty when it is no such name."""
    match = _IN_INCHES.fullmatch(name)
    if match is None:
        return ""
    sides = sorted(float(match[i]) * INCH for i in (1, 2))
    meant = [f'"{f.name}"' for f in fields() if _near((f.width, f.height), sides)]
    sold = f"A hoop sold as {match[1]}x{match[2]} in"
    if len(meant) > 1:
        return f"{sold} may be either {' or '.join(meant)}, two different hoops: measure yours. "
    return f"{sold} has the field {meant[0]}: write that. " if meant else ""


def _near(field: tuple[Mm, Mm], sides: list[Mm]) -> bool:
    return all(abs(a - b) <= NOMINAL for a, b in zip(sorted(field), sides, strict=True))


def _size_problems(field: Any, margin: Any) -> list[Problem]:
    try:
        width, height = (read_length(side) for side in field)
        edge = read_length(margin)
    except (LengthError, TypeError, ValueError):
        return []
    low, high = min(width, height), max(width, height)
    if low < SMALLEST_FIELD or high > LARGEST_FIELD:
        message = f"a hoop's field of {width:g} × {height:g} mm is not possible"
        cure = f"Measure the area the needle can reach; sides are {SMALLEST_FIELD:g} to {LARGEST_FIELD:g} mm"
        return [Problem("HW120", ("hoop", "field"), message, cure)]
    if low <= 2 * edge:
        message = f"the margin of {edge:g} mm leaves nothing of a field of {width:g} × {height:g} mm"
        return [Problem("HW120", ("hoop", "margin"), message, "Make the margin smaller")]
    return []
