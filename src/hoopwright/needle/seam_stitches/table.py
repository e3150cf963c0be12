"""The table of seam stitches."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from hoopwright.core.types import Mm
from hoopwright.needle.seam_stitches.chain import chain
from hoopwright.needle.seam_stitches.feather import double_feather, feather
from hoopwright.needle.seam_stitches.herringbone import herringbone
from hoopwright.needle.seam_stitches.pen import Pen
from hoopwright.needle.seam_stitches.row import Row


@dataclass(frozen=True, slots=True)
class SeamStitch:
    """A decorative stitch for seams.

    ``width`` is the default whole width across the seam, ``least_width`` the narrowest that still reads as this
    stitch, ``proportion`` the length of a repeat divided by the width. ``description`` is for the maker and says
    how the stitch begins and ends. ``draw`` sews a fitted row with a pen.
    """

    name: str
    title: str
    description: str
    width: Mm
    least_width: Mm
    proportion: float
    draw: Callable[[Pen, Row], None]

    def wished_repeat(self, width: Mm, repeat: Mm | None = None) -> Mm:
        """Return the length of a repeat that is wished for: the maker's, or the stitch's own proportion."""
        return repeat if repeat is not None else self.proportion * width


_STITCHES = (
    SeamStitch(
        "feather",
        "Feather stitch",
        "Loops to the left and right in turn, each held by the next; the last is held by a short straight stitch.",
        7.0,
        3.0,
        1.1,
        feather,
    ),
    SeamStitch(
        "double-feather",
        "Double feather stitch",
        "Two loops to each side in turn, so that the line wanders; the last is held by a short straight stitch.",
        9.0,
        5.0,
        1.5,
        double_feather,
    ),
    SeamStitch(
        "herringbone",
        "Herringbone stitch",
        "Slanting lines that cross above and below the seam; half a unit at each end.",
        6.0,
        3.0,
        1.2,
        herringbone,
    ),
    SeamStitch(
        "chain",
        "Chain stitch",
        "Loops like the links of a chain along the seam; the last is held by a short stitch.",
        3.0,
        2.0,
        1.5,
        chain,
    ),
)

SEAM_STITCHES: Mapping[str, SeamStitch] = MappingProxyType({s.name: s for s in _STITCHES})
"""Every seam stitch by name."""
