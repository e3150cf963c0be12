from __future__ import annotations

import itertools
import math
import time

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString
from shapely.ops import unary_union

from hoopwright.needle import pairing
from hoopwright.needle.pairing import Pairs, Ways, least_pairs
from hoopwright.needle.routing import one_walk

places = st.lists(st.tuples(st.integers(0, 60), st.integers(0, 60)), min_size=2, max_size=8, unique=True)


def ways_between(spots: list[tuple[int, int]]) -> Ways:
    return np.array([[math.dist(a, b) for b in spots] for a in spots])


def length(ways: Ways, pairs: Pairs) -> float:
    return math.fsum(ways[a, b] for a, b in pairs)


def shortest(ways: Ways, left: tuple[int, ...]) -> float:
    """Every way of pairing, one after the other."""
    if not left:
        return 0.0
    first, *others = left
    return min(float(ways[first, b]) + shortest(ways, tuple(o for o in others if o != b)) for b in others)


@given(places.filter(lambda p: len(p) % 2 == 0))
@settings(max_examples=60, deadline=None)
def test_no_other_pairing_is_shorter(spots: list[tuple[int, int]]) -> None:
    ways = ways_between(spots)
    pairs = least_pairs(ways)
    paired = [p for pair in pairs for p in pair]
    assert len(paired) == len(set(paired)) == len(spots) - 2
    everything = range(len(spots))
    least = min(
        shortest(ways, tuple(p for p in everything if p not in free)) for free in itertools.combinations(everything, 2)
    )
    assert length(ways, pairs) == pytest.approx(least, abs=1e-6)


@pytest.mark.parametrize("count", [10, 16, 24, 40])
def test_the_search_and_the_general_matching_agree(count: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """The matching of the graph library is an independent oracle; of forty places the search may have to give up."""
    dice = np.random.default_rng(count)
    for _ in range(5):
        ways = ways_between([(int(x), int(y)) for x, y in dice.integers(0, 10_000, (count, 2))])
        found = least_pairs(ways)
        with monkeypatch.context() as patch:
            patch.setattr(pairing, "MOST_TRIED", 0)
            assert length(ways, found) == pytest.approx(length(ways, least_pairs(ways)), abs=1e-6)


@pytest.mark.no_cover
@pytest.mark.parametrize(("count", "free"), [(120, 2), (200, 0), (121, 1), (300, 2)])
def test_hundreds_of_places_are_paired_as_well_as_the_graph_library_pairs_them(count: int, free: int) -> None:
    """The oracle sees the ways of each place to its thirty nearest; none of a best pairing is longer than that here."""
    dice = np.random.default_rng(count)
    spots = dice.random((count, 2)) * 200.0
    ways = np.hypot(*(spots[:, None] - spots[None]).transpose(2, 0, 1))
    pairs = least_pairs(ways, free)
    table: nx.Graph[int] = nx.Graph()
    for a in range(count):
        table.add_weighted_edges_from((a, int(b), float(ways[a, b])) for b in np.argsort(ways[a])[1:31])
    for f in range(count, count + free):
        table.add_weighted_edges_from((f, a, 0.0) for a in range(count))
    oracle = math.fsum(table[a][b]["weight"] for a, b in nx.min_weight_matching(table))
    assert len({p for pair in pairs for p in pair}) == count - free
    assert length(ways, pairs) == pytest.approx(oracle, abs=1e-3)


def test_ways_that_were_not_looked_for_are_told_by_the_reach() -> None:
    """Where ways beyond 16 mm are unknown, what is found is the best only if the reach says so."""
    dice = np.random.default_rng(5)
    spots = dice.random((80, 2)) * 60.0
    whole = np.hypot(*(spots[:, None] - spots[None]).transpose(2, 0, 1))
    known = np.where(whole <= 16.0, whole, np.inf)
    found = pairing.pairing(known, 2, 40.0)
    assert found is not None
    assert found.reach <= 16.0
    again = pairing.pairing(whole, 2, 40.0)
    assert again is not None
    assert length(whole, found.pairs) == pytest.approx(length(whole, again.pairs), abs=1e-3)


@pytest.mark.parametrize(
    ("count", "free", "price"), [(90, 2, math.inf), (91, 1, math.inf), (90, 0, math.inf), (90, 2, 12.0)]
)
def test_more_places_than_are_paired_exactly(
    count: int, free: int, price: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    dice = np.random.default_rng(count + free)
    spots = dice.random((count, 2)) * 100.0
    ways = np.hypot(*(spots[:, None] - spots[None]).transpose(2, 0, 1))

    def cost(pairs: Pairs) -> float:
        stay = count - 2 * len(pairs)
        assert stay >= free
        assert len({p for pair in pairs for p in pair}) == 2 * len(pairs)
        return length(ways, pairs) + (0.0 if math.isinf(price) else price * stay / 2)

    exact = cost(least_pairs(ways, free, price))
    with monkeypatch.context() as patch:
        patch.setattr(pairing, "MOST_EXACT", 60)
        rough = cost(least_pairs(ways, free, price))
    assert exact - 1e-3 <= rough <= 1.05 * exact


def test_no_pairing_is_told() -> None:
    apart = np.array([[0.0, np.inf, np.inf], [np.inf, 0.0, 1.0], [np.inf, 1.0, 0.0]])
    assert pairing.pairing(np.pad(apart, (0, 1), constant_values=np.inf), 0) is None


def test_two_places_stay_free() -> None:
    assert least_pairs(ways_between([(0, 0), (9, 9)])) == ()
    assert least_pairs(ways_between([(0, 0), (1, 0), (50, 0), (90, 0)])) == ((0, 1),)


def combs(number: int) -> list[LineString]:
    """Combs of fifteen teeth, one above the other on one spine."""
    lines = [LineString([(0.0, 0.0), (0.0, 3.0 * number)])]
    for y in range(0, 3 * number, 3):
        lines.append(LineString([(0.0, y), (30.0, y)]))
        lines += [LineString([(x, y), (x, y + 1.5)]) for x in range(1, 30, 2)]
    return lines


@pytest.mark.parametrize("number", [4, 12, 36])
def test_combs_with_countless_pairings_of_one_length_are_walked_quickly(number: int) -> None:
    """Each tooth may be paired with many others at one length; the programme in whole numbers would not end."""
    lines = combs(number)
    start = time.process_time()
    (walk,) = one_walk(lines)
    assert time.process_time() - start < 1.0
    whole = sum(line.length for line in lines)
    all_twigs = number * (15 * 1.5 + 30.0) + 3.0
    assert walk.length <= whole + all_twigs
    assert unary_union(lines).difference(walk.buffer(0.01)).is_empty
