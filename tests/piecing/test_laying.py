from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon, box

from hoopwright.core.errors import GeometryError
from hoopwright.piecing.laying import angled_frame, mirrored, raw_edge, seam_frame
from hoopwright.piecing.shapes import Seam
from hoopwright.piecing.templates import template_of

ALLOWANCE = 6.35
NUMBER = st.floats(-80, 80)


@given(NUMBER, NUMBER, st.floats(0, 360), st.lists(st.tuples(NUMBER, NUMBER), min_size=1))
def test_mirroring_twice_changes_nothing(x: float, y: float, angle: float, places: list[tuple[float, float]]) -> None:
    frame = angled_frame((x, y), angle)
    points = np.array(places)
    assert frame.mirror(frame.mirror(points)) == pytest.approx(points, abs=1e-9)


@given(NUMBER, NUMBER, st.floats(0, 360), st.tuples(NUMBER, NUMBER))
def test_going_into_a_frame_and_back_changes_nothing(
    x: float, y: float, angle: float, place: tuple[float, float]
) -> None:
    frame = angled_frame((x, y), angle)
    assert frame.hoop(frame.local(np.array([place])))[0] == pytest.approx(place, abs=1e-9)


def test_the_new_patch_has_positive_v() -> None:
    assert seam_frame(Seam(1, (0.0, 0.0), (10.0, 0.0))).local(np.array([[5.0, 3.0]]))[0] == pytest.approx((5, 3))
    assert seam_frame(Seam(1, (10.0, 0.0), (0.0, 0.0))).local(np.array([[5.0, 3.0]]))[0] == pytest.approx((5, -3))


def test_laid_cloth_lies_on_the_earlier_side_with_its_raw_edge_over_the_seam() -> None:
    """New patch above the x axis: laid down, its body is below, and the cut edge reaches one allowance above."""
    seam = Seam(1, (0.0, 0.0), (40.0, 0.0))
    area = box(0, 0, 40, 25)
    template = template_of(area, ALLOWANCE)
    laid = mirrored(template, seam)
    assert laid.bounds == pytest.approx((-ALLOWANCE, -25 - ALLOWANCE, 40 + ALLOWANCE, ALLOWANCE))
    edge = raw_edge(template, seam, ALLOWANCE)
    assert edge[0] == pytest.approx((-ALLOWANCE, ALLOWANCE))
    assert edge[1] == pytest.approx((40 + ALLOWANCE, ALLOWANCE))
    assert laid.exterior.distance(LineString(edge).interpolate(0.5, normalized=True)) < 1e-9


@pytest.mark.parametrize("angle", [0, 37, 90, 155, 260])
@pytest.mark.parametrize("shape", [[(0, 0), (50, 0), (20, 30)], [(-5, 0), (40, 0), (60, 50), (0, 20)]])
def test_raw_edge_lies_on_the_laid_cloth_and_one_allowance_past_the_seam(
    angle: float, shape: list[tuple[float, float]]
) -> None:
    turned = angled_frame((3.0, -7.0), angle)
    area = Polygon(turned.hoop(np.array(shape, dtype=np.float64)))
    ends = turned.hoop(np.array([(0.0, 0.0), (40.0, 0.0)]))
    seam = Seam(1, (ends[0, 0], ends[0, 1]), (ends[1, 0], ends[1, 1]))
    template = template_of(area, ALLOWANCE)
    edge = raw_edge(template, seam, ALLOWANCE)
    laid = mirrored(template, seam)
    assert laid.exterior.hausdorff_distance(mirrored(laid, seam).exterior) > 1
    assert laid.exterior.buffer(1e-6).covers(LineString(edge))
    assert turned.local(np.array(edge))[:, 1] == pytest.approx([ALLOWANCE, ALLOWANCE])
    assert math.dist(*edge) > math.dist(seam.start, seam.end)
    assert mirrored(laid, seam).symmetric_difference(template).area < 1e-6


def test_raw_edge_falls_back_on_the_seam_when_the_template_has_none_there() -> None:
    seam = Seam(1, (0.0, 0.0), (10.0, 0.0))
    assert raw_edge(box(0, 30, 10, 40), seam, ALLOWANCE) == ((0.0, ALLOWANCE), (10.0, ALLOWANCE))


def test_without_a_seam_nothing_is_mirrored() -> None:
    shape = box(0, 0, 1, 2)
    assert mirrored(shape, None) is shape


def test_a_seam_without_length_is_refused() -> None:
    with pytest.raises(GeometryError):
        seam_frame(Seam(1, (1.0, 1.0), (1.0, 1.0)))
