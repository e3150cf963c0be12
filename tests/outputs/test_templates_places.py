from __future__ import annotations

import pytest
import shapely
from shapely.geometry import Polygon, box

from hoopwright.outputs.templates.places import fit_arrow, fit_box, middle_of

TRIANGLE = Polygon([(0, 0), (60, 0), (0, 40)])


def test_a_box_lies_inside_the_room() -> None:
    found = fit_box(TRIANGLE, 15, 8)
    assert found is not None
    x, y = found
    assert TRIANGLE.contains(box(x - 7.5, y - 4, x + 7.5, y + 4))


def test_a_box_stands_in_the_middle_of_an_open_room() -> None:
    assert fit_box(box(0, 0, 48, 24), 10, 5) == pytest.approx((24, 12))


@pytest.mark.parametrize("room", [box(0, 0, 9, 9), Polygon()])
def test_no_box_where_there_is_no_room(room: Polygon) -> None:
    assert fit_box(room, 10, 5) is None


@pytest.mark.parametrize("angle", [0, 33, 90, 150, -62])
def test_the_longest_arrow_that_fits_is_taken(angle: float) -> None:
    line = fit_arrow(TRIANGLE, angle, (200.0, 12.0, 5.0))
    assert line is not None
    assert line.length == pytest.approx(12.0)
    assert TRIANGLE.contains(line)
    (a, b), (c, d) = line.coords
    assert shapely.Point(c - a, d - b).distance(shapely.LineString([(0, 0), _along(angle)])) < 1e-9


def _along(angle: float) -> tuple[float, float]:
    import math

    return 20 * math.cos(math.radians(angle)), 20 * math.sin(math.radians(angle))


def test_no_arrow_where_there_is_no_room() -> None:
    assert fit_arrow(box(0, 0, 4, 4), 0, (10.0,)) is None


def test_the_middle_of_a_bent_piece_is_inside_it() -> None:
    bent = Polygon([(0, 0), (50, 0), (50, 4), (4, 4), (4, 50), (0, 50)])
    assert bent.contains(shapely.Point(middle_of(bent)))
