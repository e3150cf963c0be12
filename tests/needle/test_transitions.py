from __future__ import annotations

import itertools
import math
import time

import numpy as np
import pytest
from shapely.geometry import LineString, box

from hoopwright.needle.network import network_of
from hoopwright.needle.routing import one_walk
from hoopwright.needle.transitions import LOOSE, Meeting, Transitions


def star(angles: list[float], reach: float = 20.0) -> Transitions:
    """Return the transitions of petals: each pair of neighbouring directions is joined far out, so that all is one place."""
    tips = [(reach * math.cos(a), reach * math.sin(a)) for a in sorted(angles)]
    petals = [LineString([(0, 0), tips[k], tips[k + 1], (0, 0)]) for k in range(0, len(tips), 2)]
    return Transitions(network_of(petals))


def turning(found: Transitions) -> float:
    return math.fsum(
        math.pi - abs(abs(found.away[e] - found.away[p]) % (2 * math.pi) - math.pi)
        for e, p in enumerate(found.partner)
        if p > e
    )


@pytest.mark.parametrize("seed", range(20))
def test_around_one_place_nothing_crosses_and_all_is_one_line(seed: int) -> None:
    dice = np.random.default_rng(seed)
    found = star((np.arange(8) * math.pi / 4 + dice.random(8) * 0.6).tolist())
    (trail,) = found.trails()
    assert len(trail) == 4
    (spot,) = [ends for ends in found.around if len(ends) == 8]
    at = {end: k for k, end in enumerate(spot)}
    pairs = [sorted((at[e], at[found.partner[e]])) for e in spot if found.partner[e] > e]
    assert not any((a < c < b) != (a < d < b) for (a, b), (c, d) in itertools.combinations(pairs, 2))


def test_an_open_line_through_a_crossing_goes_straight_on() -> None:
    """A cross is two trails; each goes on as it came where it may cross, and bends where it may not."""
    cross = [LineString([(0, 5), (10, 5)]), LineString([(5, 0), (5, 10)])]
    straight, apart = (Transitions(network_of(cross), m) for m in ("straight", "apart"))
    assert len(straight.trails()) == len(apart.trails()) == 2
    middle = next(ends for ends in straight.around if len(ends) == 4)
    turns = [sum(straight._turn(e, t.partner[e]) for e in middle) for t in (straight, apart)]
    assert turns == pytest.approx([0.0, 4 * (math.pi / 2) ** 2])


def test_a_dead_end_is_a_loose_end() -> None:
    found = Transitions(network_of([LineString([(0, 0), (9, 0)])]))
    assert found.partner == [LOOSE, LOOSE]
    assert found.trails() == [[0]]


@pytest.mark.parametrize("meeting", ["apart", "smooth", "straight"])
def test_a_large_network_is_one_line_in_every_way_of_meeting(meeting: Meeting) -> None:
    lines = [LineString([(k, 0), (k, 40)]) for k in range(41)] + [LineString([(0, k), (40, k)]) for k in range(41)]
    lines = [line for line in lines if line.length]
    network = network_of(lines)
    found = Transitions(network, meeting)
    assert sum(map(len, found.trails())) == len(network.joins)


@pytest.mark.bench
def test_three_thousand_stretches(capsys: pytest.CaptureFixture[str]) -> None:
    """Goal: the walk over a network of 3,000 stretches well under 100 ms once its lines are noded."""
    lines = [LineString([(k, 0), (k, 38)]) for k in range(39)] + [LineString([(0, k), (38, k)]) for k in range(39)]
    border = LineString(box(0, 0, 38, 38).exterior.coords)
    network = network_of([*lines, border])
    times = []
    for _ in range(5):
        start = time.process_time()
        trails = Transitions(network).trails()
        times.append(time.process_time() - start)
    start = time.process_time()
    (walk,) = one_walk([*lines, border])
    spent = time.process_time() - start
    with capsys.disabled():
        print(f"\n{len(network.joins)} stretches, {len(trails)} trails: {1000 * min(times):.0f} ms")
        print(
            f"one walk of it, {walk.length - sum(network.lengths):.0f} mm sewn twice: noding, pairing and all {1000 * spent:.0f} ms"
        )
    assert min(times) < 0.1
