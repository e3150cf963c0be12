"""Making a patch map from a subdivision: letters for the faces, numbers for the seam lines."""

from __future__ import annotations

from collections.abc import Sequence

from shapely.geometry import Polygon

from hoopwright.core.errors import GeometryError
from hoopwright.piecing.shapes import PatchMap, SeamLine
from hoopwright.plane.subdivision import Subdivision


def letter(index: int) -> str:
    """Return the letter of the face with this index: 0 is A, 25 is Z, 26 is AA, 702 is AAA."""
    word = ""
    rest = index + 1
    while rest:
        rest, place = divmod(rest - 1, 26)
        word = chr(ord("A") + place) + word
    return word


def map_of(outline: Polygon, subdivision: Subdivision, letters: Sequence[str] | None = None) -> PatchMap:
    """Return the patch map of a subdivided outline.

    Faces take the ``letters`` given, or A, B, ... Z, AA in face order. Seam lines count from 1 in chain order.
    Raises GeometryError when the letters are not one for each face, all different.
    """
    count = len(subdivision.faces)
    names = tuple(letters) if letters is not None else tuple(letter(i) for i in range(count))
    if len(names) != count or len(set(names)) != count:
        raise GeometryError(
            f"{len(names)} letters ({len(set(names))} different) for {count} patches", "Give each patch one letter"
        )
    return PatchMap(outline, subdivision, names, _seam_lines(subdivision))


def _seam_lines(plane: Subdivision) -> tuple[SeamLine, ...]:
    return tuple(
        SeamLine(i + 1, i, plane.vertices[chain.vertices[0]], plane.vertices[chain.vertices[-1]])
        for i, chain in enumerate(plane.chains)
    )
