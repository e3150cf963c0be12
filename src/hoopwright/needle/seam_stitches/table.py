"""The table of seam stitches."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from hoopwright.core.types import Mm
from hoopwright.needle.seam_stitches.blanket import blanket, closed_blanket, double_blanket, long_short_blanket
from hoopwright.needle.seam_stitches.chain import chain, detached_chain_fan, feathered_chain, zigzag_chain
from hoopwright.needle.seam_stitches.coral import coral, zigzag_coral
from hoopwright.needle.seam_stitches.cretan import cretan
from hoopwright.needle.seam_stitches.fan import fan, sheaf, star
from hoopwright.needle.seam_stitches.feather import double_feather, feather, triple_feather
from hoopwright.needle.seam_stitches.fly import fern, fly, wheatear
from hoopwright.needle.seam_stitches.herringbone import chevron, cross, herringbone
from hoopwright.needle.seam_stitches.pen import Pen
from hoopwright.needle.seam_stitches.row import Row


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

    def wished_repeat(self, width: Mm, repeat: Mm | None = None) -> Mm:
        """Return the length of a repeat that is wished for: the maker's, or the stitch's own proportion."""
        return repeat if repeat is not None else self.proportion * width


_STITCHES = (
    SeamStitch(
        "feather",
        "Feather stitch",
        "Loops to the left and right in turn, each held by the next; the last is held by a short straight stitch.",
        8.0,
        3.5,
        1.05,
        Symmetry.ONE_WAY,
        feather,
    ),
    SeamStitch(
        "double-feather",
        "Double feather stitch",
        "Two loops to each side in turn, so that the line wanders; the last is held by a short straight stitch.",
        9.0,
        5.0,
        1.5,
        Symmetry.ONE_WAY,
        double_feather,
    ),
    SeamStitch(
        "triple-feather",
        "Triple feather stitch",
        "Three loops to each side in turn; the last is held by a short straight stitch.",
        11.0,
        6.0,
        1.8,
        Symmetry.ONE_WAY,
        triple_feather,
    ),
    SeamStitch(
        "herringbone",
        "Herringbone stitch",
        "Slanting lines that cross above and below the seam; a whole line at each end.",
        6.0,
        4.0,
        0.9,
        Symmetry.MIRROR,
        herringbone,
        whole_ends=True,
    ),
    SeamStitch(
        "cretan",
        "Cretan stitch",
        "Upright arms on both sides in turn, joined by a swinging line; runs out on the seam at each end.",
        7.0,
        4.0,
        0.8,
        Symmetry.ONE_WAY,
        cretan,
    ),
    SeamStitch(
        "chevron",
        "Chevron stitch",
        "Slanting lines between short bars along both edges; a bar at each end.",
        6.0,
        4.0,
        1.3,
        Symmetry.MIRROR,
        chevron,
        whole_ends=True,
    ),
    SeamStitch(
        "blanket",
        "Blanket stitch",
        "Even legs on one side of a ridge along the seam (the other side with mirror); a leg at each end.",
        8.0,
        4.0,
        0.5,
        Symmetry.MIRROR,
        blanket,
    ),
    SeamStitch(
        "long-short-blanket",
        "Long and short blanket stitch",
        "Long and short legs in turn on one side of a ridge along the seam; a long leg at each end.",
        8.0,
        4.0,
        0.9,
        Symmetry.MIRROR,
        long_short_blanket,
    ),
    SeamStitch(
        "double-blanket",
        "Double blanket stitch",
        "Legs on both sides in turn of a ridge along the seam; a leg at each end.",
        7.0,
        3.0,
        0.7,
        Symmetry.MIRROR,
        double_blanket,
    ),
    SeamStitch(
        "closed-blanket",
        "Closed blanket stitch",
        "Pairs of legs that lean together on one side of the seam, like small tents; whole tents only.",
        8.0,
        4.0,
        0.6,
        Symmetry.MIRROR,
        closed_blanket,
    ),
    SeamStitch(
        "fly",
        "Fly stitch",
        "Open V shapes caught on the seam, one after the other; the last has a short tail.",
        7.0,
        3.0,
        0.8,
        Symmetry.ONE_WAY,
        fly,
    ),
    SeamStitch(
        "fern",
        "Fern stitch",
        "Three straight stitches that meet on the seam, over and over; ends with the middle one.",
        6.0,
        3.0,
        0.7,
        Symmetry.ONE_WAY,
        fern,
    ),
    SeamStitch(
        "wheatear",
        "Wheatear stitch",
        "Two ears and a loop below them, over and over; ends with two ears.",
        8.0,
        6.0,
        0.95,
        Symmetry.ONE_WAY,
        wheatear,
    ),
    SeamStitch(
        "chain",
        "Chain stitch",
        "Loops like the links of a chain along the seam; the last is held by a short stitch.",
        3.0,
        2.0,
        1.5,
        Symmetry.ONE_WAY,
        chain,
    ),
    SeamStitch(
        "zigzag-chain",
        "Zigzag chain stitch",
        "Loops that lean left and right in turn; the last is held by a short stitch.",
        7.0,
        5.0,
        1.5,
        Symmetry.ONE_WAY,
        zigzag_chain,
    ),
    SeamStitch(
        "feathered-chain",
        "Feathered chain stitch",
        "A zigzag line with a loop like a leaf at each bend; runs out on the seam at each end.",
        9.0,
        6.0,
        0.95,
        Symmetry.ONE_WAY,
        feathered_chain,
    ),
    SeamStitch(
        "detached-chain-fan",
        "Fans of detached chain stitch",
        "Three loops from one root, on both sides of the seam in turn; runs out on the seam at each end.",
        10.0,
        7.0,
        1.75,
        Symmetry.HALF_TURN,
        detached_chain_fan,
    ),
    SeamStitch(
        "cross",
        "Cross stitch",
        "Crosses side by side that touch at their tips; whole crosses only.",
        5.0,
        2.5,
        0.9,
        Symmetry.MIRROR,
        cross,
        whole_ends=True,
    ),
    SeamStitch(
        "fan",
        "Straight-stitch fans",
        "Five straight stitches from one root, on both sides of the seam in turn; runs out on the seam at each end.",
        8.0,
        4.0,
        1.8,
        Symmetry.HALF_TURN,
        fan,
    ),
    SeamStitch(
        "star",
        "Star stitch",
        "Stars of eight straight stitches that touch along the seam; whole stars only.",
        6.0,
        3.0,
        1.0,
        Symmetry.MIRROR,
        star,
    ),
    SeamStitch(
        "sheaf",
        "Sheaf stitch",
        "Three upright stitches tied in the middle, over and over on a line; half a step at each end.",
        6.0,
        4.0,
        0.9,
        Symmetry.MIRROR,
        sheaf,
    ),
    SeamStitch(
        "coral",
        "Coral stitch",
        "A line along the seam with small knots; half a step at each end.",
        1.4,
        1.2,
        3.6,
        Symmetry.MIRROR,
        coral,
    ),
    SeamStitch(
        "zigzag-coral",
        "Zigzag coral stitch",
        "A line to and fro across the seam with a knot at each bend; runs out on the seam at each end.",
        5.5,
        4.0,
        1.4,
        Symmetry.HALF_TURN,
        zigzag_coral,
    ),
)

SEAM_STITCHES: Mapping[str, SeamStitch] = MappingProxyType({s.name: s for s in _STITCHES})
"""Every seam stitch by name."""
