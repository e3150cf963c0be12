from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.core.types import Points
from hoopwright.needle.columns.rails import evenly
from hoopwright.needle.columns.zigzag import Spokes, divided, joined, zigzag


def straight(width: float, length: float) -> Spokes:
    x = np.linspace(0.0, length, 50)
    return np.stack([np.column_stack([x, np.full(50, width)]), np.column_stack([x, np.zeros(50)])], axis=1)


def turning(inner: float, width: float) -> Spokes:
    """A quarter ring: its right rail has the radius ``inner``."""
    t = np.linspace(math.pi / 2, 0.0, 200)
    way = np.column_stack([np.cos(t), np.sin(t)])
    return np.stack([(inner + width) * way, inner * way], axis=1)


def lengths(points: Points) -> Points:
    return np.asarray(np.hypot(*np.diff(points, axis=0).T), dtype=np.float64)


@pytest.mark.parametrize("width", [7.1, 9.0, 12.0, 20.0])
def test_wide_stitches_are_divided_and_no_row_of_holes_shows(width: float) -> None:
    """Cut across the column in 40 strips, no strip within holds three times as many holes as the middle one."""
    points = zigzag(evenly(straight(width, 60.0), 0.4), 0.4, 1.0, 7.0)
    assert lengths(points).max() <= 7.0 + 1e-9
    assert lengths(points).min() >= 1.0
    inside = points[(points[:, 1] > 0.01) & (points[:, 1] < width - 0.01), 1]
    counts, _ = np.histogram(inside, bins=40, range=(0.0, width))
    assert len(inside) > 200
    assert counts.max() <= 3.0 * np.median(counts[counts > 0])


def test_divided_always_in_the_middle_a_row_would_show() -> None:
    """The measure above can fail."""
    counts, _ = np.histogram(np.concatenate([np.full(200, 4.5), [1.0, 2.0, 7.0]]), bins=40, range=(0.0, 9.0))
    assert counts.max() > 3.0 * np.median(counts[counts > 0])


@given(st.floats(1.5, 60.0), st.floats(2.0, 8.0), st.integers(0, 10_000))
def test_divisions_stay_on_the_stitch_and_within_the_longest(length: float, longest: float, number: int) -> None:
    places = [(0.0, 0.0), *divided((0.0, 0.0), (length, 0.0), longest, number), (length, 0.0)]
    steps = np.diff([x for x, _ in places])
    assert steps.min() > 0.0
    assert steps.max() <= longest + 1e-6


def test_where_the_column_turns_holes_of_the_inner_rail_do_not_pile_up() -> None:
    """Round a radius of 0.5 mm every hole would have a neighbour 0.08 mm away; half of them are drawn back."""
    spokes = evenly(turning(0.5, 3.0), 0.4)
    points = zigzag(spokes, 0.4, 1.0, 7.0)
    radii = np.hypot(points[:, 0], points[:, 1])
    rail = points[np.abs(radii - 0.5) < 0.01]
    drawn_back = radii[(radii > 0.6) & (radii < 3.0)]
    assert len(drawn_back) > len(rail)
    assert len(np.unique(drawn_back.round(2))) >= 2
    assert lengths(rail).min() > 0.15
    assert lengths(spokes[:, 1][1::2]).max() < 0.15


def test_on_a_straight_column_no_stitch_is_short() -> None:
    points = zigzag(evenly(straight(3.0, 20.0), 0.4), 0.4, 1.0, 7.0)
    assert set(points[:, 1].round(9)) == {0.0, 3.0}


def test_a_tip_narrower_than_the_shortest_stitch_is_passed_over() -> None:
    x = np.linspace(0.0, 10.0, 60)
    wedge = np.stack([np.column_stack([x, x / 4]), np.column_stack([x, -x / 4])], axis=1)
    points = zigzag(evenly(wedge, 0.4), 0.4, 1.0, 7.0)
    assert points[:, 0].min() == pytest.approx(2.0, abs=0.25)
    assert lengths(points).min() >= 1.0


def test_rows_are_joined_without_tiny_stitches() -> None:
    one, other = np.array([[0.0, 0.0], [2.0, 0.0], [2.4, 0.0]]), np.array([[2.5, 0.0], [4.0, 0.0]])
    assert joined([one, other], 1.0).tolist() == [[0.0, 0.0], [2.5, 0.0], [4.0, 0.0]]
    assert len(joined([], 1.0)) == 0


def test_one_slow_step_of_a_rail_leaves_no_notch() -> None:
    """A rail that waits for a moment has one crowded hole, which is no bend."""
    spokes = evenly(straight(3.0, 20.0), 0.4)
    spokes[50, 0] = spokes[48, 0]
    points = zigzag(spokes, 0.4, 1.0, 7.0)
    assert set(points[:, 1].round(9)) == {0.0, 3.0}


@pytest.mark.parametrize("count", range(2, 14))
def test_columns_of_a_few_spokes_are_sewn(count: int) -> None:
    x = np.arange(count) * 0.2
    spokes = np.stack([np.column_stack([x, np.full(count, 2.0)]), np.column_stack([x, np.zeros(count)])], axis=1)
    assert len(zigzag(spokes, 0.4, 1.0, 7.0)) == count
