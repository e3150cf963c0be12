from __future__ import annotations

import numpy as np
import pytest
from shapely.geometry import Polygon, box

from hoopwright.piecing.allowances import (
    LEAST_AT_RIM,
    LEAST_AT_SEAM,
    beyond_seam,
    hidden_by,
    least_width,
    needed_cloth,
)
from hoopwright.piecing.laying import seam_frame
from hoopwright.piecing.shapes import Seam
from hoopwright.piecing.templates import corners_of, template_of

ALLOWANCE = 6.35
AXIS = seam_frame(Seam(1, (0.0, 0.0), (20.0, 0.0)))


def hidden(area: Polygon, earlier: Polygon) -> tuple[Polygon, ...]:
    return hidden_by(template_of(area, ALLOWANCE), area, AXIS, ALLOWANCE, earlier)


def test_edges_on_the_outline_need_less_than_seams() -> None:
    """A 20 x 10 patch in the left lower corner of a panel: rim left and below, seams right and above."""
    needed = needed_cloth(corners_of(box(0, 0, 20, 10)), box(0, 0, 50, 50), ALLOWANCE)
    assert needed.region().bounds == (-LEAST_AT_RIM, -LEAST_AT_RIM, 20 + LEAST_AT_SEAM, 10 + LEAST_AT_SEAM)
    assert needed.region().area == pytest.approx(200 + 20 * (2 + 3) + 10 * (2 + 3))


def test_a_small_allowance_is_never_needed_beyond_its_half() -> None:
    needed = needed_cloth(corners_of(box(0, 0, 20, 10)), box(-50, -50, 50, 50), 2.0)
    assert needed.region().bounds == (-1, -1, 21, 11)


def test_hull_of_what_is_needed_holds_all_moved_ends() -> None:
    needed = needed_cloth(corners_of(box(0, 0, 20, 10)), box(0, 0, 50, 50), ALLOWANCE)
    hull = Polygon(needed.hull)
    assert all(hull.distance(box(x, y, x, y).centroid) < 1e-9 for x, y in needed.moved)
    assert len(needed.hull) == 8


def test_a_patch_beside_a_wide_gap_hides_nothing() -> None:
    assert hidden(box(0, 0, 20, 30), box(20 + ALLOWANCE, 0, 60, 30)) == ()


def test_a_gap_narrower_than_the_allowance_leaves_a_strip_hidden() -> None:
    """A gap of 2 mm: 4.35 mm of the neighbour are hidden over its whole height of 30 mm."""
    parts = hidden(box(0, 0, 20, 30), box(22, 0, 60, 30))
    assert len(parts) == 1
    assert parts[0].bounds == pytest.approx((22, 0, 26.35, 30))


def test_the_earlier_side_of_the_seam_is_not_hidden() -> None:
    """The allowance past the seam lies under the flipped cloth, not on the earlier patch."""
    assert hidden(box(0, 0, 20, 30), box(-40, -40, 60, 0)) == ()


def test_neighbours_on_both_sides_give_two_parts_largest_first() -> None:
    earlier = Polygon([(-40, -20), (60, -20), (60, 30), (21, 30), (21, 0), (-1, 0), (-1, 10), (-40, 10)])
    parts = hidden(box(0, 0, 20, 30), earlier)
    assert [round(p.area, 3) for p in parts] == [round(5.35 * 30, 3), round(5.35 * 10, 3)]


def test_a_patch_behind_its_own_seam_line_is_found_and_hides_its_neighbour() -> None:
    """The patch reaches 10 mm down beside the earlier patch, 1 mm away from it."""
    area = Polygon([(0, 0), (21, 0), (21, -10), (40, -10), (40, 30), (0, 30)])
    behind = beyond_seam(area, AXIS)
    assert behind is not None
    assert behind.bounds == (21, -10, 40, 0)
    parts = hidden(area, box(0, -30, 20, 0))
    assert len(parts) == 1
    assert parts[0].bounds[2:] == pytest.approx((20, 0))
    assert parts[0].bounds[0] == pytest.approx(21 - ALLOWANCE)


def test_a_patch_in_front_of_its_seam_line_has_nothing_behind() -> None:
    assert beyond_seam(box(0, 0, 20, 30), AXIS) is None


def test_least_width_of_a_strip_a_triangle_and_a_dented_shape() -> None:
    assert least_width(box(0, 0, 50, 7)) == pytest.approx(7)
    side = 10.0
    triangle = Polygon([(0, 0), (side, 0), (side / 2, side * np.sqrt(3) / 2)])
    assert least_width(triangle) == pytest.approx(side * np.sqrt(3) / 2)  # the height of an equilateral triangle
    assert least_width(Polygon([(0, 0), (30, 0), (30, 12), (15, 4), (0, 12)])) == pytest.approx(12)
