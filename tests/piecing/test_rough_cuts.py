from __future__ import annotations

import math

import pytest
import shapely
from shapely.affinity import rotate
from shapely.geometry import Polygon, box

from hoopwright.piecing.allowances import Needed, needed_cloth
from hoopwright.piecing.cover import Errors, cover_of, draw_errors
from hoopwright.piecing.laying import seam_frame
from hoopwright.piecing.rough_cuts import first_frame, pivot_of, rough_cut
from hoopwright.piecing.shapes import Cut, Seam
from hoopwright.piecing.templates import corners_of, template_of

ALLOWANCE = 6.35
AREA = Polygon([(0, 0), (60, 0), (75, 35), (10, 50)])
SEAM = Seam(1, (0.0, 0.0), (60.0, 0.0))


def need(area: Polygon) -> Needed:
    return needed_cloth(corners_of(area), box(-500, -500, 500, 500), ALLOWANCE)


def cut(errors: Errors, chance: float = 0.01, area: Polygon = AREA, seam: Seam = SEAM) -> Cut:
    return rough_cut(template_of(area, ALLOWANCE), need(area), seam_frame(seam), True, chance, errors)


def test_without_errors_it_is_the_box_round_the_template_in_whole_millimetres() -> None:
    left, low, right, high = template_of(AREA, ALLOWANCE).bounds
    rough = cut(draw_errors(0, 0, 100, 1))
    assert (rough.width, rough.height) == (math.ceil(right - left), math.ceil(high - low))
    assert rough.cover.worst == 0.0


def test_it_covers_the_template_and_keeps_the_raw_edge_at_the_allowance() -> None:
    rough = cut(draw_errors(3, 5, 1000, 1))
    assert rough.outline.covers(template_of(AREA, ALLOWANCE))
    assert rough.outline.bounds[1] == pytest.approx(-ALLOWANCE)
    assert rough.outline.area == pytest.approx(rough.width * rough.height)


TALL = box(0, 0, 20, 100)
TALL_SEAM = Seam(1, (0.0, 0.0), (20.0, 0.0))


def test_it_grows_until_the_chance_is_accepted_and_no_further() -> None:
    """A turn moves the far end of a tall patch most. 1 mm less all round (but for the raw edge) would fail too often."""
    errors = draw_errors(1, 4, 1000, 1)
    rough = cut(errors, 0.01, TALL, TALL_SEAM)
    assert rough.width > 20 + 2 * ALLOWANCE + 3
    assert rough.cover.chance < 0.01
    left, low, right, high = rough.outline.bounds
    smaller = box(left + 1, low, right - 1, high - 1)
    assert cover_of(smaller, need(TALL), pivot_of(smaller, seam_frame(TALL_SEAM), ALLOWANCE), errors).chance >= 0.01


def test_a_smaller_accepted_chance_needs_more_cloth() -> None:
    errors = draw_errors(1, 4, 5000, 1)
    sizes = [cut(errors, chance, TALL, TALL_SEAM).outline.area for chance in (0.3, 0.1, 0.05, 0.001)]
    assert sizes == sorted(sizes)
    assert sizes[0] < sizes[-1]


def test_when_only_the_raw_edge_fails_the_chance_stays_too_high() -> None:
    """A shift of 6 mm can leave less than 3 mm of cloth past the seam, however large the piece is."""
    rough = cut(draw_errors(6, 0, 1000, 1))
    assert rough.cover.chance > 0.1
    assert rough.cover.worst == pytest.approx(6 - (ALLOWANCE - 3.0))


@pytest.mark.parametrize("angle", [30, 117, 200])
def test_it_turns_with_the_seam(angle: float) -> None:
    errors = draw_errors(0, 0, 100, 1)
    plain = cut(errors)
    turned = rotate(AREA, angle, origin=(0, 0))
    end = shapely.get_coordinates(rotate(shapely.Point(60, 0), angle, origin=(0, 0)))[0]
    rough = cut(errors, area=turned, seam=Seam(1, (0.0, 0.0), (float(end[0]), float(end[1]))))
    assert rough.outline.symmetric_difference(rotate(plain.outline, angle, origin=(0, 0))).area < 1e-3


def test_first_patch_lies_along_the_hoop_when_that_wastes_little() -> None:
    strip = box(-40, -8, 40, 8)
    assert first_frame(rotate(strip, 4), False).angle == 0.0
    assert first_frame(rotate(strip, 30), False).angle == pytest.approx(30)
    assert first_frame(rotate(strip, 30), True).angle == 0.0
    assert first_frame(rotate(box(-8, -8, 8, 8), 3), False).angle == 0.0


def test_first_rectangle_grows_on_all_sides() -> None:
    strip = rotate(box(-40, -8, 40, 8), 30)
    template = template_of(strip, ALLOWANCE)
    frame = first_frame(template, False)
    rough = rough_cut(template, need(strip), frame, False, 0.01, draw_errors(5, 2, 1000, 1))
    assert rough.outline.covers(template)
    assert rough.cover.chance < 0.01
    assert rough.outline.centroid.distance(strip.centroid) < 1e-6
    assert (rough.width, rough.height) >= (94, 30)


def test_a_cloth_is_turned_about_the_middle_of_its_raw_edge() -> None:
    frame = seam_frame(SEAM)
    assert pivot_of(box(-8, -ALLOWANCE, 48, 30), frame, ALLOWANCE) == pytest.approx((20, -ALLOWANCE))
    behind = Polygon([(0, -ALLOWANCE), (40, -ALLOWANCE), (40, -30), (70, -30), (70, 30), (0, 30)])
    assert pivot_of(behind, frame, ALLOWANCE) == pytest.approx((20, -ALLOWANCE))
    assert pivot_of(box(0, 0, 20, 30), frame, None) == pytest.approx((10, 15))
