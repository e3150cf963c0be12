"""Orders and sections against published and enumerated numbers.

Number of generic rectangle partitions: OEIS A342141. The numbers of orders of the named drawings and the numbers of
partitions that can be sewn were worked out by hand or by brute force in whole numbers (see also
tests/properties/test_orders_brute_force.py).
"""

from __future__ import annotations

import math
from functools import cache

import pytest
import shapely
from shapely.geometry import Polygon, box

from hoopwright.piecing.counting import OrderCount, count_orders
from hoopwright.piecing.order import sewing_order
from hoopwright.piecing.patch_map_basics import map_of
from hoopwright.piecing.peeling import peel
from hoopwright.piecing.seam_net import net_of
from hoopwright.piecing.shapes import PatchMap
from hoopwright.plane.subdivision import subdivide, subdivision_of
from tests.reference.rectangle_partitions import Tiling, kinds

Segment = tuple[tuple[float, float], tuple[float, float]]


def drawn(region: Polygon, *segments: Segment) -> PatchMap:
    return map_of(region, subdivide(region, segments))


def square(*segments: Segment) -> PatchMap:
    return drawn(box(0, 0, 60, 60), *segments)


def from_faces(*corners: list[tuple[float, float]]) -> PatchMap:
    faces = [Polygon(c) for c in corners]
    outline = shapely.union_all(faces)
    assert isinstance(outline, Polygon)
    return map_of(outline, subdivision_of(faces))


def grid(columns: int, rows: int) -> PatchMap:
    upright = [((10.0 * i, 0.0), (10.0 * i, 10.0 * rows)) for i in range(1, columns)]
    level = [((0.0, 10.0 * j), (10.0 * columns, 10.0 * j)) for j in range(1, rows)]
    return drawn(box(0, 0, 10 * columns, 10 * rows), *upright, *level)


def strips(count: int) -> PatchMap:
    return grid(count, 1)


T_OF_THREE = square(((0, 30), (60, 30)), ((30, 30), (30, 60)))
FLYING_GEESE = drawn(box(0, 0, 60, 30), ((0, 0), (30, 30)), ((30, 30), (60, 0)))
SQUARE_IN_SQUARE = square(((30, 0), (60, 30)), ((60, 30), (30, 60)), ((30, 60), (0, 30)), ((0, 30), (30, 0)))
OPPOSITE_FIRST = square(((20, 20), (20, 40)), ((40, 20), (40, 40)), ((0, 20), (60, 20)), ((0, 40), (60, 40)))
ROUNDS = 4


def spiral(rounds: int) -> PatchMap:
    """A middle with strips laid round it: below, right, above, left, below ..."""
    faces = [(0.0, 0.0, 10.0, 10.0)]
    x, y, u, v = faces[0]
    for _ in range(rounds):
        faces += [(x, y - 10, u, y), (u, y - 10, u + 10, v), (x, v, u + 10, v + 10), (x - 10, y - 10, x, v + 10)]
        x, y, u, v = x - 10, y - 10, u + 10, v + 10
    lines = [s for a, b, c, d in faces for s in _sides(a, b, c, d)]
    return drawn(box(x, y, u, v), *lines)


def _sides(a: float, b: float, c: float, d: float) -> list[Segment]:
    return [((a, b), (c, b)), ((c, b), (c, d)), ((c, d), (a, d)), ((a, d), (a, b))]


SPINE = from_faces(
    [(0, 0), (120, 0), (120, 20), (80, 20), (40, 20), (0, 20)],
    [(0, 20), (40, 20), (20, 50)],
    [(40, 20), (80, 20), (60, 50)],
    [(80, 20), (120, 20), (100, 50)],
)
"""Three teeth that meet each other only at points of the spine's line."""


@pytest.mark.parametrize(
    ("patch_map", "patches", "orders"),
    [
        *((strips(n), n, 2 ** (n - 1)) for n in (1, 2, 5, 12, 40)),
        (T_OF_THREE, 3, 2),
        (FLYING_GEESE, 3, 4),
        (SQUARE_IN_SQUARE, 5, 48),
        (spiral(ROUNDS), 1 + 4 * ROUNDS, 2),
        (OPPOSITE_FIRST, 5, 8),
        (SPINE, 4, 12),
    ],
)
def test_number_of_orders(patch_map: PatchMap, patches: int, orders: int) -> None:
    assert len(patch_map.letters) == patches
    assert count_orders(net_of(patch_map.plane)) == OrderCount(orders, True)
    order = sewing_order(patch_map)
    assert (order.count, order.count_exact, len(order.sections)) == (orders, True, 1)


STEM_UP, STEM_DOWN = ((20.0, 30.0), (20.0, 60.0)), ((40.0, 0.0), (40.0, 30.0))
H = square(((0, 30), (60, 30)), STEM_UP, STEM_DOWN)
BRICK_BOND = square(
    ((0, 20), (60, 20)),
    ((0, 40), (60, 40)),
    ((20, 0), (20, 20)),
    ((40, 0), (40, 20)),
    ((30, 20), (30, 40)),
    ((20, 40), (20, 60)),
    ((40, 40), (40, 60)),
)
QUARTERS = square(((0, 0), (60, 60)), ((0, 60), (60, 0)))
WINDMILL = square(((0, 20), (40, 20)), ((40, 0), (40, 40)), ((20, 40), (60, 40)), ((20, 20), (20, 60)))
PINWHEEL = square(((0, 0), (60, 60)), ((0, 60), (60, 0)), ((30, 0), (30, 60)), ((0, 30), (60, 30)))
RING = drawn(
    Polygon(box(0, 0, 60, 60).exterior, [box(20, 20, 40, 40).exterior]),
    ((0, 20), (20, 20)),
    ((40, 20), (60, 20)),
    ((0, 40), (20, 40)),
    ((40, 40), (60, 40)),
)
"""Four strips round a hole; the one above and the one below meet each side strip, all in one line, with the hole between."""


@pytest.mark.parametrize(
    ("patch_map", "patches", "sections"),
    [
        (grid(2, 2), 4, 2),
        (grid(3, 3), 9, 3),
        (QUARTERS, 4, 2),
        (H, 4, 2),
        (BRICK_BOND, 8, 3),
        (WINDMILL, 5, 0),
        (PINWHEEL, 8, 2),
        (RING, 4, 0),
    ],
)
def test_drawings_that_one_foundation_cannot_bear(patch_map: PatchMap, patches: int, sections: int) -> None:
    assert len(patch_map.letters) == patches
    order = sewing_order(patch_map)
    assert order.count == 0
    assert order.count_exact
    assert len(order.sections) == sections
    assert order.sewable == (sections > 0)
    assert not order.bounded


@pytest.mark.parametrize(("columns", "rows"), [(2, 3), (2, 6), (3, 4), (4, 4), (3, 7), (5, 5), (4, 6)])
def test_a_grid_needs_as_many_sections_as_its_shorter_side(columns: int, rows: int) -> None:
    order = sewing_order(grid(columns, rows))
    assert len(order.sections) == min(columns, rows)
    assert not order.bounded


def test_the_spine_is_never_taken_off_first() -> None:
    """As a set of points the spine's boundary is one segment; taking the spine off would strand the teeth."""
    net = net_of(SPINE.plane)
    assert peel(net).taken[0] != 0
    assert peel(net).core.bit_count() == 1


def test_a_ring_round_a_hole_is_stuck_as_a_whole() -> None:
    """Two pieces of boundary in one line are two seams: no strip of the ring can be last."""
    assert peel(net_of(RING.plane)).taken == ()
    assert set(sewing_order(RING).stuck) == set(RING.letters)


@cache
def partitions(n: int) -> tuple[Tiling, ...]:
    return tuple(kinds(n).values())


def partition_map(tiling: Tiling) -> PatchMap:
    region = box(0, 0, 10 * max(r for _, _, r, _ in tiling), 10 * max(t for _, _, _, t in tiling))
    return drawn(region, *(s for a, b, c, d in tiling for s in _sides(10 * a, 10 * b, 10 * c, 10 * d)))


@pytest.mark.parametrize(("n", "number"), [(1, 1), (2, 2), (3, 6), (4, 24), (5, 116), (6, 642)])
def test_number_of_generic_partitions(n: int, number: int) -> None:
    """OEIS A342141."""
    assert len(partitions(n)) == number


@pytest.mark.parametrize(
    ("n", "needed"),
    [
        (1, {1: 1}),
        (2, {1: 2}),
        (3, {1: 6}),
        (4, {1: 20, 2: 4}),
        (5, {1: 68, 2: 46, 0: 2}),
        (6, {1: 232, 2: 350, 3: 24, 0: 36}),
    ],
)
def test_sections_that_generic_partitions_need(n: int, needed: dict[int, int]) -> None:
    """On one foundation 1, 2, 6, 20, 68, 232: a(n) = 4 a(n-1) - 2 a(n-2); the rest by enumeration."""
    found: dict[int, int] = {}
    for tiling in partitions(n):
        sections = len(sewing_order(partition_map(tiling)).sections)
        found[sections] = found.get(sections, 0) + 1
    assert found == needed


def test_strips_in_a_turned_frame_count_the_same() -> None:
    angle = math.radians(37.0)
    along, across = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))

    def place(u: float, v: float) -> tuple[float, float]:
        return (u * along[0] + v * across[0], u * along[1] + v * across[1])

    region = Polygon([place(0, 0), place(110, 0), place(110, 40), place(0, 40)])
    turned = drawn(region, *((place(10.0 * i, -5), place(10.0 * i, 45)) for i in range(1, 11)))
    assert count_orders(net_of(turned.plane)).number == 2**10
