"""How thread is numbered, and how thick it is."""

from __future__ import annotations

import math
from typing import Literal, TypeAlias

from hoopwright.catalog.data import facts
from hoopwright.core.types import Mm

System: TypeAlias = Literal["tex", "dtex", "denier", "nm", "ne", "wt"]
"""Ways of numbering thread: tex, dtex, denier, metric number, English cotton number, weight."""


def tex_of(number: float, system: System) -> float:
    """Return the tex (grams a kilometre) of a thread numbered in another system. Raises ValueError below or at 0."""
    row = facts("threads")["systems"][system]
    return float(_positive(number) * row["factor"] if row["direct"] else row["factor"] / _positive(number))


def number_of(tex: float, system: System) -> float:
    """Return the number of a thread of this tex in another system. Raises ValueError below or at 0."""
    row = facts("threads")["systems"][system]
    return float(_positive(tex) / row["factor"] if row["direct"] else row["factor"] / _positive(tex))


def _positive(number: float) -> float:
    if not (math.isfinite(number) and number > 0):
        raise ValueError(f"a thread's number must be more than 0, not {number}")
    return number


def diameter(tex: float, fibre: str = "polyester") -> Mm:
    """Return the diameter in mm of a packed thread, 0.0444 sqrt(tex / density). Raises KeyError for an unknown fibre."""
    table = facts("threads")["diameter"]
    return float(table["factor"] * math.sqrt(_positive(tex) / table["density"][fibre]))


def cotton_diameter(tex: float) -> Mm:
    """Return the diameter in mm of a cotton thread, 0.0374 sqrt(tex)."""
    return float(facts("threads")["cotton_diameter"]["factor"] * math.sqrt(_positive(tex)))


def laid_width() -> Mm:
    """Return the width in mm that one laid embroidery thread (40 wt) covers."""
    return float(facts("threads")["laid_width"]["value"])
