"""What a seam stitch is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from hoopwright.core.types import Mm
from hoopwright.needle.seam_stitches.pen import Pen
from hoopwright.needle.seam_stitches.row import Beat, Row, Sides, between, inside

CORDED_PART: Final = 1.25
"""A corded stitch is as much larger as its thread is thicker, so that it stays open (by eye) …"""

CORDED_MORE: Final[Mm] = 1.5
"""… and by so much wider."""

STEP: Final[Mm] = 0.5
"""Widths of corded stitches are rounded down to this."""


ALTERNATE: Final[tuple[Sides, ...]] = ("alternate", "left", "right", "both")
"""What a row can be asked for whose motifs stand on both sides in turn."""

ONE_SIDED: Final[tuple[Sides, ...]] = ("alternate", "left", "right")
"""The same where the line itself goes to and fro."""

PAIRED: Final[tuple[Sides, ...]] = ("both", "left", "right", "alternate")
"""What a row can be asked for whose arms stand in pairs."""

LEGS: Final[tuple[Sides, ...]] = ("left", "right", "alternate", "both")
"""What a row can be asked for whose legs stand on one side of a ridge."""

TENTS: Final[tuple[Sides, ...]] = ("left", "right", "alternate")
"""The same where the ridge is closed by the legs themselves."""


class Symmetry(StrEnum):
    """What a row of repeats looks like seen from its other end."""

    MIRROR = "mirror"
    """The same, reflected about the seam's middle."""
    HALF_TURN = "half turn"
    """The same, turned half round about the seam's middle: left and right change places."""
    ONE_WAY = "one way"
    """It has a direction, kept along the whole seam."""


@dataclass(frozen=True, slots=True)
class SeamStitch:
    """A decorative stitch for seams.

    ``width`` is the default whole width across the seam, ``least_width`` the narrowest that still reads as this
    stitch, ``proportion`` the length of a repeat divided by the width, ``symmetry`` what it is seen from its
    other end. ``description`` is for the maker and says how the stitch begins and ends. ``draw`` sews a fitted row with a
    pen. ``whole_ends``: its first and last strokes lie on an edge of the row, so that it ends where both sides have room.
    """

    name: str
    title: str
    description: str
    width: Mm
    least_width: Mm
    proportion: float
    symmetry: Symmetry
    draw: Callable[[Pen, Row], None]
    whole_ends: bool = False
    bays: Callable[[Row, Mm], tuple[Beat, ...]] | None = None
    sides: tuple[Sides, ...] = ()

    def wished_repeat(self, width: Mm, repeat: Mm | None = None) -> Mm:
        """Return the length of a repeat that is wished for: the maker's, or the stitch's own proportion."""
        return repeat if repeat is not None else self.proportion * width

    def usual(self, weight: str) -> Mm:
        """Return the usual whole width across the seam at a weight, "fine", "bold" or "corded"."""
        return _corded(self.width) if weight == "corded" else self.width

    def least(self, weight: str) -> Mm:
        """Return the narrowest whole width at which it still reads."""
        return _corded(self.least_width) if weight == "corded" else self.least_width


def _corded(width: Mm) -> Mm:
    return (CORDED_PART * width + CORDED_MORE) // STEP * STEP


def between_repeats(row: Row, _shortest: Mm) -> tuple[Beat, ...]:
    """Return the bays of a row that stands closed in each repeat."""
    return between(row)


def inside_repeats(row: Row, _shortest: Mm) -> tuple[Beat, ...]:
    """Return the bays of a row that stands open in the middle of each repeat."""
    return inside(row)
