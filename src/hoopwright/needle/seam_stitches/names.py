"""Names of seam stitches: what else the trade calls them, and what to offer for a name that is not in the table."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from types import MappingProxyType
from typing import Final

from hoopwright.core.words import listed
from hoopwright.needle.seam_stitches.table import SEAM_STITCHES

NEAR: Final = 0.6
"""How alike two names must be (1: the same) before one is offered for the other."""

MOST_OFFERED: Final = 3

OTHER_NAMES: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "buttonhole": ("blanket", "double-blanket", "closed-blanket"),
        "closed-buttonhole": ("closed-blanket",),
        "double-buttonhole": ("double-blanket",),
        "crossed-buttonhole": ("closed-blanket",),
        "briar": ("feather",),
        "single-coral": ("feather",),
        "coral-knot": ("coral",),
        "french-knot": ("knot-spray", "feather-with-knots", "coral"),
        "knot": ("coral", "zigzag-coral", "knot-spray"),
        "thorn": ("fern", "feather"),
        "catch": ("herringbone",),
        "cat": ("herringbone",),
        "plaited": ("herringbone",),
        "russian": ("herringbone",),
        "mossoul": ("herringbone",),
        "witch": ("herringbone",),
        "persian": ("cretan",),
        "long-armed-feather": ("cretan",),
        "y": ("fly",),
        "open-loop": ("fly",),
        "leaf": ("fern", "feathered-chain"),
        "lazy-daisy": ("detached-chain-fan", "feathered-chain"),
        "daisy": ("detached-chain-fan",),
        "detached-chain": ("detached-chain-fan", "feathered-chain"),
        "tail-chain": ("detached-chain-fan",),
        "tambour": ("chain",),
        "point-de-chainette": ("chain",),
        "vandyke-chain": ("zigzag-chain",),
        "zigzag": ("zigzag-chain", "zigzag-coral", "chevron"),
        "straight": ("fan", "sheaf", "star"),
        "up-and-down-buttonhole": ("up-and-down-blanket",),
        "mirrored-buttonhole": ("up-and-down-blanket",),
        "buttonhole-wheel": ("half-wheel",),
        "wheel": ("half-wheel", "star"),
        "spoke-wheel": ("half-wheel", "star"),
        "bulls-head": ("tete-de-boeuf",),
        "chinese": ("pekinese",),
        "forbidden": ("pekinese",),
        "single-knotted-line": ("scroll",),
        "knotted-feather": ("feather-with-knots",),
        "laced-running": ("threaded-running",),
        "whipped-running": ("threaded-running",),
        "threaded": ("threaded-running", "lacing"),
        "laced": ("lacing", "threaded-running"),
        "interlaced-herringbone": ("herringbone", "lacing"),
        "laced-herringbone": ("herringbone", "lacing"),
        "wave": ("lacing", "scroll"),
        "step": ("ladder",),
        "link": ("cable-chain", "chain"),
        "algerian-eye": ("star",),
        "bundle": ("sheaf",),
        "faggot": ("sheaf",),
        "wheat": ("wheatear", "sheaf"),
        "satin": (),
        "running": (),
        "back": (),
        "stem": (),
        "outline": (),
        "whip": (),
    }
)
"""Other names of the trade and what comes nearest in the table; nothing for stitches that none of ours resembles (from
memory of embroidery handbooks, whose names differ from region to region)."""


def plain_name(name: str) -> str:
    """Return a name as the table writes names: small letters, hyphens, without the word "stitch"."""
    words = name.lower().replace("_", " ").replace("-", " ").split()
    kept = [w for w in words if w not in ("stitch", "stitches")]
    return "-".join(kept)


def near_names(name: str) -> tuple[str, ...]:
    """Return the names to offer for an unknown one, nearest first; nothing when none is near."""
    plain = plain_name(name)
    if plain in SEAM_STITCHES:
        return (plain,)
    known = get_close_matches(plain, (*SEAM_STITCHES, *OTHER_NAMES), n=MOST_OFFERED, cutoff=NEAR)
    if plain in OTHER_NAMES:
        known = [plain]
    meant = [ours for k in known for ours in OTHER_NAMES.get(k, (k,))]
    return tuple(dict.fromkeys(meant))[:MOST_OFFERED]


def offer(name: str) -> str:
    """Return in a sentence what to write instead of an unknown name: the nearest names, or else all of them."""
    near = near_names(name)
    if near:
        return f"Did you mean {listed((_quoted(n) for n in near), 'or')}?"
    return f"Use one of: {', '.join(sorted(SEAM_STITCHES))}."


def _quoted(name: str) -> str:
    return f'"{name}"'
