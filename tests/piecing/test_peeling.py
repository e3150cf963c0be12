from __future__ import annotations

import time

import pytest
from shapely.geometry import Polygon

from hoopwright.piecing.peeling import can_be_last, chord_of, peel, peel_rounds
from hoopwright.piecing.seam_net import Chord, members, net_of
from hoopwright.plane.subdivision import subdivision_of
from tests.piecing.big_maps import comb_map, sliced_map
from tests.piecing.drawings import FOUR_SQUARES, GAPPED, STRIPS, T_OF_THREE, WINDMILL


def test_ends_of_a_row_of_strips_can_be_last() -> None:
    net = net_of(STRIPS.plane)
    assert [can_be_last(net, p, net.everything) for p in range(5)] == [True, False, False, False, True]
    assert not can_be_last(net, 0, 0b00001)
    assert can_be_last(net, 1, 0b00011)


def test_a_wanted_first_patch_is_what_is_left() -> None:
    net = net_of(STRIPS.plane)
    for p in range(5):
        assert peel(net, keep=1 << p).core == 1 << p


def test_a_patch_that_cannot_be_first_leaves_more_than_itself() -> None:
    net = net_of(T_OF_THREE.plane)
    assert peel(net, keep=1 << 2).core == 0b111
    assert peel(net, keep=1 << 0).core == 0b001


def test_nothing_comes_off_where_seams_cross_or_turn() -> None:
    for patch_map in (FOUR_SQUARES, WINDMILL):
        net = net_of(patch_map.plane)
        assert peel(net).core == net.everything


def test_the_base_under_a_notch_cannot_be_last() -> None:
    """Its boundary is one segment as a set of points, but the outline runs through its middle."""
    net = net_of(GAPPED.plane)
    base = next(p for p in range(3) if len(net.edges_of[p]) == 2)
    assert not can_be_last(net, base, net.everything)
    assert peel(net).core.bit_count() == 1


def test_a_spine_taken_off_too_early_would_strand_its_teeth() -> None:
    """Its boundary with three teeth that touch each other in points is one segment as a set of points."""
    spine = Polygon([(0, 0), (120, 0), (120, 20), (80, 20), (40, 20), (0, 20)])
    teeth = [Polygon([(x, 20), (x + 40, 20), (x + 20, 50)]) for x in (0, 40, 80)]
    net = net_of(subdivision_of([spine, *teeth]))
    assert [net.edges[e].length for e in net.edges_of[0]] == [40.0, 40.0, 40.0]
    assert not can_be_last(net, 0, net.everything)
    assert peel(net).core.bit_count() == 1
    assert peel(net, net.everything & ~1).core.bit_count() == 3


def test_the_chord_has_the_new_piece_on_its_side() -> None:
    net = net_of(T_OF_THREE.plane)
    chord = chord_of(net, 2, 0b111)
    assert (chord.first, chord.last) == (0, 1)
    start, end = (T_OF_THREE.plane.vertices[net.rows[chord.row].vertices[i]] for i in (0, 2))
    runs_right = end[0] > start[0]
    assert chord == Chord(chord.row, 0, 1, not runs_right)
    with pytest.raises(ValueError, match="no single straight seam"):
        chord_of(net, 0, 0b111)


def test_rounds_take_off_all_that_can_be_last_at_once() -> None:
    assert peel_rounds(net_of(STRIPS.plane), 0b11111) == [2, 2]
    assert peel_rounds(net_of(STRIPS.plane), 0b01111) == [2, 2]
    net = net_of(comb_map(8).plane)
    assert sum(peel_rounds(net, net.everything)) in (net.count - 1, net.count)


@pytest.mark.parametrize("make", [sliced_map, comb_map])
def test_a_thousand_patches_are_peeled_at_once(make: object) -> None:
    patch_map = make(400) if make is sliced_map else make(1000)  # type: ignore[operator]
    start = time.process_time()
    net = net_of(patch_map.plane)
    done = peel(net)
    assert time.process_time() - start < 2.0
    assert done.core.bit_count() == 1
    assert len(done.taken) == net.count - 1
    assert sorted([*done.taken, *members(done.core)]) == list(range(net.count))


@pytest.mark.bench
@pytest.mark.parametrize("make", [sliced_map, comb_map], ids=lambda f: f.__name__)
def test_cost_of_peeling_grows_with_the_number_of_patches(make: object) -> None:
    times = {}
    for patches in (125, 250, 500, 1000, 2000, 4000):
        plane = make(patches).plane  # type: ignore[operator]
        runs = []
        for _ in range(5):
            start = time.process_time()
            net = net_of(plane)
            middle = time.process_time()
            peel(net)
            runs.append((middle - start, time.process_time() - middle))
        times[patches] = tuple(min(run[k] for run in runs) for k in (0, 1))
        print(f"{patches} patches: net {1000 * times[patches][0]:.1f} ms, peeling {1000 * times[patches][1]:.2f} ms")
    assert sum(times[1000]) < 2.0
    assert sum(times[4000]) < 4 * 4 * sum(times[1000])
