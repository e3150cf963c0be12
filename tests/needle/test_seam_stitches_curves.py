"""Rows along curves and round corners."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from shapely.geometry import LineString, Point, Polygon, box

from hoopwright.core.tolerances import MERGE, SAME_PLACE
from hoopwright.needle.seam_stitches import SEAM_STITCHES, sew_seam_stitch
from hoopwright.needle.seam_stitches.corners import legs_of
from hoopwright.needle.seam_stitches.row import whole_repeats
from hoopwright.needle.seam_stitches.track import Curved, Straight, track_of
from tests.needle.seam_rows import Weight, gaps, most_in_a_disc, sew, straight, style_of

NAMES = sorted(SEAM_STITCHES)


def arc(radius: float, degrees: float, count: int = 200) -> LineString:
    angles = np.radians(np.linspace(0.0, degrees, count))
    return LineString(np.column_stack([radius * np.sin(angles), radius * (1.0 - np.cos(angles))]))


def ring(shape: Polygon, inside: float) -> LineString:
    return LineString(shape.buffer(-inside, join_style="mitre", quad_segs=16).exterior.coords)


def flap(width: float, height: float, radius: float) -> Polygon:
    """A flap: its lower corners rounded."""
    low = box(-width / 2, -height / 2, width / 2, height / 2).buffer(-radius).buffer(radius, quad_segs=24)
    whole = low.union(box(-width / 2, 0.0, width / 2, height / 2))
    assert isinstance(whole, Polygon)
    return whole


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("weight", ["bold", "corded"])
def test_stitches_on_a_curve_are_neither_too_short_nor_too_long(name: str, weight: Weight) -> None:
    for path in (arc(18.0, 150.0), ring(flap(90.0, 70.0, 25.0), 8.0)):
        for row in sew_seam_stitch(path, style_of(name, weight), 1.0, 7.0):
            assert gaps(row).min() >= 1.0 - 2 * SAME_PLACE
            assert gaps(row).max() <= 7.0 + 2 * SAME_PLACE


@pytest.mark.parametrize("name", ["feather", "herringbone", "fan", "fly", "detached-chain-fan"])
def test_holes_on_the_squeezed_side_do_not_crowd(name: str) -> None:
    """A bend of 12 mm: a disc of 1 mm holds no more than on a straight seam allows."""
    for weight in ("bold", "corded"):
        row = sew(arc(12.0, 270.0), style_of(name, weight))
        assert most_in_a_disc(row) <= 14


@pytest.mark.parametrize("name", NAMES)
def test_a_wide_bend_has_as_many_repeats_as_a_straight_seam_of_its_length(name: str) -> None:
    """A bend of 2 m is hardly one: the stitches are those of the straight seam, carried to it."""
    path = arc(2000.0, math.degrees(60.0 / 2000.0), 400)
    bent, plain = sew(path, style_of(name)), sew(straight(path.length), style_of(name))
    assert abs(len(bent) - len(plain)) <= 4
    if len(bent) == len(plain):
        bowed = plain[:, 0] ** 2 / 4000.0
        assert_allclose(bent[:, 1], plain[:, 1] + bowed, atol=0.35)


def test_the_row_follows_the_arc_at_its_distance() -> None:
    radius = 25.0
    row = sew(arc(radius, 180.0), style_of("double-blanket"))
    away = np.hypot(row[:, 0], row[:, 1] - radius)
    half = SEAM_STITCHES["double-blanket"].width / 2
    assert away.min() >= radius - half - MERGE and away.max() <= radius + half + MERGE
    ridge = away[(away > radius - 1.0) & (away < radius + 1.0)]
    assert np.abs(ridge - radius).max() < 0.15


@pytest.mark.parametrize("name", ["herringbone", "chevron", "closed-feather", "cross", "ladder"])
def test_a_ring_shows_no_place_where_its_row_begins(name: str) -> None:
    """Turned by one repeat, the row round a circle lies on itself; its end is its start."""
    style = style_of(name)
    path = LineString(Point(0, 0).buffer(30.0, quad_segs=90).exterior.coords)
    row = sew(path, style)
    count = whole_repeats(path.length, SEAM_STITCHES[name].wished_repeat(style.width))
    assert_allclose(row[0], row[-1], atol=SAME_PLACE)
    seen = LineString(row)
    turned = shapely.affinity.rotate(seen, 360.0 / count, origin=(0.0, 0.0))
    assert shapely.hausdorff_distance(seen, turned, densify=0.05) < 0.35


def test_repeats_on_an_ellipse_are_whole_and_even() -> None:
    ellipse = shapely.affinity.scale(Point(0, 0).buffer(30.0, quad_segs=64), 1.3, 1.0)
    path = LineString(ellipse.exterior.coords)
    row = sew(path, style_of("star"))
    on_line = [path.project(Point(p)) for p in np.unique(np.round(row, 6), axis=0) if path.distance(Point(p)) < 0.05]
    hubs = np.sort(on_line)
    wish = SEAM_STITCHES["star"].wished_repeat(6.0)
    count = round(path.length / wish)
    steps = np.diff(hubs[np.concatenate([[True], np.diff(hubs) > 0.5])])
    assert abs(steps.mean() - path.length / count / 2) < 0.6


@settings(deadline=None, max_examples=30)
@given(
    st.sampled_from(NAMES),
    st.sampled_from(["fine", "bold", "corded"]),
    st.floats(40.0, 110.0),
    st.floats(40.0, 90.0),
    st.floats(0.0, 19.0),
    st.booleans(),
    st.booleans(),
)
def test_nothing_leaves_the_clip_and_the_lengths_hold(
    name: str, weight: Weight, width: float, height: float, radius: float, mirror: bool, turn: bool
) -> None:
    outline = box(0.0, 0.0, width, height).buffer(-radius).buffer(radius) if radius else box(0.0, 0.0, width, height)
    style = style_of(name, weight, clip=outline.buffer(-2.0), mirror=mirror, turn=turn)
    for row in sew_seam_stitch(ring(outline, 3.0 + style.width / 2), style, 1.0, 7.0):
        assert outline.buffer(-2.0).buffer(2 * MERGE, join_style="mitre").covers(LineString(row))
        assert gaps(row).min() >= 1.0 - 2 * SAME_PLACE and gaps(row).max() <= 7.0 + 2 * SAME_PLACE


@pytest.mark.parametrize("name", ["herringbone", "chevron", "ladder"])
def test_rows_at_a_sharp_corner_do_not_run_into_each_other(name: str) -> None:
    path = ring(box(0.0, 0.0, 80.0, 60.0), 6.0)
    rows = list(sew_seam_stitch(path, style_of(name), 1.0, 7.0))
    assert len(rows) <= 8
    half = SEAM_STITCHES[name].width / 2
    corner = LineString([(6.0, 6.0), (6.0 + half * 0.9, 6.0 + half * 0.9)])
    for row in rows:
        assert not LineString(row).crosses(corner) or LineString(row).distance(Point(6.0, 6.0)) < 1e-6


@pytest.mark.parametrize(("name", "runs"), [("feather", 1), ("cretan", 1), ("herringbone", 8)])
def test_rows_that_run_out_on_the_line_are_joined_through_their_corners(name: str, runs: int) -> None:
    assert len(sew_seam_stitch(ring(box(0.0, 0.0, 80.0, 60.0), 7.0), style_of(name), 1.0, 7.0)) == runs


def test_the_motif_of_a_corner_points_outwards() -> None:
    path = ring(box(0.0, 0.0, 80.0, 60.0), 7.0)
    points = np.concatenate(sew_seam_stitch(path, style_of("cretan"), 1.0, 7.0))
    for corner, way in (((7.0, 7.0), (-1, -1)), ((73.0, 53.0), (1, 1))):
        out = (points - corner) * way
        beyond = points[(out > 0.5).all(axis=1)]
        assert len(beyond) >= 2


@pytest.mark.parametrize(
    ("path", "count"),
    [
        (arc(20.0, 160.0), 1),
        (LineString([(0, 0), (30, 0), (30, 30)]), 2),
        (ring(box(0, 0, 60, 50), 5.0), 4),
        (ring(flap(90.0, 70.0, 25.0), 8.0), 2),
        (LineString(Point(0, 0).buffer(25.0, quad_segs=32).exterior.coords), 1),
    ],
)
def test_lines_are_broken_at_sharp_corners_only(path: LineString, count: int) -> None:
    legs = list(legs_of(path, 4.0))
    assert len(legs) == count
    assert sum(leg.track.length for leg in legs) == pytest.approx(path.length, rel=0.01)


def test_a_row_stays_so_far_off_a_square_corner_that_inner_edges_meet() -> None:
    """At 90 degrees half a width: the tangent of 45 degrees is 1."""
    first, second = legs_of(LineString([(0, 0), (30, 0), (30, 30)]), 4.0)
    assert (first.first, second.last) == (0.0, 0.0)
    assert first.last == pytest.approx(4.0, abs=0.01) == second.first
    assert first.corner is not None and second.corner is None
    assert first.corner.outward == pytest.approx((math.sqrt(0.5), -math.sqrt(0.5)), abs=0.01)


def test_tracks() -> None:
    assert isinstance(track_of(LineString([(0, 0), (5, 0), (9, 0)])), Straight)
    bent = track_of(arc(10.0, 90.0))
    assert isinstance(bent, Curved)
    assert bent.length == pytest.approx(5 * math.pi, rel=0.001)
    assert bent.carry((bent.length / 2, 2.0)) == pytest.approx(
        (8 * math.sin(math.pi / 4), 10 - 8 * math.cos(math.pi / 4)), abs=0.05
    )
    assert_allclose(np.median(bent.bends), 0.1, atol=0.01)
    back = bent.reversed()
    assert back.carry((0.0, 0.0)) == pytest.approx(bent.carry((bent.length, 0.0)))
    assert bent.part(2.0, 8.0).length == pytest.approx(6.0, abs=0.3)


def test_room_inside_a_bend_is_less_than_its_radius() -> None:
    room = track_of(arc(5.0, 180.0)).room(None, 6.0)
    assert room.reach(7.0, 1.0) <= 4.0
    assert room.reach(7.0, -1.0) == 6.0
