"""A row of repeats fitted to a seam."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hoopwright.core.types import Mm


@dataclass(frozen=True, slots=True)
class Row:
    """``count`` whole repeats on a seam of ``length`` mm, reaching ``half`` to each side."""

    count: int
    length: Mm
    half: Mm

    @property
    def repeat(self) -> Mm:
        """Length of one repeat when the row fills the seam."""
        return self.length / self.count


def whole_repeats(length: Mm, wish: Mm) -> int:
    """Return the whole number of repeats, at least one, nearest to ``length / wish`` (a half is rounded up)."""
    return max(1, math.floor(length / wish + 0.5))


LEAST_PART = 0.6
"""A seam shorter than this part of a repeat is left plain: squeezed more, a stitch no longer reads."""


def has_room(length: Mm, wish: Mm) -> bool:
    """Whether a seam is long enough for one repeat, a little squeezed."""
    return length >= LEAST_PART * wish
