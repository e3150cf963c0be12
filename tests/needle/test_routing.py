from __future__ import annotations

import itertools

import networkx as nx
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, box

from hoopwright.needle.routing import one_walk


def test_a_figure_without_odd_places_is_sewn_once() -> None:
    ring = LineString(box(0, 0, 10, 10).exterior.coords)
    (walk,) = one_walk([ring])
    assert walk.length == pytest.approx(40)


def test_two_separate_figures_give_two_walks() -> None:
    rings = [LineString(box(x, 0, x + 10, 10).exterior.coords) for x in (0, 30)]
    assert len(one_walk(rings)) == 2


@given(st.lists(st.tuples(st.integers(1, 9), st.integers(1, 9)), min_size=1, max_size=4, unique=True))
@settings(max_examples=60, deadline=None)
def test_retraced_length_is_the_least_by_brute_force(cuts: list[tuple[int, int]]) -> None:
    """Oracle: try every pairing of the odd places but two."""
    lines = [LineString(box(0, 0, 10, 10).exterior.coords), *(LineString([(0, a), (10, b)]) for a, b in cuts)]
    walks = one_walk(lines)
    union = shapely.union_all(lines, grid_size=1e-4)
    assert len(walks) == 1
    assert shapely.union_all(walks).buffer(1e-3).covers(union)
    retraced = walks[0].length - union.length
    assert retraced == pytest.approx(_least(union), abs=1e-2)


def _least(union: shapely.Geometry) -> float:
    graph: nx.Graph[tuple[float, float]] = nx.Graph()
    for part in shapely.get_parts(union):
        for a, b in itertools.pairwise(shapely.get_coordinates(part).round(3).tolist()):
            graph.add_edge(tuple(a), tuple(b), weight=LineString([a, b]).length)
    odd = [n for n, d in graph.degree() if d % 2]
    if len(odd) <= 2:
        return 0.0
    far = dict(nx.all_pairs_dijkstra_path_length(graph))
    return min(_pairing([n for n in odd if n not in free], far) for free in itertools.combinations(odd, 2))


def _pairing(odd: list[tuple[float, float]], far: dict[tuple[float, float], dict[tuple[float, float], float]]) -> float:
    if not odd:
        return 0.0
    first, rest = odd[0], odd[1:]
    return min(far[first][other] + _pairing([n for n in rest if n != other], far) for other in rest)


def test_many_odd_places_are_still_covered() -> None:
    comb = [LineString([(i, 0), (i, 5)]) for i in range(1, 99)]
    lines = [LineString(box(0, 0, 100, 10).exterior.coords), *comb]
    (walk,) = one_walk(lines)
    assert walk.buffer(1e-3).covers(shapely.union_all(lines))
