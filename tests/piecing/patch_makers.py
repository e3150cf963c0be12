"""Small panels with their orders, put together by hand for the tests of patches."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from shapely.geometry import LineString, Polygon, box
from shapely.ops import linemerge

from hoopwright.core.types import Point
from hoopwright.piecing.patch_map_basics import map_of
from hoopwright.piecing.shapes import Member, PatchMap, Seam, Section, SewingOrder
from hoopwright.plane.subdivision import OUTSIDE, subdivide
from hoopwright.project.schema import ClothModel

CLOTHS: Mapping[str, ClothModel] = {
    "sail": ClothModel(name="Sail linen", colour="#e8e0cc"),
    "tide": ClothModel(name="Tide blue", colour="#1f4e79"),
    "reed": ClothModel(name="Reed velvet", colour="#6b8e23", has_up=True),
}

TWO_CUTS: Sequence[tuple[Point, Point]] = (((-30.0, -60.0), (-10.0, 60.0)), ((-21.0, -6.0), (60.0, 14.0)))


def patch_map(outline: Polygon, cuts: Sequence[tuple[Point, Point]]) -> PatchMap:
    return map_of(outline, subdivide(outline, cuts))


def letter_at(patches: PatchMap, x: float, y: float) -> str:
    """Return the letter of the patch at a place; tests name patches by places, not by the order of letters."""
    spot = box(x, y, x, y).centroid
    return next(n for n, face in zip(patches.letters, patches.plane.faces, strict=True) if face.contains(spot))


def order_of(patches: PatchMap, *sections: Sequence[str | int]) -> SewingOrder:
    """Return the order that lays the given letters, or sections by number, one section after the other."""
    made: list[Section] = []
    for index, steps in enumerate(sections):
        members: list[Member] = []
        for step in steps:
            letters = made[step - 1].letters if isinstance(step, int) else (step,)
            earlier = tuple(n for m in members for n in m.letters)
            seam = seam_between(patches, letters, earlier) if members else None
            members.append(Member(letters, step if isinstance(step, int) else None, seam, "by hand"))
        made.append(Section(index + 1, tuple(members)))
    return SewingOrder(tuple(made), 1, True, (), (), False, ())


def seam_between(patches: PatchMap, new: Sequence[str], earlier: Sequence[str]) -> Seam:
    """Return the seam along which ``new`` is sewn to ``earlier``, which must share one straight segment."""
    plane = patches.plane
    ours, theirs = {patches.face(n) for n in new}, {patches.face(n) for n in earlier}
    pieces, chains = [], set()
    for edge in plane.edges:
        sides = {edge.left, edge.right}
        if OUTSIDE not in sides and sides & ours and sides & theirs:
            ends = [plane.vertices[edge.start], plane.vertices[edge.end]]
            pieces.append(LineString(ends if edge.left in ours else ends[::-1]))
            chains.add(edge.chain)
    joined = pieces[0] if len(pieces) == 1 else linemerge(pieces, directed=True)
    assert isinstance(joined, LineString)
    assert len(chains) == 1
    (x0, y0), (x1, y1) = joined.coords[0], joined.coords[-1]
    return Seam(chains.pop() + 1, (x0, y0), (x1, y1))


def all_of(patches: PatchMap, cloth: str = "sail") -> dict[str, str]:
    return dict.fromkeys(patches.letters, cloth)


def regular(count: int, radius: float, turn: float = 0.0) -> Polygon:
    """Return a regular polygon round the origin."""
    angles = np.radians(turn) + np.arange(count) * 2.0 * np.pi / count
    return Polygon(np.column_stack([np.cos(angles), np.sin(angles)]) * radius)
