"""Patch maps with chosen seam numbers, and turned ones."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from shapely.geometry import Polygon

from hoopwright.core.types import Degrees, Point
from hoopwright.piecing.shapes import PatchMap, SeamLine
from hoopwright.plane.subdivision import Subdivision


def map_with(
    outline: Polygon, plane: Subdivision, names: Sequence[str], numbers: Mapping[int, int] | None = None
) -> PatchMap:
    """Return the patch map of a subdivision.

    ``names[i]`` is the letter of face i. ``numbers`` gives a seam number for some chains; the others are counted on
    from the highest one in the order of the chains.
    """
    known = dict(numbers or {})
    following = max(known.values(), default=0) + 1
    for chain in range(len(plane.chains)):
        if chain not in known:
            known[chain] = following
            following += 1
    seams = tuple(_seam_line(plane, chain, number) for chain, number in sorted(known.items(), key=lambda i: i[1]))
    return PatchMap(outline, plane, tuple(names), seams)


def chain_numbers(plane: Subdivision, made: Sequence[tuple[int, Point, Point]]) -> dict[int, int]:
    """Return for each chain the number, counted from 1, of the first of the cuts (index, ends) that lies on it."""
    at = {v: i for i, v in enumerate(plane.vertices)}
    through: dict[int, set[int]] = {}
    for number, chain in enumerate(plane.chains):
        for vertex in chain.vertices:
            through.setdefault(vertex, set()).add(number)
    numbers: dict[int, int] = {}
    for index, start, end in made:
        shared = through.get(at.get(start, -1), set()) & through.get(at.get(end, -1), set())
        for chain_number in shared:
            numbers.setdefault(chain_number, index + 1)
    return numbers


def _seam_line(plane: Subdivision, chain: int, number: int) -> SeamLine:
    ends = plane.chains[chain].vertices
    return SeamLine(number, chain, plane.vertices[ends[0]], plane.vertices[ends[-1]])


def turned_map(patches: PatchMap, angle: Degrees) -> PatchMap:
    """Return the map turned counter-clockwise about the origin, then moved so that its bounding box is centred."""
    if angle % 360.0 == 0.0:
        return patches
    cosine, sine = _direction(angle % 360.0)

    def spin(p: Sequence[float]) -> Point:
        return (cosine * p[0] - sine * p[1], sine * p[0] + cosine * p[1])

    rim = [spin(p) for p in patches.outline.exterior.coords]
    across = (min(p[0] for p in rim) + max(p[0] for p in rim)) / 2.0
    up = (min(p[1] for p in rim) + max(p[1] for p in rim)) / 2.0

    def move(p: Sequence[float]) -> Point:
        x, y = spin(p)
        return (x - across, y - up)

    def area(face: Polygon) -> Polygon:
        return Polygon([move(p) for p in face.exterior.coords], [[move(p) for p in r.coords] for r in face.interiors])

    old = patches.plane
    faces = tuple(area(f) for f in old.faces)
    plane = Subdivision(tuple(move(v) for v in old.vertices), old.edges, faces, old.chains, old.rim)
    seams = tuple(SeamLine(s.number, s.chain, move(s.start), move(s.end)) for s in patches.seams)
    return PatchMap(area(patches.outline), plane, patches.letters, seams)


def _direction(angle: Degrees) -> Point:
    """Return cosine and sine, exact at quarter turns."""
    exact = {90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}
    return exact.get(angle, (math.cos(math.radians(angle)), math.sin(math.radians(angle))))
