"""Cuts carried along with an outline."""

from __future__ import annotations

import numpy as np
import pytest
from shapely.geometry import Polygon, box

from hoopwright.piecing.refitting import box_map, refitted

SQUARE = box(-30, -30, 30, 30)


def test_cuts_grow_with_the_box_and_what_ended_on_a_cut_ends_on_it_still() -> None:
    wide = box(-45, -30, 45, 30)
    cut, stem = refitted([((-30, 0), (30, 10)), ((0, 5), (0, 30))], SQUARE, wide)
    assert np.allclose(cut, [(-45, 0), (45, 10)])
    assert np.allclose(stem, [(0, 5), (0, 30)])


def test_ends_on_the_old_outline_are_brought_along_their_line_onto_the_new_one() -> None:
    diamond = Polygon([(0, -30), (30, 0), (0, 30), (-30, 0)])
    short, whole = refitted([((-30, 15), (30, 15)), ((0, 15), (0, 30))], SQUARE, diamond)
    assert np.allclose(short, [(-15, 15), (15, 15)])
    assert whole[0] == pytest.approx((0, 15))


def test_the_box_may_lie_anywhere() -> None:
    """An outline by its corners keeps its own numbers: the cuts go with it, also when it is moved."""
    moved = box(100, 100, 160, 220)
    assert box_map(SQUARE, moved)((0, 0)) == pytest.approx((130, 160))
    (cut,) = refitted([((30, 15), (-30, 15))], SQUARE, moved)
    assert np.allclose(cut, [(160, 190), (100, 190)])


def test_a_cut_outside_the_new_outline_only_grows() -> None:
    low = Polygon([(-30, -30), (30, -30), (-30, 30)])
    (cut,) = refitted([((10, 30), (30, 10))], SQUARE, low)
    assert np.allclose(cut, [(10, 30), (30, 10)])
