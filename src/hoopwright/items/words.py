"""Sentences the maker reads, put together from the facts of one patch."""

from __future__ import annotations

import math
from typing import Final

from hoopwright.core.words import listed
from hoopwright.piecing.laying import mirrored
from hoopwright.piecing.shapes import Patch, PatchMap, Seam

__all__ = ["DIRECTIONS", "flip_direction", "listed", "name_of", "sewn_number"]

DIRECTIONS: Final = (
    "to the right",
    "to the upper right",
    "upwards",
    "to the upper left",
    "to the left",
    "to the lower left",
    "downwards",
    "to the lower right",
)


def name_of(patch: Patch) -> str:
    """Return "patch 3 (C)" for a patch and "section S1 (patches A, B)" for a laid section."""
    if patch.made_of is None:
        return f"patch {patch.number} ({patch.letters[0]})"
    return f"section {patch.label} (patches {', '.join(patch.letters)})"


def sewn_number(patch: Patch) -> str:
    """Return what the layout shows in a patch: its number, or S1 for a laid section."""
    return str(patch.number) if patch.made_of is None else patch.label


def flip_direction(seam: Seam) -> str:
    """Return in words where a patch opens to: across its seam, to the left of the line from start to end."""
    dx, dy = seam.end[0] - seam.start[0], seam.end[1] - seam.start[1]
    angle = math.degrees(math.atan2(dx, -dy)) % 360.0
    return DIRECTIONS[round(angle / 45.0) % 8]


def lying_order(patch: Patch, patch_map: PatchMap) -> str:
    """Return how the patches of a section lie while it is right side down, as "Seen from its wrong side, C lies ..."."""
    assert patch.seam is not None
    places = {x: mirrored(patch_map.polygon(x), patch.seam).centroid for x in patch.letters}
    wide = _spread([p.x for p in places.values()]) >= _spread([p.y for p in places.values()])
    first, last = ("on the left", "on the right") if wide else ("at the top", "at the bottom")
    row = sorted(patch.letters, key=lambda x: (places[x].x if wide else -places[x].y, x))
    between = f", then {', '.join(row[1:-1])}" if row[1:-1] else ""
    return f"Seen from its wrong side, {row[0]} lies {first}{between} and {row[-1]} {last}"


def _spread(values: list[float]) -> float:
    return max(values) - min(values)
