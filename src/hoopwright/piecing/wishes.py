"""What each step of an order costs under the maker's wishes.

An order costs the weighted sum of what its steps do against each wish. Every amount depends only on the piece, its
seam and the set of pieces it is sewn onto (and, for turns, on the seam before), so the best order can be found by
walking sets of pieces instead of orders. docs/theory-order.md shows why this holds for the layers too.

The wishes, and what counts against them:
centre_outwards: pairs sewn outer before inner; large_first: pairs sewn smaller before larger (both between single
patches, for a section cannot come early); few_turns: seams that
run in another direction than the seam before; few_layers: ground on which allowances of two seams lie on each other;
light_over_dark: length of seams on which a light cloth is flipped over the allowance of a darker one; clear_of_patches:
steps whose allowance would lie on finished patches and must be cut away there (always counts, no setting).
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from shapely.geometry import Point as Place

from hoopwright.core.types import Degrees, Mm, Mm2
from hoopwright.piecing.order_strips import Reach, piece_shapes, reach_of, row_ends, strip_of, strip_overlaps
from hoopwright.piecing.seam_net import Chord, SeamNet
from hoopwright.piecing.shapes import PatchMap
from hoopwright.project.schema import WishesModel

SCALE = 1_000_000
"""Costs are whole numbers of this many parts, so that sums do not depend on their order."""

WISHES = ("centre_outwards", "few_turns", "few_layers", "light_over_dark", "large_first", "clear_of_patches")
"""The wishes in the order in which they are told; the first five are the settings of the same name."""

CLEAR_WEIGHT = 4.0
"""Weight of keeping allowances off finished patches."""

NEARER: Mm = 1.0
"""A piece is nearer to the middle than another when its own middle is nearer by more than this (a placing error)."""

LARGER = 1.05
"""A piece is larger than another when its area is more than this many times the other's."""

TURN: Degrees = 15.0
"""Two seams run in the same direction when they differ by no more."""

LIGHTER = 10.0
"""Difference in lightness L* from which a darker allowance is taken to show through a lighter cloth."""


@dataclass(frozen=True, slots=True, eq=False)
class Pricing:
    """Prices of the steps in one net. ``weights`` and ``full`` (the amount that counts as 1) go with WISHES.

    ``nearer[p]``, ``larger[p]`` are sets of pieces; ``direction[row]`` in degrees, 0 to 180; ``show[edge]`` is the
    length on which a darker allowance would show when the piece on the left, or on the right, is sewn on later.
    ``lies_on[strip]`` is the set of the strips that ``overlaps`` names for it. ``known_shown`` keeps answers, which changes
    nothing but the time.
    """

    net: SeamNet
    weights: tuple[float, ...]
    full: tuple[float, ...]
    distance: tuple[Mm, ...]
    area: tuple[Mm2, ...]
    nearer: tuple[int, ...]
    larger: tuple[int, ...]
    direction: tuple[Degrees, ...]
    show: tuple[tuple[Mm, Mm], ...]
    overlaps: tuple[tuple[tuple[int, Mm2], ...], ...]
    reach: Reach
    lies_on: tuple[int, ...]
    known_shown: dict[tuple[int, int], int] = field(default_factory=dict)

    def amounts(self, piece: int, chord: Chord | None, pieces: int, strips: int, turns: bool) -> tuple[float, ...]:
        """Return what a step does against each of WISHES.

        ``piece`` completes the set ``pieces`` along ``chord`` (None: it is the first); ``strips`` are those of the
        later steps; ``turns`` says whether the next seam runs in another direction.
        """
        later = self.net.everything & ~pieces
        inner = float((self.nearer[piece] & later).bit_count())
        bigger = float((self.larger[piece] & later).bit_count())
        if chord is None:
            return (inner, 0.0, 0.0, 0.0, bigger, 0.0)
        layers = sum(area for other, area in self.overlaps[strip_of(chord)] if strips >> other & 1)
        unclear = bool(self.reach.covered(piece, chord, pieces)) or self.reach.crosses(piece, chord)
        return (inner, float(turns), layers, self.shown(piece, pieces), bigger, float(unclear))

    def shown(self, piece: int, pieces: int) -> Mm:
        """Return the length on which darker allowances show through ``piece`` when it completes ``pieces``."""
        length = 0.0
        for e in self.net.edges_of[piece]:
            edge = self.net.edges[e]
            if pieces >> self.net.other(e, piece) & 1:
                length += self.show[e][0 if edge.left == piece else 1]
        return length

    def price(self, amounts: Sequence[float]) -> int:
        """Return the weighted cost of amounts, in whole parts of 1 / SCALE."""
        return sum(self.part(wish, amount) for wish, amount in enumerate(amounts) if amount)

    def step_price(self, piece: int, chord: Chord | None, pieces: int, strips: int) -> int:
        """Return ``price(amounts(piece, chord, pieces, strips, turns=False))``, put together from parts that are known."""
        later = self.net.everything & ~pieces
        cost = self.part(0, (self.nearer[piece] & later).bit_count())
        cost += self.part(4, (self.larger[piece] & later).bit_count())
        if chord is None:
            return cost
        strip = strip_of(chord)
        if self.lies_on[strip] & strips:
            cost += self.part(2, sum(area for other, area in self.overlaps[strip] if strips >> other & 1))
        if self.reach.covered(piece, chord, pieces) or self.reach.crosses(piece, chord):
            cost += self.part(5, 1.0)
        key = (piece, pieces & self.net.touching[piece])
        if key not in self.known_shown:
            self.known_shown[key] = self.part(3, self.shown(piece, pieces))
        return cost + self.known_shown[key]

    def part(self, wish: int, amount: float) -> int:
        """Return what ``amount`` costs against one of WISHES, in whole parts of 1 / SCALE."""
        return round(SCALE * self.weights[wish] * amount / self.full[wish]) if amount else 0

    def turns(self, one: int, two: int) -> bool:
        """Return whether two rows run in different directions."""
        gap = abs(self.direction[one] - self.direction[two])
        return min(gap, 180.0 - gap) > TURN


def pricing_of(
    patch_map: PatchMap, net: SeamNet, wishes: WishesModel, lightness: Mapping[str, float], allowance: Mm
) -> Pricing:
    """Prepare the prices of one net of a map. ``lightness`` is L* of the cloth by letter, and may miss letters."""
    plane = patch_map.plane
    shapes = piece_shapes(plane, net)
    middle: Place = patch_map.outline.centroid
    distance = tuple(shape.centroid.distance(middle) for shape in shapes)
    area = tuple(shape.area for shape in shapes)
    overlaps = strip_overlaps(plane, net, allowance)
    plain = sum(1 << p for p, faces in enumerate(net.faces_of) if len(faces) == 1)
    lights = [lightness.get(name) for name in patch_map.letters]
    return Pricing(
        net=net,
        weights=(*(float(getattr(wishes, name)) for name in WISHES[:-1]), CLEAR_WEIGHT),
        full=_full(net, plain.bit_count(), allowance),
        distance=distance,
        area=area,
        nearer=_between(plain, _below(distance, [d - NEARER for d in distance])),
        larger=_between(plain, _below([-a for a in area], [-a * LARGER for a in area])),
        direction=tuple(_direction(row_ends(plane, net, r)) for r in range(len(net.rows))),
        show=tuple(_shows(lights[e.left_face], lights[e.right_face], e.length) for e in net.edges),
        overlaps=overlaps,
        reach=reach_of(plane, net, allowance),
        lies_on=tuple(sum(1 << other for other, _ in pairs) for pairs in overlaps),
    )


def _full(net: SeamNet, plain: int, allowance: Mm) -> tuple[float, ...]:
    n = net.count
    pairs = max(1.0, plain * (plain - 1) / 2)
    length = sum(e.length for e in net.edges) or 1.0
    return (pairs, max(1.0, n - 2.0), length * allowance, length, pairs, max(1.0, n - 1.0))


def _below(values: Sequence[float], limits: Sequence[float]) -> tuple[int, ...]:
    """Return for each limit the set of the numbers whose value is less."""
    ranked = sorted(range(len(values)), key=lambda i: (values[i], i))
    ordered = [values[i] for i in ranked]
    sets = [0]
    for i in ranked:
        sets.append(sets[-1] | 1 << i)
    return tuple(sets[bisect_left(ordered, limit)] for limit in limits)


def _between(plain: int, sets: tuple[int, ...]) -> tuple[int, ...]:
    """Keep only single patches, in the sets and as their owners."""
    return tuple(s & plain if plain >> p & 1 else 0 for p, s in enumerate(sets))


def _direction(ends: tuple[tuple[float, float], tuple[float, float]]) -> Degrees:
    (ax, ay), (bx, by) = ends
    return round(math.degrees(math.atan2(by - ay, bx - ax)), 2) % 180.0


def _shows(left: float | None, right: float | None, length: Mm) -> tuple[Mm, Mm]:
    if left is None or right is None:
        return (0.0, 0.0)
    return (length if left - right > LIGHTER else 0.0, length if right - left > LIGHTER else 0.0)
