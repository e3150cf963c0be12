"""Where the allowances of a seam are pressed to, and what cloth of a new patch lies on.

Words: when a patch is flipped open, both allowances of its seam lie under it: a *strip* as wide as the allowance
along the seam, on the new patch's side. Strip 2r is on the left of row r, strip 2r + 1 on its right.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final, TypeAlias

import numpy as np
import numpy.typing as npt
import shapely
from shapely import STRtree
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.tolerances import BEHIND, COVER_AREA, FLAT
from hoopwright.core.types import Mm, Mm2, Point
from hoopwright.piecing.seam_net import Chord, SeamNet, members
from hoopwright.plane.subdivision import Subdivision

Numbers: TypeAlias = npt.NDArray[np.int64]
Shapes: TypeAlias = npt.NDArray[np.object_]

MOST_REMEMBERED: Final = 4_000
"""So many pairs of strips of one panel have their shared ground remembered from plan to plan; of more, it is found anew at once."""


def strip_of(chord: Chord) -> int:
    """Return the number of the strip that a piece sewn along ``chord`` makes."""
    return 2 * chord.row + (0 if chord.on_left else 1)


def row_ends(plane: Subdivision, net: SeamNet, row: int) -> tuple[Point, Point]:
    """Return start and end of a row."""
    vertices = net.rows[row].vertices
    return plane.vertices[vertices[0]], plane.vertices[vertices[-1]]


def strip_overlaps(plane: Subdivision, net: SeamNet, allowance: Mm) -> tuple[tuple[tuple[int, Mm2], ...], ...]:
    """Return for each strip the strips that share ground with it, with the shared area."""
    strips = np.array([_strip(plane, net, s, allowance) for s in range(2 * len(net.rows))], dtype=object)
    found: list[list[tuple[int, Mm2]]] = [[] for _ in strips]
    if not len(strips):
        return ()
    one, two = STRtree(strips).query(strips)
    apart = one // 2 < two // 2
    one, two = one[apart], two[apart]
    for a, b, area in zip(one.tolist(), two.tolist(), _shared_grounds(strips, one, two), strict=True):
        if area > COVER_AREA:
            found[a].append((b, area))
            found[b].append((a, area))
    return tuple(tuple(sorted(pairs)) for pairs in found)


def _shared_grounds(strips: Shapes, one: Numbers, two: Numbers) -> list[Mm2]:
    """Return the ground that each pair of strips shares; while a drawing is in hand most pairs are those of the plan before."""
    if len(one) > MOST_REMEMBERED:
        areas: list[Mm2] = shapely.area(shapely.intersection(strips[one], strips[two])).tolist()
        return areas
    known = shapely.to_wkb(strips)
    return [_shared_ground(known[a], known[b]) for a, b in zip(one.tolist(), two.tolist(), strict=True)]


@lru_cache(maxsize=4 * MOST_REMEMBERED)
def _shared_ground(one: bytes, two: bytes) -> Mm2:
    """Return the area that two strips, given as WKB, share."""
    return float(shapely.from_wkb(one).intersection(shapely.from_wkb(two)).area)


def _strip(plane: Subdivision, net: SeamNet, strip: int, allowance: Mm) -> Polygon:
    (ax, ay), (bx, by) = row_ends(plane, net, strip // 2)
    length = math.hypot(bx - ax, by - ay)
    out = allowance if strip % 2 == 0 else -allowance
    nx, ny = -(by - ay) / length * out, (bx - ax) / length * out
    return Polygon([(ax, ay), (bx, by), (bx + nx, by + ny), (ax + nx, ay + ny)])


@dataclass(frozen=True, slots=True, eq=False)
class Reach:
    """Which earlier pieces the allowance of a new piece would lie on.

    ``shapes`` are the areas of the pieces, ``known_shapes`` the same as WKB; answers are kept in ``known``, which changes nothing but the time.
    """

    plane: Subdivision
    net: SeamNet
    allowance: Mm
    shapes: tuple[BaseGeometry, ...]
    near: tuple[int, ...]
    known_shapes: tuple[bytes, ...]
    known: dict[tuple[int, int], int] = field(default_factory=dict)
    beyond: dict[tuple[int, int], bool] = field(default_factory=dict)

    def covered(self, piece: int, chord: Chord, pieces: int) -> int:
        """Return the set of the pieces of ``pieces`` on which the allowance of ``piece`` would lie."""
        strip = strip_of(chord)
        if (piece, strip) not in self.known:
            self.known[(piece, strip)] = self._covered(piece, strip)
        return self.known[(piece, strip)] & pieces & ~(1 << piece)

    def crosses(self, piece: int, chord: Chord) -> bool:
        """Return whether ``piece`` reaches over the line of its own seam."""
        strip = strip_of(chord)
        if (piece, strip) not in self.beyond:
            self.beyond[(piece, strip)] = bool(self._heights(piece, strip).min() < -BEHIND)
        return self.beyond[(piece, strip)]

    def _heights(self, piece: int, strip: int) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
        """Return how far the corners of a piece lie from a strip's seam line, positive on the strip's side."""
        (ax, ay), (bx, by) = row_ends(self.plane, self.net, strip // 2)
        places = shapely.get_coordinates(self.shapes[piece])
        turn = 1.0 if strip % 2 == 0 else -1.0
        rise = (bx - ax) * (places[:, 1] - ay) - (by - ay) * (places[:, 0] - ax)
        heights: np.ndarray[tuple[int, ...], np.dtype[np.float64]] = turn * rise / math.hypot(bx - ax, by - ay)
        return heights

    def _covered(self, piece: int, strip: int) -> int:
        side = [q for q in members(self.near[piece]) if self._heights(q, strip).max() > FLAT]
        if not side:
            return 0
        ends = row_ends(self.plane, self.net, strip // 2)
        lain_on = _lain_on(
            self.known_shapes[piece], tuple(self.known_shapes[q] for q in side), ends, strip % 2 == 0, self.allowance
        )
        return sum(1 << q for q, lies in zip(side, lain_on, strict=True) if lies)


@lru_cache(maxsize=MOST_REMEMBERED)
def _lain_on(
    piece: bytes, others: tuple[bytes, ...], ends: tuple[Point, Point], on_left: bool, allowance: Mm
) -> tuple[bool, ...]:
    """Return on which of the others the cloth of a piece would lie, all given as WKB; most stay while one line is moved."""
    shape = shapely.from_wkb(piece)
    cloth = shape.buffer(allowance, join_style="mitre").intersection(_half_plane(shape, ends, on_left, allowance))
    return tuple(cloth.intersection(shapely.from_wkb(other)).area > COVER_AREA for other in others)


def _half_plane(shape: BaseGeometry, ends: tuple[Point, Point], on_left: bool, allowance: Mm) -> Polygon:
    """Return the part of the plane on one side of a seam line that can matter to a piece."""
    (ax, ay), (bx, by) = ends
    west, south, east, north = shape.bounds
    length = math.hypot(bx - ax, by - ay)
    reach = 4 * (math.hypot(east - west, north - south) + length + allowance)
    ux, uy = (bx - ax) / length * reach, (by - ay) / length * reach
    nx, ny = (-uy, ux) if on_left else (uy, -ux)
    return Polygon([(ax - ux, ay - uy), (ax + ux, ay + uy), (ax + ux + nx, ay + uy + ny), (ax - ux + nx, ay - uy + ny)])


def reach_of(plane: Subdivision, net: SeamNet, allowance: Mm) -> Reach:
    """Prepare the question which pieces a new piece's allowance would lie on."""
    shapes = piece_shapes(plane, net)
    near = [0] * net.count
    if net.count:
        one, two = STRtree(shapes).query(shapes, predicate="dwithin", distance=allowance)
        for a, b in zip(one.tolist(), two.tolist(), strict=True):
            if a != b:
                near[a] |= 1 << b
    return Reach(plane, net, allowance, shapes, tuple(near), tuple(s.wkb for s in shapes))


def piece_shapes(plane: Subdivision, net: SeamNet) -> tuple[BaseGeometry, ...]:
    """Return the area of each piece."""
    return tuple(
        plane.faces[faces[0]] if len(faces) == 1 else shapely.union_all([plane.faces[f] for f in faces])
        for faces in net.faces_of
    )
