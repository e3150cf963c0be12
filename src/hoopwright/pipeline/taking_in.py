"""Files of the maker's own, looked into before they are kept beside a project."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from hoopwright.core.errors import GeometryError, StitchFileError
from hoopwright.needle.grounds.motif_file import motif_lines
from hoopwright.needle.lettering.font import FontError, read_font
from hoopwright.needle.placed import MOST_STITCHES
from hoopwright.needle.placed_file import opened, placed_file
from hoopwright.project.schema import StitchingModel

USUAL: Final = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789"
"""Signs that a font to be sewn should have."""
MOST_LINES: Final = 2_000
"""More lines than any motif to be repeated needs."""


@dataclass(frozen=True, slots=True)
class FontSeen:
    """What a font holds: the usual signs it lacks, in order."""

    lacking: str


@dataclass(frozen=True, slots=True)
class StitchesSeen:
    """What a stitch file holds: its number of stitches and the colours of its blocks ("#rrggbb", None for those untold)."""

    stitches: int
    colours: tuple[str | None, ...]


def look_into_font(data: bytes) -> FontSeen:
    """Return what a font file holds, every usual letter of it drawn once. Raises FontError for one that cannot be used."""
    font = read_font(data)
    there = [sign for sign in USUAL if font.has(sign)]
    if not there:
        raise FontError("The font has no letters of ours", "Choose another TTF or OTF file")
    try:
        for sign in there:
            font.area(sign)
    except FontError:
        raise
    except Exception as fault:
        raise FontError("A letter of the font cannot be drawn", "Choose another TTF or OTF file") from fault
    return FontSeen("".join(sign for sign in USUAL if sign not in there))


def look_into_stitches(data: bytes, name: str) -> StitchesSeen:
    """Return what a stitch file holds; ``name`` tells its kind. Raises StitchFileError for one that cannot be placed on a panel."""
    held = opened(data, name).count
    if held > MOST_STITCHES:
        raise StitchFileError(
            f"{name} holds {held} stitches; at most {MOST_STITCHES} can be placed on a panel",
            "Take a smaller design, or sew it in a hooping of its own",
        )
    found = placed_file(data, name, (0.0, 0.0), 0.0, False, 1.0, StitchingModel().lock)
    count = sum(len(row) for block in found.blocks for row in block.rows)
    if not count:
        raise StitchFileError(f"{name} holds no stitches", "Check that it is the right file")
    return StitchesSeen(count, tuple(block.colour for block in found.blocks))


def look_into_motif(data: bytes, name: str) -> int:
    """Return how many lines the drawing of a motif holds. Raises GeometryError for one that cannot be used."""
    found = len(motif_lines(data, name))
    if not found:
        raise GeometryError(f"The drawing {name} holds no lines", "Turn its shapes into paths and save it again")
    if found > MOST_LINES:
        raise GeometryError(
            f"The drawing {name} holds {found} lines", f"Keep only the motif, at most {MOST_LINES} lines"
        )
    return found
