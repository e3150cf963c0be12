"""Sentences the maker reads, put together from the facts of one patch."""

from __future__ import annotations

import math
from typing import Final

from shapely.geometry import LineString

from hoopwright.core.tolerances import ON_SEAM
from hoopwright.core.words import listed
from hoopwright.piecing.laying import mirrored
from hoopwright.piecing.shapes import Patch, PatchMap, PiecedPanel, Seam

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


def seam_between(patch: Patch, panel: PiecedPanel) -> str:
    """Return the seam of a patch by the numbers the layout shows on its two sides, as "the seam between 1 and 2"."""
    assert patch.seam is not None
    line = LineString([patch.seam.start, patch.seam.end])
    section = panel.of_section(patch.section)
    earlier = section[: section.index(patch)]
    across = [sewn_number(p) for p in earlier if p.area.buffer(ON_SEAM).intersection(line).length > 1.0]
    if len(across) > 1:
        return f"the seam between {sewn_number(patch)} on one side and {listed(across)} on the other"
    return f"the seam between {across[0]} and {sewn_number(patch)}" if across else "the seam line"


def beside_seam(panel: PiecedPanel, seam: int) -> str:
    """Return which patches lie on the two sides of a seam, by their numbers: "between patch 4 and patches 1 and 2"."""
    plane = panel.map.plane
    chain = plane.chains[next(s.chain for s in panel.map.seams if s.number == seam)]
    numbers = {x: p.number for p in panel.patches if p.made_of is None for x in p.letters}
    sides: tuple[list[int], list[int]] = ([], [])
    for start, index in zip(chain.vertices, chain.edges, strict=False):
        edge = plane.edges[index]
        faces = (edge.left, edge.right) if edge.start == start else (edge.right, edge.left)
        for side, face in zip(sides, faces, strict=True):
            side.append(numbers[panel.map.letters[face]])
    left, right = ([str(n) for n in dict.fromkeys(side)] for side in sides)
    if len(left) == len(right) == 1:
        return f"between patches {left[0]} and {right[0]}"
    return f"between {_patches(left)} and {_patches(right)}"


def _patches(numbers: list[str]) -> str:
    return f"patch{'es' * (len(numbers) > 1)} {listed(numbers)}"


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
