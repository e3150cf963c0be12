"""Sides, spacing, ease and taper of rows of seam stitches."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.spatial import KDTree

from hoopwright.core.types import Points
from hoopwright.needle.seam_stitches import SEAM_STITCHES
from hoopwright.needle.seam_stitches.row import LEFT, RIGHT, Row, bays_at, between, inside, opposite, whole_repeats
from tests.needle.seam_rows import Weight, holes_of, sew, straight, style_of

SIDED = sorted((name, side) for name, s in SEAM_STITCHES.items() for side in s.sides)


def reach(row: Points) -> tuple[float, float]:
    """Return how far a row reaches to the left and to the right."""
    return float(row[:, 1].max()), float(-row[:, 1].min())


@pytest.mark.parametrize(("name", "side"), [s for s in SIDED if s[1] in ("left", "right")])
def test_a_row_on_one_side_leaves_the_other_to_loops_and_bends(name: str, side: str) -> None:
    left, right = reach(sew(straight(60.0), style_of(name, sides=side)))
    far, near = (left, right) if side == "left" else (right, left)
    half = SEAM_STITCHES[name].width / 2
    assert far >= 0.8 * half
    assert near <= 0.45 * half


@pytest.mark.parametrize("name", sorted({n for n, s in SIDED if s == "left"}))
def test_left_and_right_are_each_others_reflection(name: str) -> None:
    left, right = (holes_of(sew(straight(60.0), style_of(name, sides=s))) for s in ("left", "right"))
    gaps, _ = KDTree(left * [1, -1]).query(right)
    assert float(np.max(gaps)) < 0.35


@pytest.mark.parametrize("name", sorted({n for n, s in SIDED if s == "both"}))
def test_both_sides_are_alike_at_the_same_places(name: str) -> None:
    row = holes_of(sew(straight(60.0), style_of(name, sides="both")))
    left, right = reach(row)
    assert left == pytest.approx(right, abs=0.11)
    gaps, _ = KDTree(row).query(row * [1, -1])
    assert float(np.max(gaps)) < 0.5


@pytest.mark.parametrize("name", sorted({n for n, s in SIDED if s == "alternate"}))
def test_sides_in_turn_change_from_one_motif_to_the_next(name: str) -> None:
    row = sew(straight(80.0), style_of(name, sides="alternate"))
    outer = row[np.abs(row[:, 1]) > 0.5 * np.abs(row[:, 1]).max()]
    sides = np.sign(outer[np.argsort(outer[:, 0]), 1])
    assert np.count_nonzero(np.diff(sides)) >= 4


@pytest.mark.parametrize("name", sorted(n for n, s in SEAM_STITCHES.items() if s.sides))
def test_a_stitchs_own_sides_come_first(name: str) -> None:
    own = sew(straight(50.0), style_of(name))
    asked = sew(straight(50.0), style_of(name, sides=SEAM_STITCHES[name].sides[0]))
    assert_allclose(own, asked)


def test_spacing_parts_crosses_and_joins_them_on_the_seam() -> None:
    """Crosses 4.5 mm long on 60 mm, 3 mm apart: (60 + 3) / 7.5 = 8.4, so 8; their arms stand on four edges each."""
    row = holes_of(sew(straight(60.0), style_of("cross", repeat=4.5, spacing=3.0)))
    top = np.sort(row[row[:, 1] > 2.4, 0])
    assert len(top) == 16
    assert_allclose(np.diff(top)[1::2], 3.0, atol=0.11)


@pytest.mark.parametrize("name", sorted(SEAM_STITCHES))
def test_spacing_gives_fewer_repeats_and_the_row_still_fills_its_seam(name: str) -> None:
    close, apart = (sew(straight(80.0), style_of(name, spacing=gap), 1.0, 12.0) for gap in (0.0, 6.0))
    assert len(apart) < len(close)
    assert apart[:, 0].min() <= 1.0 and apart[:, 0].max() >= 79.0


def test_cells_are_whole_and_a_gap_apart() -> None:
    cells = Row(4, 50.0, 3.0, gap=2.0).cells()
    assert_allclose([b - a for a, b in cells], 11.0)
    assert (cells[0][0], cells[-1][1]) == (0.0, 50.0)
    assert whole_repeats(50.0, 11.0, 2.0) == 4


def test_a_gap_gives_way_where_there_is_no_room() -> None:
    assert all(b > a for a, b in Row(5, 20.0, 3.0, gap=30.0).cells())


@pytest.mark.parametrize("weight", ["bold", "corded"])
def test_ease_keeps_a_row_off_both_ends_alike(weight: Weight) -> None:
    row = sew(straight(60.0), style_of("star", weight, ease=7.0))
    assert 7.0 <= row[:, 0].min() <= 8.2
    assert row[:, 0].min() == pytest.approx(60.0 - row[:, 0].max(), abs=1.2)


def test_ease_that_leaves_no_room_for_a_repeat_is_left_out() -> None:
    row = sew(straight(14.0), style_of("herringbone", ease=6.0))
    assert np.ptp(row[:, 0]) > 12.0


def test_taper_lets_arms_grow_towards_the_middle() -> None:
    row = sew(straight(90.0), style_of("fern", taper=25.0))
    tips = [np.abs(row[(row[:, 0] >= a) & (row[:, 0] < a + 10.0), 1]).max() for a in (0.0, 10.0, 40.0)]
    assert tips[0] < tips[1] < tips[2] == pytest.approx(3.0)
    end = np.abs(row[row[:, 0] > 78.0, 1]).max()
    assert end < 0.9 * tips[2]


def test_beats_are_two_to_a_repeat_and_change_sides() -> None:
    beats = Row(3, 60.0, 4.0).beats()
    assert [b.side for b in beats] == [LEFT, RIGHT] * 3
    assert_allclose([(b.begin, b.middle, b.end) for b in beats[:2]], [(0, 5, 10), (10, 15, 20)])


def test_motifs_on_one_side_stand_three_for_every_four() -> None:
    beats = Row(4, 60.0, 4.0, sides="left").beats()
    assert len(beats) == 6 and {b.side for b in beats} == {LEFT}


def test_bays_lie_across_between_or_inside() -> None:
    row = Row(2, 40.0, 4.0)
    assert [b.side for b in opposite(row)] == [RIGHT, LEFT, RIGHT, LEFT]
    assert [b.middle for b in between(Row(3, 60.0, 4.0))] == [20.0, 40.0]
    assert [b.middle for b in between(Row(1, 60.0, 4.0))] == [30.0]
    assert [b.middle for b in inside(row)] == [10.0, 30.0]
    marks = bays_at([(4.0, LEFT), (10.0, RIGHT)], 20.0)
    assert [(b.begin, b.end) for b in marks] == [(0.0, 7.0), (7.0, 20.0)]
