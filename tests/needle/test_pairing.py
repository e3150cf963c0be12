from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.needle import pairing
from hoopwright.needle.pairing import Pairs, Ways, least_pairs

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


def test_two_places_stay_free() -> None:
    assert least_pairs(ways_between([(0, 0), (9, 9)])) == ()
    assert least_pairs(ways_between([(0, 0), (1, 0), (50, 0), (90, 0)])) == ((0, 1),)
