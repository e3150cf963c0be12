from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Polygon, box

from hoopwright.needle.numerals import CLEARANCE, SMALLEST, glyphs, numeral_lines
from hoopwright.operations.vocabulary import Numeral


@given(
    st.integers(1, 199),
    st.lists(st.tuples(st.floats(5, 60), st.floats(0, 1)), min_size=3, max_size=9),
    st.floats(4, 15),
)
@settings(max_examples=60)
def test_a_numeral_keeps_clear_of_every_edge(number: int, spokes: list[tuple[float, float]], height: float) -> None:
    count = len(spokes)
    corners = [
        (r * math.cos(2 * math.pi * (i + t * 0.8) / count), r * math.sin(2 * math.pi * (i + t * 0.8) / count))
        for i, (r, t) in enumerate(spokes)
    ]
    region = Polygon(corners)
    lines = numeral_lines(Numeral(str(number), region), height)
    for line in lines:
        assert region.contains(line)
        assert region.exterior.distance(line) >= CLEARANCE - 1e-6
    if lines:
        low_x, low_y, high_x, high_y = shapely.total_bounds(lines)
        assert math.hypot(high_x - low_x, high_y - low_y) >= SMALLEST


def test_a_roomy_patch_gets_the_wished_height_upright() -> None:
    _, low, _, high = shapely.total_bounds(numeral_lines(Numeral("7", box(0, 0, 50, 50)), 10.0))
    assert high - low == pytest.approx(10.0)


@pytest.mark.parametrize("angle", range(0, 360, 15))
def test_a_turned_numeral_is_never_upside_down(angle: int) -> None:
    """The top stroke of a 7 lies above its foot, whichever way its narrow patch runs."""
    strip = affinity.rotate(box(-60, -4.5, 60, 4.5), angle, origin=(0, 0))
    lines = numeral_lines(Numeral("17", strip), 10.0)
    upright = glyphs("17")
    assert lines
    first, last = shapely.get_coordinates(lines[0]), shapely.get_coordinates(upright[0])
    turn = math.atan2(*(first[-1] - first[0])[::-1]) - math.atan2(*(last[-1] - last[0])[::-1])
    assert abs((math.degrees(turn) + 180) % 360 - 180) <= 90 + 1e-6


def test_a_needle_thin_patch_gets_none() -> None:
    assert numeral_lines(Numeral("3", box(0, 0, 80, 4)), 10.0) == ()


def test_every_digit_has_strokes() -> None:
    assert all(glyphs(d) for d in "0123456789S")
