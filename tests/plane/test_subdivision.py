from __future__ import annotations

import random
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from hoopwright.plane.subdivision import OUTSIDE, reading_order, subdivide

SQUARE = box(0, 0, 100, 100)
Segment = tuple[tuple[float, float], tuple[float, float]]


def random_lines(seed: int, count: int) -> list[Segment]:
    rng = random.Random(seed)

    def place() -> tuple[float, float]:
        return (rng.uniform(-20, 120), rng.uniform(-20, 120))

    return [(place(), place()) for _ in range(count)]


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10**6), count=st.integers(0, 25))
def test_faces_fill_the_region_and_euler_holds(seed: int, count: int) -> None:
    plane = subdivide(SQUARE, random_lines(seed, count))
    assert sum(f.area for f in plane.faces) == pytest.approx(SQUARE.area, abs=0.05)
    # faces without holes that fill a disc: vertices - edges + faces = 1 (Euler)
    if not any(f.interiors for f in plane.faces):
        assert len(plane.vertices) - len(plane.edges) + len(plane.faces) == 1


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10**6), count=st.integers(1, 15))
def test_every_inner_edge_is_in_one_chain_and_has_its_faces_beside_it(seed: int, count: int) -> None:
    plane = subdivide(SQUARE, random_lines(seed, count))
    inner = [i for i, e in enumerate(plane.edges) if e.right != OUTSIDE]
    assert sorted(e for c in plane.chains for e in c.edges) == inner
    for edge in plane.edges:
        a, b = plane.vertices[edge.start], plane.vertices[edge.end]
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        for face in {edge.left, edge.right} - {OUTSIDE}:
            assert plane.faces[face].boundary.distance(box(*middle, *middle).centroid) < 1e-3


def test_full_lines_cut_by_the_known_formula() -> None:
    # n lines across a disc, no three through a point: 1 + n + inner crossings faces (Steiner 1826)
    lines: list[Segment] = [
        ((-10, 20), (110, 30)),
        ((-10, 80), (110, 60)),
        ((30, -10), (50, 110)),
        ((70, -10), (60, 110)),
    ]
    assert len(subdivide(SQUARE, lines).faces) == 1 + 4 + 4
    assert len(subdivide(SQUARE, lines).chains) == 4


def test_faces_are_read_like_a_page() -> None:
    faces = [box(x, y, x + 10, y + 9) for y in (0, 10, 20) for x in (20, 0, 10)]
    order = reading_order([f if i % 2 else Polygon(f.exterior) for i, f in enumerate(faces)])
    assert [(f.bounds[1], f.bounds[0]) for f in order] == [(y, x) for y in (20, 10, 0) for x in (0, 10, 20)]


def test_a_region_with_a_hole_keeps_it() -> None:
    ring = Polygon(SQUARE.exterior.coords, [box(40, 40, 60, 60).exterior.coords])
    plane = subdivide(ring, [((0, 50), (100, 50))])
    assert len(plane.faces) == 2
    assert sum(f.area for f in plane.faces) == pytest.approx(ring.area)


@pytest.mark.bench
def test_two_hundred_lines_take_less_than_a_third_of_a_second() -> None:
    lines = random_lines(1, 200)
    times = []
    for _ in range(5):
        start = time.perf_counter()
        faces = len(subdivide(SQUARE, lines).faces)
        times.append(time.perf_counter() - start)
    print(f"{faces} faces, best {min(times) * 1000:.0f} ms, worst {max(times) * 1000:.0f} ms")
    assert min(times) < 0.3
