from __future__ import annotations

import math

from hoopwright.piecing.counting import count_orders, rounds_bound
from hoopwright.piecing.seam_net import net_of
from tests.piecing.big_maps import comb_map, sliced_map
from tests.piecing.drawings import FOUR_SQUARES, STRIPS


def test_a_drawing_that_cannot_be_sewn_has_no_order() -> None:
    count = count_orders(net_of(FOUR_SQUARES.plane))
    assert (count.number, count.exact) == (0, True)


def test_a_comb_can_begin_with_its_spine_or_with_any_tooth() -> None:
    """n teeth: n! orders begin with the spine; n * (n - 1)! with a tooth and then the spine."""
    for teeth in (3, 6, 9):
        count = count_orders(net_of(comb_map(teeth + 1).plane))
        assert (count.number, count.exact) == (2 * math.factorial(teeth), True)


def test_a_short_budget_gives_a_lower_bound_and_says_so() -> None:
    net = net_of(sliced_map(30, seed=4).plane)
    true = count_orders(net)
    assert true.exact
    bounds = [count_orders(net, looks) for looks in (0, 100, 1000, 3000)]
    assert all(not b.exact and 1 <= b.number <= true.number for b in bounds)
    assert bounds[0].number == rounds_bound(net, net.everything)


def test_the_bound_by_rounds_is_below_the_truth_and_meets_it_for_a_comb_of_two() -> None:
    net = net_of(STRIPS.plane)
    assert rounds_bound(net, net.everything) == 4 < count_orders(net).number == 16
    net = net_of(comb_map(3).plane)
    assert rounds_bound(net, net.everything) <= count_orders(net).number == 4


def test_a_huge_comb_is_bounded_without_counting() -> None:
    count = count_orders(net_of(comb_map(400).plane))
    assert not count.exact
    assert math.factorial(300) < count.number <= 2 * math.factorial(399)
