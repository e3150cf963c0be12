from __future__ import annotations

import random

import pytest

from hoopwright.piecing.counting import count_orders
from hoopwright.piecing.peeling import all_that_can_be_last, chord_of
from hoopwright.piecing.seam_net import members, net_of
from hoopwright.piecing.shapes import PatchMap
from hoopwright.piecing.wishes import Pricing, pricing_of
from hoopwright.project.schema import WishesModel
from tests.piecing.big_maps import comb_map, sliced_map
from tests.piecing.drawings import STRIPS, T_OF_THREE


def pricing(patch_map: PatchMap) -> Pricing:
    lights = {letter: 20.0 * (i % 5) for i, letter in enumerate(patch_map.letters)}
    return pricing_of(patch_map, net_of(patch_map.plane), WishesModel(), lights, 6.35)


@pytest.mark.parametrize(
    "patch_map", [T_OF_THREE, STRIPS, sliced_map(25), comb_map(9)], ids=["T", "strips", "slices", "comb"]
)
def test_a_step_priced_from_known_parts_costs_what_its_amounts_cost(patch_map: PatchMap) -> None:
    rng, prices = random.Random(7), pricing(patch_map)
    net = prices.net
    dear = 0
    for _ in range(20):
        pieces = net.everything
        while pieces & (pieces - 1):
            strips = rng.getrandbits(2 * len(net.rows))
            last = members(all_that_can_be_last(net, pieces))
            for piece in last:
                chord = chord_of(net, piece, pieces)
                whole = prices.price(prices.amounts(piece, chord, pieces, strips, turns=False))
                assert prices.step_price(piece, chord, pieces, strips) == whole
                dear += whole > 0
            pieces &= ~(1 << rng.choice(last))
        alone = prices.price(prices.amounts(pieces.bit_length() - 1, None, pieces, 0, turns=False))
        assert prices.step_price(pieces.bit_length() - 1, None, pieces, 0) == alone
    assert dear or len(patch_map.letters) < 4  # the prices compared are not all nothing


def test_what_is_remembered_of_a_net_changes_no_answer() -> None:
    fresh, used = net_of(sliced_map(12).plane), net_of(sliced_map(12).plane)
    first = count_orders(used)
    assert used.known_last
    assert count_orders(used) == first == count_orders(fresh)
