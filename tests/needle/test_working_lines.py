from __future__ import annotations

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, box

from hoopwright.needle.working_lines import free_edges, layout_lines, region_of, ring, seam_line
from hoopwright.piecing.patch_map_basics import map_of
from hoopwright.piecing.shapes import PatchMap, Seam
from hoopwright.plane.subdivision import subdivide


def three_strips() -> PatchMap:
    outline = box(-30, -20, 30, 20)
    return map_of(outline, subdivide(outline, [((-10, -20), (-10, 20)), ((10, -20), (10, 20))]))


def test_the_layout_holds_outline_and_seams_of_a_section() -> None:
    strips = three_strips()
    whole = shapely.union_all(layout_lines(strips, strips.letters))
    assert whole.length == pytest.approx(2 * (60 + 40) + 2 * 40)
    pair = shapely.union_all(layout_lines(strips, strips.letters[:2]))
    assert pair.length == pytest.approx(2 * (40 + 40) + 40)


def test_a_tack_down_lies_outside_its_patch() -> None:
    line = ring(box(0, 0, 20, 10), 1.5)
    assert line.is_closed
    assert Point(0, 5).distance(line) == pytest.approx(1.5)
    assert (-1.5, -1.5) in [tuple(p) for p in shapely.get_coordinates(line).round(6).tolist()]


def test_a_seam_is_sewn_on_where_nothing_shows() -> None:
    visible = box(-10, -20, 10, 20)
    line = seam_line(Seam(1, (10, 20), (10, -20)), visible, 3.0)
    assert list(line.coords) == [(10, 23), (10, -23)]


def test_a_seam_stops_before_a_patch_that_stays_visible() -> None:
    """The way on beyond (0, 20) enters an earlier patch after 1 mm; beyond (0, -20) it is free."""
    visible = shapely.union_all([box(-10, -20, 10, 20), box(-10, 21, 10, 40)])
    line = seam_line(Seam(1, (0, 20), (0, -20)), visible, 3.0)
    (_, top), (_, foot) = line.coords
    assert top == pytest.approx(21.0, abs=0.05)
    assert foot == pytest.approx(-23.0)


@given(st.floats(0.3, 6), st.floats(1, 40), st.floats(1, 40))
def test_a_sewn_on_seam_never_runs_inside_visible_cloth(past: float, left: float, right: float) -> None:
    visible = shapely.union_all([box(-left, -10, 0, 10), box(0, -10, right, 10), box(-left, 12, right, 30)])
    line = seam_line(Seam(1, (0, -10), (0, 10)), visible, past)
    beyond = line.difference(LineString([(0, -10), (0, 10)]))
    assert beyond.intersection(visible.buffer(-0.05)).is_empty
    assert LineString([(0, -10), (0, 10)]).within(line.buffer(1e-6))


def test_free_edges_leave_the_seam_open() -> None:
    area = box(0, 0, 20, 10)
    line = free_edges(area, Seam(1, (0, 0), (20, 0)), 1.0)
    assert not line.is_closed
    assert line.distance(Point(10, 0)) > 5
    assert line.distance(Point(10, 10)) == pytest.approx(1.0)


def test_the_region_of_two_patches_is_their_union() -> None:
    strips = three_strips()
    assert region_of(strips, strips.letters).equals(strips.outline)
