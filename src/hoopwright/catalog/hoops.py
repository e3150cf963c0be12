"""Hoop fields as commonly sold."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from hoopwright.catalog.data import facts
from hoopwright.core.types import Mm


@dataclass(frozen=True, slots=True)
class Field:
    """The area the needle can reach in one hoop, in mm, its name ("130x180") and where the figure comes from."""

    width: Mm
    height: Mm
    name: str
    source: str


@cache
def fields() -> tuple[Field, ...]:
    """Return all known fields, from the smallest area to the largest."""
    rows = facts("hoops")["fields"]
    known = (Field(r["width"], r["height"], f"{r['width']}x{r['height']}", r["source"]) for r in rows)
    return tuple(sorted(known, key=lambda f: (f.width * f.height, f.width)))


def field_named(name: str) -> Field:
    """Return the field called ``name``; "130 X 180 mm" and "130×180" are read as "130x180". Raises KeyError."""
    plain = re.sub(r"\s|mm", "", name.lower()).replace("×", "x")
    for field in fields():
        if field.name == plain:
            return field
    raise KeyError(name)
