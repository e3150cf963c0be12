from __future__ import annotations

import math
from itertools import pairwise, product

import pytest
import shapely
from shapely.geometry import LineString, box

from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import ARC_CHORD
from hoopwright.items.parts.frame_draft import (
    BodyShape,
    FrameShape,
    bow,
    draft,
    lining_body,
    opening_edge,
    widest_flare,
)

FRAMES = (
    FrameShape(85, 45, 12),
    FrameShape(85, 45, 0),
    FrameShape(150, 60, 20),
    FrameShape(60, 30, 30),
    bow(80, 40),
    bow(80, 52),
    bow(100, 30),
    bow(105, 33),
)


def measured(line: LineString) -> float:
    """The length of a drawn line, as a tape laid along it measures it."""
    return sum(math.dist(a, b) for a, b in pairwise(line.coords))


def traced(frame: FrameShape) -> float:
    """Half a frame's perimeter by tracing a drawing of it made in another way: a rounded or round shape cut at its hinges."""
    reach = (math.sqrt(frame.radius**2 - max(0.0, frame.radius - frame.arm) ** 2), frame.arm - frame.radius)
    middles = [(way * (frame.width / 2 - reach[0]), reach[1]) for way in (1, -1)]
    corners = [
        shapely.Point(m).buffer(frame.radius, quad_segs=2000) if frame.radius else shapely.Point(m) for m in middles
    ]
    arms = [box(-frame.width / 2, -300, frame.width / 2, reach[1])] if reach[1] > 0 else []
    shape = shapely.convex_hull(shapely.union_all([*corners, *arms]))
    return float(shapely.intersection(shape.boundary, box(-500, 1e-6, 500, 500)).length)


@pytest.mark.parametrize("frame", FRAMES, ids=str)
def test_the_edge_of_a_frame_is_what_tracing_it_gives(frame: FrameShape) -> None:
    assert frame.edge == pytest.approx(traced(frame), abs=0.01)


@pytest.mark.parametrize(("frame", "flare", "ease"), list(product(FRAMES, (0.0, 5.0, 9.5), (0.0, 4.0, 10.0))), ids=str)
def test_the_edge_from_hinge_to_hinge_is_the_frame_s_and_the_ease(frame: FrameShape, flare: float, ease: float) -> None:
    """Within half a millimetre, measured along the drawn line; the frame traced in another way."""
    assert measured(opening_edge(frame, flare, ease)) == pytest.approx(traced(frame) + ease, abs=0.5)


@pytest.mark.parametrize("frame", FRAMES, ids=str)
def test_the_hinges_move_out_by_the_flare_and_only_the_arms_do(frame: FrameShape) -> None:
    edge = opening_edge(frame, 8.0, 0.0)
    assert edge.coords[-1][0] == pytest.approx(frame.width / 2 + 8.0, abs=0.01)
    assert edge.coords[0][0] == pytest.approx(-frame.width / 2 - 8.0, abs=0.01)
    assert edge.bounds[3] == pytest.approx(frame.arm, abs=0.01)
    flat = [(a[0], b[0]) for a, b in pairwise(edge.coords) if a[1] == pytest.approx(b[1], abs=1e-9)]
    assert sum(b - a for a, b in flat) == pytest.approx(max(0.0, frame.top), abs=0.01)


def test_a_square_frame_swings_its_arms_like_compasses() -> None:
    """Without a round corner the hinge stays on a circle of the arm's length about the corner: sine and cosine of one angle."""
    hinge = opening_edge(FrameShape(85, 45, 0), 20.0, 0.0).coords[-1]
    assert hinge == pytest.approx((62.5, 45 - math.sqrt(45**2 - 20**2)), abs=0.01)


def test_a_half_round_frame_unrolls_like_a_thread_from_a_reel() -> None:
    """The end of a thread unwound from a circle runs along its involute: (cos t + t sin t, sin t - t cos t) times the radius."""
    hinge = opening_edge(bow(80, 40), 10.0, 0.0).coords[-1]
    turns = [i * 1e-5 for i in range(130_000)]
    t = min(turns, key=lambda a: abs(math.cos(a) + a * math.sin(a) - 50 / 40))
    assert hinge[1] == pytest.approx(40 * (math.sin(t) - t * math.cos(t)), abs=0.01)


def test_the_edge_is_smooth_where_an_arm_leaves_its_corner() -> None:
    edge = opening_edge(FrameShape(85, 45, 12), 15.0, 4.0)
    bends = [
        abs(math.remainder(math.atan2(c[1] - b[1], c[0] - b[0]) - math.atan2(b[1] - a[1], b[0] - a[0]), math.tau))
        for a, b, c in zip(edge.coords, edge.coords[1:], edge.coords[2:], strict=False)
    ]
    assert max(bends) < math.radians(8)


def test_frames_that_cannot_be_are_refused() -> None:
    with pytest.raises(GeometryError, match="too round"):
        opening_edge(FrameShape(60, 50, 40), 5.0, 0.0)
    with pytest.raises(GeometryError, match="swung out"):
        opening_edge(bow(100, 30), widest_flare(bow(100, 30)) + 0.1, 0.0)


@pytest.mark.parametrize(("spread", "radius"), [(0.0, 0.0), (0.0, 25.0), (6.0, 25.0), (14.0, 40.0)])
def test_the_body_has_its_depth_and_its_round_corners_touch_both_sides(spread: float, radius: float) -> None:
    made = draft(FrameShape(85, 45, 12), 12.0, 4.0, BodyShape(75, spread, radius))
    (_, low), high = made.bottom.coords[0], made.hinges[1][1]
    assert high - low == pytest.approx(75)
    (seam,) = made.seams
    assert seam.coords[0] == pytest.approx(made.hinges[1]) and seam.coords[-1] == pytest.approx(made.hinges[0])
    sharp = draft(FrameShape(85, 45, 12), 12.0, 4.0, BodyShape(75, spread, 0.0)).outline
    assert made.outline.within(sharp.buffer(1e-6))
    if radius:
        opened = sharp.buffer(-radius, join_style="mitre").buffer(radius, quad_segs=200)
        lower = box(-200, low - 1, 200, high - 14)
        assert (
            made.outline.intersection(lower).symmetric_difference(opened.intersection(lower)).area
            < ARC_CHORD * seam.length
        )


def test_pattern_and_opening_are_mirror_images_left_and_right() -> None:
    made = draft(FrameShape(85, 45, 12), 12.0, 4.0, BodyShape(75, 5.0, 20.0))
    turned = shapely.transform(made.outline, lambda p: p * (-1.0, 1.0))
    assert made.outline.symmetric_difference(turned).area < 1e-6


@pytest.mark.parametrize("spread", [0.0, 8.0])
def test_both_edges_of_a_boxed_corner_are_equally_long(spread: float) -> None:
    made = draft(FrameShape(85, 45, 12), 12.0, 0.0, BodyShape(75, spread, 0.0, 18.0))
    side, bottom, other = made.seams
    top, end = side.coords[-1], bottom.coords[0]
    inner = (end[0], top[1])
    assert math.dist(top, inner) == pytest.approx(18.0) and math.dist(inner, end) == pytest.approx(18.0)
    assert not made.outline.buffer(-0.01).contains(shapely.Point(inner[0] + 1, inner[1] - 1))
    assert side.length == pytest.approx(other.length)


def test_bottoms_without_room_are_refused() -> None:
    frame = FrameShape(85, 45, 12)
    for body in (
        BodyShape(75, 0.0, 90.0),
        BodyShape(40, 0.0, 45.0),
        BodyShape(40, 0, 0, 41.0),
        BodyShape(200, 0, 0, 60.0),
    ):
        with pytest.raises(GeometryError):
            draft(frame, 12.0, 0.0, body)


@pytest.mark.parametrize("body", [BodyShape(75, 3.0, 22.0), BodyShape(75, 0.0, 0.0, 15.0)], ids=["round", "boxed"])
def test_the_lining_keeps_the_upper_edge_and_lies_inside_the_shell(body: BodyShape) -> None:
    frame = FrameShape(85, 45, 12)
    shell, lining = draft(frame, 12.0, 4.0, body), draft(frame, 12.0, 4.0, lining_body(body, 1.0))
    assert lining.opening.equals(shell.opening)
    assert lining.outline.within(shell.outline.buffer(1e-9))
    assert lining.bottom.distance(shell.bottom) == pytest.approx(1.0)
    middle = shapely.Point(0, shell.outline.bounds[1])
    assert lining.outline.exterior.distance(middle) == pytest.approx(1.0)


def test_a_centred_pattern_is_the_same_pattern() -> None:
    made = draft(FrameShape(85, 45, 12), 12.0, 4.0, BodyShape(75, 5.0, 20.0))
    moved = made.centred()
    assert moved.outline.bounds[1] == pytest.approx(-moved.outline.bounds[3])
    assert moved.outline.area == pytest.approx(made.outline.area)
    assert moved.opening.length == pytest.approx(made.opening.length)
    assert moved.seams[0].distance(shapely.Point(moved.hinges[0])) < 1e-9
