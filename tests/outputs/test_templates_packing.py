from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.outputs.templates.packing import Spot, pack

PAGE = (198.0, 245.0)
sides = st.floats(3, 190)


def _box(spot: Spot, sizes: list[tuple[float, float]]) -> tuple[float, float, float, float]:
    width, height = sizes[spot.choice]
    return spot.x, spot.y, spot.x + width, spot.y + height


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(sides, sides), max_size=25), st.floats(0, 8))
def test_pieces_lie_on_the_page_and_apart(sizes: list[tuple[float, float]], gap: float) -> None:
    choices = [[(w, h), (h, w)] for w, h in sizes]
    spots = pack(choices, PAGE, gap)
    boxes = [_box(s, c) for s, c in zip(spots, choices, strict=True)]
    tiny = 1e-9
    for left, top, right, bottom in boxes:
        assert left >= 0 and top >= 0 and right <= PAGE[0] + tiny and bottom <= PAGE[1] + tiny
    for (s, a), (t, b) in combinations(zip(spots, boxes, strict=True), 2):
        apart = max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3])
        assert s.page != t.page or apart >= gap - tiny


def test_four_quarters_fill_one_page_exactly() -> None:
    assert {s.page for s in pack([[(99.0, 122.5)]] * 4, PAGE, 0.0)} == {0}


def test_a_hole_beside_a_large_piece_is_used() -> None:
    spots = pack([[(120.0, 100.0)], [(190.0, 100.0)], [(70.0, 90.0)]], PAGE, 4.0)
    assert {s.page for s in spots} == {0}


def test_a_piece_is_turned_only_when_that_saves_room() -> None:
    assert pack([[(100.0, 200.0), (200.0, 100.0)]], PAGE, 4.0)[0].choice == 0
    assert pack([[(200.0, 100.0), (100.0, 200.0)]], PAGE, 4.0)[0].choice == 1


def test_a_piece_larger_than_the_page_is_refused() -> None:
    with pytest.raises(ValueError, match="larger than the page"):
        pack([[(300.0, 300.0)]], PAGE, 4.0)


def test_nothing_needs_no_page() -> None:
    assert pack([], PAGE, 4.0) == ()
