from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.core.types import Points
from hoopwright.needle.tour import Leg, in_short_order, is_ring, sewn, short_order, travel
from hoopwright.needle.tour_search import NO_MATE, short_tour, tour_length

spot = st.tuples(st.integers(0, 80), st.integers(0, 80))


def rows_of(ends: list[tuple[tuple[int, int], tuple[int, int]]]) -> list[Points]:
    return [np.array(pair, dtype=float) for pair in ends]


def random_rows(seed: int, count: int) -> list[Points]:
    dice = np.random.default_rng(seed)
    starts = dice.random((count, 2)) * 150
    return [np.array([a, a + dice.normal(size=2) * 8]) for a in starts]


def ring(x: float, y: float, radius: float = 5.0, places: int = 24) -> Points:
    turn = np.linspace(0, 2 * math.pi, places + 1)
    circle = np.column_stack([x + radius * np.cos(turn), y + radius * np.sin(turn)])
    circle[-1] = circle[0]
    return circle


def least_travel(rows: list[Points], start: tuple[float, float] | None) -> float:
    """Oracle: every order in every direction; rings begun at every place."""
    best = math.inf
    for order in itertools.permutations(range(len(rows))):
        ways = [
            [(row, k, k) for k in range(len(rows[row]) - 1)] if is_ring(rows[row]) else [(row, 0, -1), (row, -1, 0)]
            for row in order
        ]
        for way in itertools.product(*ways):
            at, length = start, 0.0
            for row, first, last in way:
                length += 0.0 if at is None else math.dist(at, rows[row][first])
                at = tuple(rows[row][last])
            best = min(best, length)
    return best


@given(st.lists(st.tuples(spot, spot), min_size=1, max_size=4), st.none() | spot)
def test_few_rows_are_sewn_in_the_shortest_way_there_is(
    ends: list[tuple[tuple[int, int], tuple[int, int]]], start: tuple[float, float] | None
) -> None:
    rows = rows_of(ends)
    found = in_short_order(rows, start)
    assert travel(found, start) == pytest.approx(least_travel(rows, start), abs=1e-6)


@pytest.mark.parametrize("seed", range(6))
def test_six_rows_by_brute_force(seed: int) -> None:
    rows = random_rows(seed, 6)
    assert travel(in_short_order(rows)) == pytest.approx(least_travel(rows, None), abs=1e-6)


@given(st.lists(st.tuples(spot, spot), min_size=1, max_size=25), st.none() | spot)
def test_every_row_is_sewn_once_and_nothing_gets_longer(
    ends: list[tuple[tuple[int, int], tuple[int, int]]], start: tuple[float, float] | None
) -> None:
    rows = rows_of(ends)
    legs = short_order(rows, start)
    assert sorted(leg.row for leg in legs) == list(range(len(rows)))
    assert travel([sewn(rows[leg.row], leg) for leg in legs], start) <= travel(rows, start) + 1e-6


def test_rings_begin_where_they_lie_best() -> None:
    """Circles in a row: the way goes straight from the near side of the first to the near side of the last."""
    rings = [ring(x, 0) for x in (0, 60, 20, 40)]
    found = in_short_order(rings)
    assert travel(found) == pytest.approx(50.0)
    for row in found:
        assert is_ring(row)
        assert any({tuple(p) for p in row.round(9)} == {tuple(p) for p in r.round(9)} for r in rings)


@pytest.mark.parametrize("seed", range(4))
def test_small_rings_and_rows_together_by_brute_force(seed: int) -> None:
    """The order and the places of rings are chosen in turns, which may miss the best by a little."""
    dice = np.random.default_rng(seed)
    rows = [ring(x, y, places=6) for x, y in dice.random((2, 2)) * 80] + random_rows(seed, 2)
    assert travel(in_short_order(rows)) <= 1.05 * least_travel(rows, None)


@pytest.mark.parametrize("count", [40, 150])
def test_a_tour_beats_going_to_the_nearest_each_time(count: int) -> None:
    rows = random_rows(count, count)
    left, way = rows[1:], [rows[0]]
    while left:
        k, back = min(
            ((k, back) for k in range(len(left)) for back in (0, -1)),
            key=lambda pick: math.dist(way[-1][-1], left[pick[0]][pick[1]]),
        )
        row = left.pop(k)
        way.append(row[::-1] if back else row)
    assert travel(in_short_order(rows)) < 0.9 * travel(way)


@pytest.mark.no_cover
def test_more_rows_than_are_ordered_at_once() -> None:
    rows = random_rows(7, 620)
    legs = short_order(rows, (0.0, 0.0))
    assert sorted(leg.row for leg in legs) == list(range(620))
    assert travel([sewn(rows[leg.row], leg) for leg in legs]) < 0.1 * travel(rows)


def test_the_same_rows_give_the_same_order() -> None:
    rows = random_rows(3, 80)
    assert short_order(rows) == short_order([r.copy() for r in rows])
    assert short_order([]) == ()
    assert short_order(rows[:1]) == (Leg(0),)


@pytest.mark.parametrize("seed", range(5))
def test_mates_stay_beside_each_other(seed: int) -> None:
    dice = np.random.default_rng(seed)
    spots = dice.random((40, 2)) * 100
    costs = np.hypot(*(spots[:, None] - spots[None]).transpose(2, 0, 1))
    mates = [NO_MATE if k >= 30 else k ^ 1 for k in range(40)]
    tour = short_tour(costs, mates, 400)
    assert sorted(tour) == list(range(40))
    beside = {frozenset(pair) for pair in zip(tour, [*tour[1:], tour[0]], strict=True)}
    assert all(frozenset((k, k ^ 1)) in beside for k in range(30))
    assert tour_length(costs, tour) <= tour_length(costs, range(40))
