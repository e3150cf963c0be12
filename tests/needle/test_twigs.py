from __future__ import annotations

import itertools
import math

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, box

from hoopwright.needle import routing
from hoopwright.needle.network import Network, network_of
from hoopwright.needle.routing import WalkWish, one_walk, walks
from hoopwright.needle.twigs import twigs_of


def tree(seed: int, size: int) -> list[LineString]:
    """A tree of straight stretches on a grid: each place but the first is joined to one that stands already."""
    dice = np.random.default_rng(seed)
    known, lines = {(0, 0)}, []
    while len(known) < size:
        x, y = sorted(known)[dice.integers(len(known))]
        dx, dy = [(1, 0), (0, 1), (-1, 0), (0, -1)][dice.integers(4)]
        if (x + dx, y + dy) not in known:
            known.add((x + dx, y + dy))
            lines.append(LineString([(7.0 * x, 5.0 * y), (7.0 * (x + dx), 5.0 * (y + dy))]))
    return lines


def longest(network: Network) -> float:
    graph: nx.Graph[int] = nx.Graph()
    for (a, b), length in zip(network.joins, network.lengths, strict=True):
        graph.add_edge(a, b, weight=length)
    ways = nx.all_pairs_dijkstra_path_length(graph)
    return max(max(far.values()) for _, far in ways)


@pytest.mark.parametrize("seed", [1, 2, 3, 4])
def test_of_a_tree_all_is_retraced_but_its_longest_way(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """A classic of trees: a walk that need not come back saves the longest way between two of its places."""
    lines = tree(seed, 60)
    whole = math.fsum(line.length for line in lines)
    monkeypatch.setattr(routing, "MOST_EXACT", 0)
    (walk,) = one_walk(lines)
    assert walk.length == pytest.approx(2.0 * whole - longest(network_of(lines)))


@given(
    st.lists(st.tuples(st.integers(1, 19), st.integers(1, 4)), min_size=1, max_size=5, unique_by=lambda t: t[0]),
    st.lists(st.integers(1, 9), max_size=3, unique=True),
)
@settings(max_examples=40, deadline=None)
def test_a_closed_walk_is_as_short_with_twigs_first(teeth: list[tuple[int, int]], cuts: list[int]) -> None:
    """Oracle: the matching of the graph library, over all odd places."""
    frame = box(0, 0, 20, 10)
    lines = [LineString(frame.exterior.coords), *(LineString([(0, c), (20, c)]) for c in cuts)]
    lines += [LineString([(x, 10), (x, 10 + high), (x + 0.4, 10.2 + high)]) for x, high in teeth]
    network = network_of(lines)
    graph: nx.Graph[int] = nx.Graph()
    for k, (a, b) in sorted(enumerate(network.joins), key=lambda item: -network.lengths[item[0]]):
        graph.add_edge(a, b, weight=network.lengths[k])
    odd = [place for place, degree in enumerate(network.degrees) if degree % 2]
    far = dict(nx.all_pairs_dijkstra_path_length(graph))
    table: nx.Graph[int] = nx.Graph()
    table.add_weighted_edges_from((a, b, far[a][b]) for a, b in itertools.combinations(odd, 2))
    least = math.fsum(table[a][b]["weight"] for a, b in nx.min_weight_matching(table))
    (walk,) = walks(lines, WalkWish(closed=True))
    assert walk.length == pytest.approx(math.fsum(network.lengths) + least)


def test_a_walk_ends_out_on_the_longest_twigs(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ring with twigs of 3, 9 and 8 mm: the two long ones are sewn once, the way of 2 mm between them twice."""
    ring = LineString(box(0, 0, 20, 10).exterior.coords)
    lines = [ring, LineString([(3, 10), (3, 13)]), LineString([(9, 10), (9, 19)]), LineString([(11, 10), (11, 18)])]
    monkeypatch.setattr(routing, "MOST_EXACT", 0)
    (walk,) = one_walk(lines)
    assert walk.length == pytest.approx(60 + 20 + 3 + 2)
    assert {round(walk.coords[0][1]), round(walk.coords[-1][1])} == {18, 19}


def test_a_ring_has_no_twigs_and_a_ring_on_a_stalk_has_one() -> None:
    ring = LineString(box(0, 0, 10, 10).exterior.coords)
    assert not twigs_of(network_of([ring]), []).up
    stalked = network_of([ring, LineString([(0, 0), (-5, 0)])])
    twigs = twigs_of(stalked, [p for p, d in enumerate(stalked.degrees) if d % 2])
    assert [stalked.lengths[k] for k in twigs.twice] == [5.0]
    assert twigs.odd == ()


def test_a_wished_start_is_kept_with_twigs_first(monkeypatch: pytest.MonkeyPatch) -> None:
    lines = tree(9, 40)
    monkeypatch.setattr(routing, "MOST_EXACT", 0)
    (walk,) = walks(lines, WalkWish(start=(0.0, 0.0)))
    network = network_of(lines, ((0.0, 0.0),))
    graph: nx.Graph[int] = nx.Graph()
    for (a, b), length in zip(network.joins, network.lengths, strict=True):
        graph.add_edge(a, b, weight=length)
    far = nx.single_source_dijkstra_path_length(graph, network.places.index((0.0, 0.0)))
    assert walk.coords[0] == (0.0, 0.0)
    assert walk.length == pytest.approx(2.0 * math.fsum(network.lengths) - max(far.values()))
