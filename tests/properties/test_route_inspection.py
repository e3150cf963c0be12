"""Walks over random plane networks, held against the graph library's own matching and against counted facts."""

from __future__ import annotations

import itertools
import math
from collections import Counter

import networkx as nx
import numpy as np
import pytest
from scipy.spatial import Delaunay
from shapely.geometry import LineString

from hoopwright.needle.routing import WalkWish, walks
from hoopwright.needle.transitions import SHARP

Spot = tuple[float, float]


def plane_network(seed: int, places: int, share: float) -> list[LineString]:
    """Return the lines of a connected plane network: a tree and a share of the other sides of random triangles."""
    dice = np.random.default_rng(seed)
    spots = dice.integers(0, 200, (places, 2)).astype(float)
    spots = np.unique(spots, axis=0)
    triangles = Delaunay(spots).simplices
    sides = sorted({tuple(sorted(map(int, p))) for t in triangles for p in itertools.combinations(t, 2)})
    tree: nx.Graph[int] = nx.Graph()
    tree.add_edges_from((a, b, {"weight": float(dice.random())}) for a, b in sides)
    kept = {tuple(sorted(e)) for e in nx.minimum_spanning_edges(tree, data=False)}
    kept |= {s for s in sides if dice.random() < share}
    return [LineString(spots[list(s)]) for s in sorted(kept)]


def even_network(seed: int, places: int) -> list[LineString]:
    """Return a plane network whose places are all even: the borders of random triangles, as far as one of two is taken."""
    dice = np.random.default_rng(seed)
    spots = np.unique(dice.integers(0, 200, (places, 2)).astype(float), axis=0)
    sides: Counter[tuple[int, int]] = Counter()
    for triangle in Delaunay(spots).simplices:
        if dice.random() < 0.6:
            sides.update((min(p), max(p)) for p in itertools.combinations(triangle.tolist(), 2))
    return [LineString(spots[list(s)]) for s, n in sorted(sides.items()) if n % 2]


def spots_of(line: LineString) -> list[Spot]:
    return [(float(x), float(y)) for x, y in line.coords]


def graph_of(lines: list[LineString]) -> nx.Graph[Spot]:
    graph: nx.Graph[Spot] = nx.Graph()
    for line in lines:
        a, b = spots_of(line)
        graph.add_edge(a, b, weight=line.length)
    return graph


def least_by_matching(lines: list[LineString], price: float = math.inf, closed: bool = False) -> float:
    """Oracle: a least-weight matching of all odd places in the graph library, with a partner of no length for each
    place that may stay free; two free places cost the price, the first two nothing."""
    graph = graph_of(lines)
    odd = [n for n, d in graph.degree() if d % 2]
    far = dict(nx.all_pairs_dijkstra_path_length(graph))
    if not odd:
        return 0.0
    best = math.inf
    counts = [0] if closed else [2] if math.isinf(price) else list(range(2, len(odd) + 1, 2))
    for free in counts:
        table: nx.Graph[object] = nx.Graph()
        table.add_weighted_edges_from((a, b, far[a][b]) for a, b in itertools.combinations(odd, 2))
        table.add_weighted_edges_from((f, a, 0.0) for f in range(free) for a in odd)
        pairs = nx.min_weight_matching(table)
        length = math.fsum(table[a][b]["weight"] for a, b in pairs)
        cuts = 0.0 if free <= 2 else (free / 2 - 1) * price
        best = min(best, length + cuts)
    return best


def sides_of(walk: LineString) -> list[frozenset[Spot]]:
    return [
        frozenset(((round(a[0]), round(a[1])), (round(b[0]), round(b[1])))) for a, b in itertools.pairwise(walk.coords)
    ]


def covered_as_often_as_needed(lines: list[LineString], found: tuple[LineString, ...]) -> bool:
    """Every side once or twice, none else."""
    sewn = Counter(s for walk in found for s in sides_of(walk))
    return set(sewn) == {frozenset(line.coords) for line in lines} and max(sewn.values()) <= 2


@pytest.mark.parametrize("seed", range(120))
def test_retraced_length_is_the_least(seed: int) -> None:
    lines = plane_network(seed, 12 + seed % 30, 0.1 + 0.007 * seed)
    total = math.fsum(line.length for line in lines)
    found = walks(lines)
    assert len(found) == 1
    assert covered_as_often_as_needed(lines, found)
    assert found[0].length - total == pytest.approx(least_by_matching(lines), abs=1e-3)


@pytest.mark.parametrize("seed", range(60))
def test_a_closed_walk_retraces_the_least_that_brings_it_back(seed: int) -> None:
    lines = plane_network(1000 + seed, 12 + seed % 20, 0.3)
    (walk,) = walks(lines, WalkWish(closed=True))
    assert walk.coords[0] == walk.coords[-1]
    assert covered_as_often_as_needed(lines, (walk,))
    total = math.fsum(line.length for line in lines)
    assert walk.length - total == pytest.approx(least_by_matching(lines, closed=True), abs=1e-3)


@pytest.mark.parametrize("seed", range(60))
def test_cuts_are_made_where_they_are_worth_it_and_nowhere_else(seed: int) -> None:
    lines = plane_network(2000 + seed, 10 + seed % 15, 0.3)
    price = (10.0, 30.0, 60.0)[seed % 3]
    found = walks(lines, WalkWish(trim_worth=price))
    assert covered_as_often_as_needed(lines, found)
    retraced = math.fsum(w.length for w in found) - math.fsum(line.length for line in lines)
    assert retraced + price * (len(found) - 1) == pytest.approx(least_by_matching(lines, price), abs=1e-3)


@pytest.mark.parametrize("seed", range(60))
def test_without_retracing_the_number_of_walks_is_half_that_of_the_odd_places(seed: int) -> None:
    """A connected network with 2k > 0 odd places needs exactly k trails (a classical theorem; PIECING: found)."""
    lines = plane_network(3000 + seed, 12 + seed % 40, 0.4)
    odd = sum(d % 2 for _, d in graph_of(lines).degree())
    found = walks(lines, WalkWish(trim_worth=0.0))
    assert len(found) == max(1, odd // 2)
    assert math.fsum(w.length for w in found) == pytest.approx(math.fsum(line.length for line in lines))


@pytest.mark.parametrize("seed", range(60))
def test_a_wished_start_is_kept_and_costs_no_more_than_it_must(seed: int) -> None:
    """Oracle: the start is one end; try every place as the other, each with a matching of the graph library."""
    lines = plane_network(4000 + seed, 9 + seed % 8, 0.3)
    graph = graph_of(lines)
    start = sorted(graph.nodes)[seed % len(graph)]
    (walk,) = walks(lines, WalkWish(start=start))
    assert walk.coords[0] == pytest.approx(start)
    assert covered_as_often_as_needed(lines, (walk,))
    far = dict(nx.all_pairs_dijkstra_path_length(graph))
    odd = {n for n, d in graph.degree() if d % 2}
    best = math.inf
    for end in graph.nodes:
        table: nx.Graph[Spot] = nx.Graph()
        left = sorted(odd ^ ({start, end} if start != end else set()))
        table.add_weighted_edges_from((a, b, far[a][b]) for a, b in itertools.combinations(left, 2))
        best = min(best, math.fsum(table[a][b]["weight"] for a, b in nx.min_weight_matching(table)))
    assert walk.length - math.fsum(line.length for line in lines) == pytest.approx(best, abs=1e-3)


def passes(walk: LineString) -> dict[Spot, list[tuple[float, float]]]:
    """Return for each place the directions, in radians, from which the walk comes and to which it goes, pass by pass."""
    found: dict[Spot, list[tuple[float, float]]] = {}
    coords = spots_of(walk)
    rows = list(zip(coords, coords[1:], coords[2:], strict=False))
    if coords[0] == coords[-1]:
        rows.append((coords[-2], coords[-1], coords[1]))
    for a, b, c in rows:
        found.setdefault(b, []).append((math.atan2(a[1] - b[1], a[0] - b[0]), math.atan2(c[1] - b[1], c[0] - b[0])))
    return found


def crosses(one: tuple[float, float], other: tuple[float, float]) -> bool:
    """Whether two passes through one place lie alternately around it."""
    low, high = sorted(one)
    return (low < other[0] < high) != (low < other[1] < high)


@pytest.mark.parametrize("seed", range(150))
def test_an_even_network_is_drawn_in_one_line_that_never_crosses_itself(seed: int) -> None:
    """Read from the finished line, not from the choices made."""
    lines = even_network(seed, 8 + seed % 60)
    found = walks(lines)
    assert math.fsum(w.length for w in found) == pytest.approx(math.fsum(line.length for line in lines))
    for walk in found:
        assert walk.coords[0] == walk.coords[-1]
        for at in passes(walk).values():
            assert not any(crosses(a, b) for a, b in itertools.combinations(at, 2))


def test_the_test_of_crossing_can_fail() -> None:
    eight = LineString([(0, 0), (10, 10), (20, 0), (20, 10), (10, 10 - 1e-9), (0, 10), (0, 0)])
    figure = LineString([(0, 0), (10, 5), (20, 10), (20, 0), (10, 5), (0, 10), (0, 0)])
    assert any(crosses(a, b) for at in passes(figure).values() for a, b in itertools.combinations(at, 2))
    assert not any(crosses(a, b) for at in passes(eight).values() for a, b in itertools.combinations(at, 2))


@pytest.mark.parametrize("seed", range(30))
def test_the_same_lines_in_any_order_and_direction_give_the_same_walk(seed: int) -> None:
    lines = plane_network(5000 + seed, 30, 0.4)
    dice = np.random.default_rng(seed)
    mixed = [lines[i].reverse() if dice.random() < 0.5 else lines[i] for i in dice.permutation(len(lines))]
    assert [w.wkb for w in walks(lines)] == [w.wkb for w in walks(mixed)]


def folds(walk: LineString) -> int:
    """Return how often the line folds back on itself."""
    turns = (abs(abs(a - b) % (2 * math.pi) - math.pi) for at in passes(walk).values() for a, b in at)
    return sum(turn > SHARP for turn in turns)


@pytest.mark.parametrize("seed", range(40))
def test_a_line_that_may_cross_itself_folds_back_less(seed: int) -> None:
    lines = even_network(seed, 40)
    apart, smooth, straight = (
        sum(map(folds, walks(lines, WalkWish(meeting=m)))) for m in ("apart", "smooth", "straight")
    )
    assert smooth <= apart
    assert straight <= apart
