from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from hoopwright.catalog.hoops import fields
from hoopwright.items.swatches.layout import (
    LABEL,
    LABEL_ROOM,
    LEAST_ROW,
    LEAST_SQUARE,
    TAB,
    Reach,
    RowPlace,
    SquarePlace,
    row_places,
    square_places,
)

MARGIN = 3.0
ROOMS = [(f.width - 2 * MARGIN, f.height - 2 * MARGIN) for f in fields()]
REACHES = [Reach(w / 2 - shift, w / 2 + shift) for w in (1.4, 3.0, 5.0, 8.0, 11.0, 13.0) for shift in (0.0, w / 2)] * 3


def row_box(place: RowPlace, reach: Reach) -> Polygon:
    """The box a row takes: its number, its line, and its stitches on both sides."""
    y = place.start[1]
    low, high = min(y - reach.below, place.label[1] - LABEL / 2), max(y + reach.above, place.label[1] + LABEL / 2)
    return box(place.start[0] - LABEL_ROOM, low, place.end[0], high)


def square_box(place: SquarePlace) -> Polygon:
    x, y = place.corner
    return box(x, y, x + place.side, y + place.side + TAB[1])


def apart_and_inside(boxes: list[tuple[int, Polygon]], room: tuple[float, float]) -> bool:
    field = box(-room[0] / 2, -room[1] / 2, room[0] / 2, room[1] / 2).buffer(1e-6)
    touching = [1 for (i, a), (k, b) in combinations(boxes, 2) if i == k and a.intersects(b)]
    return not touching and all(field.covers(b) for _, b in boxes)


@pytest.mark.parametrize("room", ROOMS, ids=lambda r: f"{r[0]:g}x{r[1]:g}")
def test_rows_lie_in_the_field_and_apart_on_every_field_sold(room: tuple[float, float]) -> None:
    places = row_places(REACHES, room)
    assert len(places) == len(REACHES)
    assert apart_and_inside([(p.sheet, row_box(p, r)) for p, r in zip(places, REACHES, strict=True)], room)
    assert len({p.end[0] - p.start[0] for p in places}) == 1
    assert places[0].end[0] - places[0].start[0] >= LEAST_ROW


@pytest.mark.parametrize("room", ROOMS, ids=lambda r: f"{r[0]:g}x{r[1]:g}")
@pytest.mark.parametrize("count", [1, 2, 7, 13, 26, 40])
def test_squares_lie_in_the_field_and_apart_on_every_field_sold(room: tuple[float, float], count: int) -> None:
    places = square_places(count, room)
    assert len(places) == count
    assert apart_and_inside([(p.sheet, square_box(p)) for p in places], room)
    assert len({p.side for p in places}) == 1
    assert places[0].side >= LEAST_SQUARE


@given(
    st.lists(st.tuples(st.floats(0.5, 12), st.floats(0.5, 12)), min_size=1, max_size=40),
    st.floats(50, 400),
    st.floats(40, 400),
)
def test_any_rows_in_any_room_lie_in_it_and_apart(
    sides: list[tuple[float, float]], width: float, height: float
) -> None:
    reaches = [Reach(a, b) for a, b in sides]
    places = row_places(reaches, (width, height))
    assert len(places) == len(reaches)
    boxes = [(p.sheet, row_box(p, r)) for p, r in zip(places, reaches, strict=True)]
    assert apart_and_inside(boxes, (width, height))


@given(st.integers(1, 60), st.floats(40, 400), st.floats(40, 400))
def test_any_number_of_squares_in_any_room(count: int, width: float, height: float) -> None:
    places = square_places(count, (width, height))
    assert len(places) == count
    assert apart_and_inside([(p.sheet, square_box(p)) for p in places], (width, height))


def test_sheets_are_numbered_without_gaps_and_in_order() -> None:
    for places in (row_places(REACHES, (94.0, 94.0)), square_places(26, (94.0, 94.0))):
        sheets = [p.sheet for p in places]
        assert sheets == sorted(sheets)
        assert set(sheets) == set(range(sheets[-1] + 1))
        assert sheets[-1] > 0


def test_no_more_sheets_than_the_heights_of_the_rows_ask_for() -> None:
    """Each of 12 rows takes 10 mm and 4 to the next: 13 columns' worth is 164 mm, which is two columns of 94 mm."""
    places = row_places([Reach(5.0, 5.0)] * 12, (194.0, 94.0))
    assert {p.sheet for p in places} == {0}
    assert len({p.start[0] for p in places}) == 2
    assert [sum(p.start[0] == x for p in places) for x in sorted({p.start[0] for p in places})] == [6, 6]


def test_a_number_stands_at_the_middle_of_what_is_sewn_and_not_of_the_line() -> None:
    one_sided, both = row_places([Reach(0.0, 8.0), Reach(4.0, 4.0)], (124.0, 174.0))[:2]
    assert one_sided.label[1] == pytest.approx(one_sided.start[1] + 4.0)
    assert both.label[1] == pytest.approx(both.start[1])


def test_sheets_lie_about_the_middle_of_the_field() -> None:
    for room in ROOMS:
        boxes = [square_box(p) for p in square_places(24, room) if p.sheet == 0]
        left, low = min(b.bounds[0] for b in boxes), min(b.bounds[1] for b in boxes)
        right, high = max(b.bounds[2] for b in boxes), max(b.bounds[3] for b in boxes)
        assert (left + right, low + high) == pytest.approx((0.0, 0.0))


def test_sheets_are_equally_full_to_a_row() -> None:
    """26 squares, three beside each other and four rows a sheet: 9 rows on three sheets."""
    places = square_places(26, (144.0, 234.0))
    assert [sum(p.sheet == k for p in places) for k in range(3)] == [9, 9, 8]


def test_a_wide_field_gets_a_wide_sheet_and_a_tall_one_a_tall_sheet() -> None:
    def shape(room: tuple[float, float]) -> float:
        places = square_places(12, room)
        return len({p.corner[0] for p in places}) / len({p.corner[1] for p in places})

    assert shape((354.0, 194.0)) > 1.0 > shape((194.0, 354.0))


def test_a_room_that_is_too_small_gets_nothing() -> None:
    assert row_places(REACHES, (30.0, 200.0)) == ()
    assert row_places(REACHES, (200.0, 12.0)) == ()
    assert row_places([], (200.0, 200.0)) == ()
    assert square_places(3, (29.0, 200.0)) == ()
    assert square_places(3, (200.0, 30.0)) == ()
