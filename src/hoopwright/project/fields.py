"""The field of the project's hoop, by name or by its own size."""

from __future__ import annotations

from typing import Any, Final

from hoopwright.catalog.hoops import field_named, fields
from hoopwright.core.types import Mm
from hoopwright.project.lengths import LengthError, read_length
from hoopwright.project.problems import Problem, clipped, nearest
from hoopwright.project.schema import HoopModel

SMALLEST_FIELD: Final = 20.0
"""Side in mm below which no hoop is sold (common practice, no source)."""

LARGEST_FIELD: Final = 1000.0
"""Side in mm above which no hoop for home machines is sold (common practice, no source)."""


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
        cure = f"{first}Known fields are {', '.join(names)}; any other is given as field = [width, height]"
        return [Problem("HW120", ("hoop", "field"), f"no field is called {clipped(name)}", cure)]
    return []


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
