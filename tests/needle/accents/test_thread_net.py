from __future__ import annotations

import itertools
from typing import Any

import networkx as nx
import numpy as np
import pytest
from shapely.geometry import LineString

from hoopwright.core.types import Points
from hoopwright.needle.accents.thread_net import ThreadNet, bridges, thread_net


def net(*rows: list[tuple[float, float]]) -> ThreadNet:
    return thread_net(tuple(np.array(row, dtype=np.float64) for row in rows))


def oracle(of: ThreadNet) -> set[int]:
    """The bridges by networkx, which takes no parallel edges: those are none, and are told apart beforehand."""
    pairs = [frozenset(pair) for pair in of.ends.tolist()]
    simple: Any = nx.Graph([tuple(pair) for pair in of.ends.tolist() if pair[0] != pair[1]])
    found = {frozenset(pair) for pair in nx.bridges(simple)}
    return {k for k, pair in enumerate(pairs) if pair in found and pairs.count(pair) == 1}


def walk(seed: int, count: int) -> Points:
    return np.random.default_rng(seed).uniform(0.0, 10.0, (count, 2))


def test_a_crossing_is_a_knot_and_a_bend_is_none() -> None:
    made = net([(0, 0), (4, 4)], [(0, 4), (4, 0)])
    assert sorted(made.degrees().tolist()) == [1, 1, 1, 1, 4]
    assert len(net([(0, 0), (4, 4), (8, 0)]).stretches) == 1


def test_passes_on_each_other_count_once() -> None:
    there_and_back = net([(0, 0), (4, 0), (8, 0), (4, 0), (0, 0)])
    assert len(there_and_back.stretches) == 1
    assert bridges(there_and_back) == (0,)


def test_a_ring_has_no_bridges_and_a_tail_is_one() -> None:
    assert bridges(net([(0, 0), (4, 0), (4, 4), (0, 4), (0, 0)])) == ()
    tailed = net([(0, 0), (4, 0), (4, 4), (0, 4), (0, 0), (-3, 0)])
    (bridge,) = bridges(tailed)
    assert tailed.stretches[bridge].length == pytest.approx(3.0)


def test_two_rings_on_one_thread_hang_by_it() -> None:
    rings = net([(1, 0), (0, 1), (-1, 0), (0, -1), (1, 0), (5, 0), (6, 1), (7, 0), (6, -1), (5, 0)])
    (bridge,) = bridges(rings)
    assert rings.stretches[bridge].length == pytest.approx(4.0)
    assert set(rings.parts(np.arange(len(rings.stretches)) != bridge).tolist()) == {0, 1}


def test_two_stretches_between_the_same_knots_are_no_bridges() -> None:
    lens = net([(-2, 0), (0, 0), (2, 1), (4, 0), (6, 0)], [(0, 0), (2, -1), (4, 0)])
    assert len(bridges(lens)) == 2
    assert all(lens.stretches[k].length == pytest.approx(2.0) for k in bridges(lens))


@pytest.mark.parametrize("seed", range(25))
def test_bridges_are_those_that_another_library_finds(seed: int) -> None:
    made = thread_net((walk(seed, 4 + seed), walk(1000 + seed, 3)))
    assert set(bridges(made)) == oracle(made)


@pytest.mark.parametrize("seed", range(10))
def test_knots_are_all_crossings_that_trying_every_pair_finds(seed: int) -> None:
    row = walk(seed, 14)
    steps = [LineString(row[k : k + 2]) for k in range(len(row) - 1)]
    pairs = itertools.combinations(range(len(steps)), 2)
    crossings = sum(steps[a].intersects(steps[b]) for a, b in pairs if b - a > 1)
    made = thread_net((row,))
    assert int((made.degrees() == 4).sum()) == crossings
    assert sum(s.length for s in made.stretches) == pytest.approx(sum(s.length for s in steps), abs=0.01)


def test_parts_are_told_apart() -> None:
    assert net([(0, 0), (1, 0)], [(0, 5), (1, 5)]).parts().max() == 1
