"""How each kind of stitch file is written, for the writer and the comparison. All facts stand in the catalogue."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from hoopwright.catalog.kinds import kinds
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
    k.key: KindFacts(k.key, Colours(k.colours), k.longest_jump, k.most_blocks, k.waits, k.trims, k.largest_hoop)
    for k in kinds()
}
"""Every kind that is written, by its ending."""

LONGEST_STITCH: Final[Mm] = 12.0
"""Stitches longer than this are divided before writing, in mm: every kind can record it in any direction."""
