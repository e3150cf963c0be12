from __future__ import annotations

import itertools
import random

import numpy as np
import pytest
from shapely.geometry import box

from hoopwright.needle.accents.placing import BETWEEN, packed, placed_accent, size_of
from hoopwright.needle.accents.sew import sewn_accent
from hoopwright.needle.accents.shapes import AccentWish

ROOM = (124.0, 174.0)
LEAF = AccentWish("leaf", 40.0)


def test_an_accent_is_turned_about_its_middle_and_moved() -> None:
    upright = sewn_accent(LEAF)
    placed = placed_accent(LEAF, (30.0, -7.0), 90.0)
    x, y = upright.points.T
    assert np.allclose(placed.points, np.column_stack([30.0 - y, -7.0 + x]))
    assert placed.outline.area == pytest.approx(upright.outline.area)
    assert placed.spine.length == pytest.approx(upright.spine.length)


@pytest.mark.parametrize("seed", range(20))
def test_packed_accents_keep_clear_of_each_other_and_stay_in_the_room(seed: int) -> None:
    dice = random.Random(seed)
    sizes = tuple((dice.uniform(15.0, 90.0), dice.uniform(15.0, 120.0)) for _ in range(dice.randint(1, 14)))
    rows = packed(sizes, ROOM)
    assert sorted({n for n, _ in rows}) == list(range(max(n for n, _ in rows) + 1))
    boxes = [
        (n, box(x - w / 2, y - h / 2, x + w / 2, y + h / 2)) for (n, (x, y)), (w, h) in zip(rows, sizes, strict=True)
    ]
    room = box(-ROOM[0] / 2, -ROOM[1] / 2, ROOM[0] / 2, ROOM[1] / 2).buffer(1e-6)
    assert all(room.covers(b) for _, b in boxes)
    assert all(a.distance(b) >= BETWEEN - 1e-6 for (n, a), (m, b) in itertools.combinations(boxes, 2) if n == m)


def test_what_fits_into_one_hooping_shares_it() -> None:
    assert {n for n, _ in packed(((50.0, 50.0),) * 6, ROOM)} == {0}
    assert {n for n, _ in packed(((50.0, 50.0),) * 7, ROOM)} == {0, 1}


def test_one_accent_lies_in_the_middle() -> None:
    assert packed(((50.0, 60.0),), ROOM) == ((0, (0.0, 0.0)),)
    assert packed((), ROOM) == ()


def test_sizes_are_those_of_the_outer_edge() -> None:
    width, height = size_of(LEAF)
    assert height == pytest.approx(40.0, abs=0.02) and 15.0 < width < 35.0
