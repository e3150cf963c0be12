"""The maps and measures of the rules against plain counting, place by place, without tables."""

from __future__ import annotations

import math
import random
from itertools import combinations, pairwise

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, box

from hoopwright.checks.build_up import MOST, thread_map
from hoopwright.checks.columns import columns_of
from hoopwright.checks.holes import KERNEL, hole_map
from hoopwright.checks.needlework import needlework
from hoopwright.checks.perforation import LONGEST, PITCH, rows_do_not_tear
from hoopwright.checks.turns import SPOT, short_turns
from hoopwright.needle.shapes import Hooping
from tests.checks.drawn import Row, lattice, line, moved, satin, thinned
from tests.checks.hand_made import plan_of

SEEDS = range(6)


def walk(seed: int, count: int = 120, reach: float = 1.4) -> list[Row]:
    """Rows that wander about, on the machine's grid, crowding the middle."""
    rng = random.Random(seed)
    rows = []
    for _ in range(4):
        x, y, row = rng.uniform(-4, 4), rng.uniform(-4, 4), []
        for _ in range(count // 4):
            row.append((round(x, 1), round(y, 1)))
            x, y = 0.9 * x + rng.uniform(-reach, reach), 0.9 * y + rng.uniform(-reach, reach)
        rows.append(row)
    return rows


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


def chains(holes: list[tuple[float, float]]) -> list[set[int]]:
    """Groups of holes that hang together, by plain merging."""
    groups = [{i} for i in range(len(holes))]
    for a, b in combinations(range(len(holes)), 2):
        if math.dist(holes[a], holes[b]) <= PITCH + 1e-9:
            one, other = (next(g for g in groups if k in g) for k in (a, b))
            if one is not other:
                one |= other
                groups.remove(other)
    return groups


@pytest.mark.parametrize("turn", [0.0, 17.0, 45.0, 90.0])
@pytest.mark.parametrize(("times", "shift"), [(4, 0.5), (8, 0.25), (10, 0.2), (7, 0.2857), (9, 0.2222)])
def test_a_row_tears_when_plain_merging_makes_it_long(turn: float, times: int, shift: float) -> None:
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    rows = [moved(line(16, 2.0, turn=turn), c * shift * k, s * shift * k) for k in range(times)]
    holes = sorted({(round(x, 1), round(y, 1)): (x, y) for row in rows for x, y in row}.values())
    longest = max(max(math.dist(holes[a], holes[b]) for a in g for b in g) for g in chains(holes))
    codes = [f.code for f in rows_do_not_tear(plan_of(*rows))]
    assert codes == (["HW609"] if longest > LONGEST else [])


def test_a_patch_of_close_holes_is_no_row() -> None:
    assert rows_do_not_tear(plan_of(*thinned(lattice(24, 0.25), 5))) == ()


def test_the_longest_row_is_named() -> None:
    short, long = line(6, 0.2), moved(line(11, 0.2), 0.0, 10.0)
    (finding,) = rows_do_not_tear(plan_of(short, long))
    assert "11 mm long" in finding.message and finding.where.operation == 2


@pytest.mark.parametrize("seed", SEEDS)
def test_short_turns_are_those_a_plain_walk_finds(seed: int) -> None:
    rows = walk(seed, reach=0.6)
    found = []
    number = 0
    for row in rows:
        for k in range(1, len(row) - 1):
            a, b, c = row[k - 1 : k + 2]
            came, goes = math.dist(a, b), math.dist(b, c)
            if 0 < came < 1.0 - 1e-6 and 0 < goes < 1.0 - 1e-6:
                way = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
                if way <= -0.5 * came * goes + 1e-12:
                    found.append(number + k)
        number += len(row)
    assert found and short_turns(needlework(hooping(rows))).tolist() == found
    assert SPOT == 1.0


@pytest.mark.parametrize("turn", [0.0, 33.0, 90.0, 200.0])
@pytest.mark.parametrize("width", [0.8, 1.5, 4.0, 7.5])
def test_a_column_is_measured_square_to_its_axis(width: float, turn: float) -> None:
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    row = [(c * x - s * y, s * x + c * y) for x, y in satin(20, width)]
    (column,) = columns_of(needlework(hooping([line(10, 2.5, (-30, 0)), row])))
    assert column.width == pytest.approx(width)
    assert len(column.positions) == len(row)


def test_a_slanted_column_is_as_wide_as_its_rails_are_apart() -> None:
    slanted = [(x, y + (1.0 if x else 0.0)) for x, y in satin(20, 3.0)]
    (column,) = columns_of(needlework(hooping([slanted])))
    assert column.width == pytest.approx(3.0)


def test_runs_of_one_step_make_columns_of_their_own() -> None:
    one, other = satin(10, 3.0), satin(10, 2.0, at=(10.0, 0.0))
    widths = [c.width for c in columns_of(needlework(hooping([one, other])))]
    assert widths == pytest.approx([3.0, 2.0])
