"""Maps of holes and thread against plain counting, place by place, without tables."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, box

from hoopwright.checks.build_up import MOST
from hoopwright.needle.maps import KERNEL, hole_map, thread_map
from hoopwright.needle.needlework import needlework
from hoopwright.needle.shapes import Hooping
from tests.checks.drawn import Row, lattice, satin, thinned, walk
from tests.checks.hand_made import plan_of

SEEDS = range(6)


def hooping(rows: list[Row]) -> Hooping:
    return plan_of(*rows).hoopings[0]


@pytest.mark.parametrize("seed", SEEDS)
def test_the_hole_map_counts_every_different_hole_within_reach(seed: int) -> None:
    rows = walk(seed)
    holes = {p for row in rows for p in row}
    map_ = hole_map(hooping(rows))
    for i in range(map_.counts.shape[0]):
        for j in range(map_.counts.shape[1]):
            at = (map_.origin[0] + map_.cell * i, map_.origin[1] + map_.cell * j)
            near = [math.dist(at, p) for p in holes]
            sure = sum(d < KERNEL - 1e-9 for d in near)
            assert sure <= map_.counts[i, j] <= sum(d <= KERNEL + 1e-9 for d in near)
    assert map_.worst()[0] == map_.counts.max()


def test_the_hole_map_reaches_all_round_and_every_hole_is_in_it() -> None:
    map_ = hole_map(hooping([[(0.3, 0.2), (7.7, -3.1)]]))
    edge = np.concatenate([map_.counts[0], map_.counts[-1], map_.counts[:, 0], map_.counts[:, -1]])
    assert edge.max() <= 1 and map_.counts.max() == 1
    assert map_.density.max() == pytest.approx(1 / math.pi)


@pytest.mark.parametrize("pitch", [0.5, 0.6, 0.8, 1.0])
def test_the_density_of_an_even_grid_is_that_of_the_grid(pitch: float) -> None:
    map_ = hole_map(hooping(thinned(lattice(40, pitch), 3)))
    inner = map_.density[6:-6, 6:-6]
    assert inner.mean() == pytest.approx(1 / pitch**2, rel=0.06)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_thread_map_measures_the_thread_on_each_square(seed: int) -> None:
    rows = walk(seed)
    map_ = thread_map(hooping(rows))
    lines = [LineString(pair) for row in rows for pair in pairwise(row) if pair[0] != pair[1]]
    assert map_.thread.sum() == pytest.approx(sum(part.length for part in lines), rel=1e-9)
    exact = np.zeros_like(map_.thread)
    for i in range(exact.shape[0]):
        for j in range(exact.shape[1]):
            x, y = map_.place(i, j)
            square = box(x - 1, y - 1, x + 1, y + 1)
            exact[i, j] = shapely.length(shapely.intersection(lines, square)).sum() / 4.0
    assert np.abs(exact - map_.thread).max() < 0.12 * exact.max()


@pytest.mark.parametrize(("width", "spacing"), [(2.0, 0.4), (4.0, 0.4), (4.0, 0.5), (6.0, 0.35)])
def test_a_column_lays_as_much_thread_as_its_formula_says(width: float, spacing: float) -> None:
    """A column w wide with spacing p takes 2 sqrt(w^2 + (p/2)^2) / p mm of thread on each mm (calculated)."""
    map_ = thread_map(hooping([satin(40, width, spacing)]))
    along = map_.thread.sum() / 40.0
    assert along == pytest.approx(2 * math.hypot(width, spacing / 2) / spacing, rel=0.01)
    assert along / width < MOST


def test_maps_of_nothing_are_empty() -> None:
    nothing = plan_of().hoopings[0]
    assert hole_map(nothing).counts.size == 0 and hole_map(nothing).worst() == (0, (0.0, 0.0))
    assert thread_map(nothing).thread.size == 0


def test_a_lone_needle_position_lays_no_thread() -> None:
    lone = hooping([[(3.0, 4.0)]])
    assert thread_map(lone).thread.size == 0 and hole_map(lone).counts.max() == 1
    assert needlework(lone).place(0) == (3.0, 4.0)


def test_needlework_numbers_steps_runs_and_stitches() -> None:
    rows = [[(0.0, 0.0), (2.0, 0.0)], [(0.04, 0.0), (2.0, 3.0), (2.0, 5.0)]]
    work = needlework(hooping(rows))
    assert work.step.tolist() == [0, 0, 1, 1, 1] and work.run.tolist() == [0, 0, 1, 1, 1]
    assert work.first.tolist() == [0, 2, 3] and work.lengths[[0, 2]].tolist() == [2.0, 2.0]
    assert work.holes.tolist() == [0, 1, 3, 4]  # the third position is the first one's hole
    assert [work.step_of(k).index for k in range(5)] == [1, 1, 2, 2, 2]
