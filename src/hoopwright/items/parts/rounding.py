"""Limits told to the maker: rounded so that what is told still holds."""

from __future__ import annotations

import math

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm
from hoopwright.project.lengths import INCH, Units


def _step(units: Units) -> Mm:
    """Return the finest step that lengths are shown in: a tenth of a millimetre, a sixteenth of an inch."""
    return INCH / 16.0 if units == "in" else 0.1


def rounded_down(mm: Mm, units: Units) -> Mm:
    """Return the largest length that can be shown and is not more, for "at most"."""
    step = _step(units)
    return math.floor(mm / step + SAME_PLACE) * step


def rounded_up(mm: Mm, units: Units) -> Mm:
    """Return the smallest length that can be shown and is not less, for "at least"."""
    step = _step(units)
    return math.ceil(mm / step - SAME_PLACE) * step
