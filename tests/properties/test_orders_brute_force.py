"""The order of sewing against brute force over all sequences, straight from the definitions, in whole numbers."""

from __future__ import annotations

import random
from functools import lru_cache

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hoopwright.piecing.counting import count_orders
from hoopwright.piecing.order_search import best_order, possible_firsts, steps_of
from hoopwright.piecing.order_words import foundation_of
from hoopwright.piecing.peeling import all_that_can_be_last, can_be_last, peel
from hoopwright.piecing.seam_net import SeamNet, members, net_of
from hoopwright.piecing.sections import SectionSearch, Sides, groups_of, stuck_groups
from hoopwright.piecing.shapes import PatchMap
from hoopwright.piecing.wish_words import Sewn
from hoopwright.piecing.wishes import pricing_of
from hoopwright.project.schema import WishesModel
from tests.properties.grid_maps import GridMap, patch_map_of, random_map

BENDS = ((7.0, 0.0, 0.0, 7.0), (6.1, 1.3, -0.7, 8.3), (3.0, 5.5, -6.2, 2.9))
SEEDS = st.integers(0, 10**9)


@lru_cache(maxsize=4)
def drawn(seed: int) -> tuple[GridMap, PatchMap, SeamNet]:
    """A random map with its patches numbered as the faces of its drawing are."""
    grid_map = random_map(seed)
    patch_map, owners = patch_map_of(grid_map, BENDS[seed % len(BENDS)])
    assert sorted(owners) == list(range(len(grid_map.pieces)))
    return GridMap(tuple(grid_map.pieces[n] for n in owners)), patch_map, net_of(patch_map.plane)


def check_orders(seed: int) -> None:
    grid_map, _, net = drawn(seed)
    orders = list(grid_map.orders())
    assert count_orders(net).exact
    assert count_orders(net).number == len(orders)
    core = peel(net).core
    assert (core.bit_count() == 1) == bool(orders)
    if orders:
        assert set(members(possible_firsts(net, net.everything))) == {order[0] for order in orders}


def check_core(seed: int) -> None:
    """Whatever is taken off first, the same is left, and each set on the way agrees with the definition."""
    grid_map, _, net = drawn(seed)
    rng = random.Random(seed)
    for _ in range(3):
        pieces = net.everything
        while last := all_that_can_be_last(net, pieces) if pieces & (pieces - 1) else 0:
            for p in members(pieces):
                assert can_be_last(net, p, pieces) == grid_map.can_follow(frozenset(members(pieces)) - {p}, p)
            pieces &= ~(1 << rng.choice(members(last)))
        assert pieces.bit_count() == peel(net).core.bit_count()
        if pieces.bit_count() > 1:
            assert pieces == peel(net).core


def check_best(seed: int) -> None:
    grid_map, patch_map, net = drawn(seed)
    rng = random.Random(seed)
    lightness = {letter: rng.choice([20.0, 50.0, 80.0]) for letter in patch_map.letters}
    weights = [rng.choice([0.0, 0.5, 1.0, 3.0]) for _ in range(5)]
    wishes = WishesModel(
        centre_outwards=weights[0],
        few_turns=weights[1],
        few_layers=weights[2],
        light_over_dark=weights[3],
        large_first=weights[4],
    )
    pricing = pricing_of(patch_map, net, wishes, lightness, 3.0)
    base = foundation_of(patch_map, net)
    best = best_order(pricing)
    costs = [Sewn(base, pricing, steps_of(net, order)).cost() for order in grid_map.orders()]
    assert (best is None) == (not costs)
    if best is not None:
        assert best.proven
        assert best.cost == min(costs)
        assert Sewn(base, pricing, best.steps).cost() == best.cost
        assert best.steps == steps_of(net, [s.piece for s in best.steps])


def check_sections(seed: int) -> None:
    grid_map, patch_map, net = drawn(seed)
    fewest = grid_map.fewest_sections()
    stuck = stuck_groups(net, net.everything)
    assert bool(stuck) == (fewest == 0)
    if not stuck:
        areas = tuple(f.area for f in patch_map.plane.faces)
        search = SectionSearch(net, Sides(areas, (0.0,) * net.count))
        plan = search.plan(net.everything)
        assert not search.bounded
        assert plan.sections == fewest
        assert len(groups_of(plan)) == fewest


def check_seams(seed: int) -> None:
    """A sewable map has one straight seam less than patches, and a straight patch at each inner vertex."""
    _, _, net = drawn(seed)
    if peel(net).core.bit_count() > 1:
        return
    assert len(net.rows) == net.count - 1
    straight = {v for vertices in net.straight_at for v in vertices}
    inside = [v for v in range(len(net.around)) if net.around[v] and net.whole(v, net.everything)]
    assert all(v in straight for v in inside)


def check_everything(seed: int) -> None:
    for check in (check_orders, check_core, check_best, check_sections, check_seams):
        check(seed)


@given(SEEDS)
@settings(max_examples=90, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
def test_random_maps_agree_with_brute_force(seed: int) -> None:
    check_everything(seed)


@pytest.mark.soak
@given(SEEDS)
@settings(max_examples=6000, deadline=None, suppress_health_check=list(HealthCheck))
def test_many_random_maps_agree_with_brute_force(seed: int) -> None:
    check_everything(seed)


def test_the_random_maps_are_of_every_kind() -> None:
    """The generator makes sewable maps, maps that need sections, impossible ones, and maps with holes."""
    kinds = {"one": 0, "sections": 0, "stuck": 0, "hole": 0}
    for seed in range(150):
        _, patch_map, net = drawn(seed)
        kinds["hole"] += bool(patch_map.outline.interiors)
        stuck = bool(stuck_groups(net, net.everything))
        one = peel(net).core.bit_count() == 1
        kinds["stuck" if stuck else "one" if one else "sections"] += 1
    assert min(kinds.values()) >= 3, kinds
