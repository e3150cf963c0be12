"""How each kind of stitch file is written: one table for the writer and the comparison.

The longest stitch of a kind is a fact of the catalogue. Whether the hoop can be sent to a waiting place was found out by
reading files back: pes and pec make a needle hole there, vp3 holds no moves without sewing at all.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from hoopwright.core.types import Mm


class Colours(StrEnum):
    """How a kind names the thread of a block."""

    NONE = "none"
    """Only that the thread changes."""
    EXACT = "exact"
    """Red, green and blue."""
    PALETTE = "palette"
    """An entry of a fixed list."""
    BOTH = "both"
    """Exact colours for newer machines and entries of a fixed list for older ones."""
    NEEDLES = "needles"
    """A needle number."""


@dataclass(frozen=True, slots=True)
class KindFacts:
    """One kind: how it names colours, and its limits.

    ``jump`` is the longest move without sewing that is written at once (machine steps, along x and along y),
    ``blocks`` the most blocks a file can hold, ``waits`` whether the hoop can be sent somewhere at a halt, ``trims``
    whether a cut of the thread is recorded even where the needle does not move on.
    """

    kind: str
    colours: Colours
    jump: int
    blocks: int
    waits: bool
    trims: bool
    largest: Mm | None = None
    """Side of the largest hoop that the kind can name, where it must name one (as the stitch file library writes it)."""


KINDS: Final[dict[str, KindFacts]] = {
    k.kind: k
    for k in (
        KindFacts("dst", Colours.NONE, 121, 900, True, True),
        KindFacts("exp", Colours.NONE, 127, 10_000, True, True),
        KindFacts("pes", Colours.BOTH, 2000, 250, False, False),
        KindFacts("pec", Colours.PALETTE, 2000, 250, False, False),
        KindFacts("jef", Colours.PALETTE, 127, 10_000, True, True, 200.0),
        KindFacts("vp3", Colours.EXACT, 32_767, 255, False, True),
        KindFacts("xxx", Colours.EXACT, 123, 10_000, True, True),
        KindFacts("u01", Colours.NEEDLES, 127, 10_000, True, True),
    )
}
"""Every kind that is written, by its ending."""

LONGEST_STITCH: Final[Mm] = 12.0
"""Stitches longer than this are divided before writing, in mm: every kind can record it in any direction."""

FARTHEST: Final[Mm] = 1000.0
"""No hoop reaches farther from its middle, in mm; stitches beyond are absurd."""
