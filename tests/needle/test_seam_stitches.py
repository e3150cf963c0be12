from __future__ import annotations

import math
from itertools import combinations
from typing import TypeAlias

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from shapely.geometry import LineString, MultiPoint, Polygon, box

from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import MERGE, SAME_PLACE
from hoopwright.core.types import Points
from hoopwright.needle.seam_stitches import SEAM_STITCHES, SeamStitch, Symmetry, sew_seam_stitch, whole_repeats
from hoopwright.operations.vocabulary import OrnamentStyle

Case: TypeAlias = tuple[SeamStitch, float, float, float | None, float, float]

NAMES = sorted(SEAM_STITCHES)
KNOTTED = {"coral", "zigzag-coral", "scroll", "knot-spray", "feather-with-knots"}
FINEST = 0.6
"""No stitch of an ornament is shorter: stated in the docstring of sew_seam_stitch."""

# Common practice, no source: the traditional hand stitches for seams.
TRADITIONAL = {
    "feather",
    "herringbone",
    "cretan",
    "chevron",
    "blanket",
    "fly",
    "wheatear",
    "chain",
    "detached-chain-fan",
    "cross",
    "fan",
    "coral",
}

# Outermost holes on the left of a seam: so many in each repeat, so many more in all. Counted on drawings of the
# hand stitches, not on what the program makes.
TIPS = {
    "feather": (1, 0),
    "double-feather": (1, 0),
    "triple-feather": (1, 0),
    "herringbone": (2, 0),
    "cretan": (1, 0),
    "blanket": (1, 1),
    "long-short-blanket": (1, 1),
    "double-blanket": (1, 1),
    "closed-blanket": (1, 0),
    "fly": (1, 0),
    "fern": (1, 0),
    "wheatear": (1, 1),
    "cross": (1, 1),
    "star": (1, 0),
    "sheaf": (3, 0),
}


def sew(name: str, length: float, width: float, shortest: float = 1.0, longest: float = 7.0, **more: object) -> Points:
    style = OrnamentStyle(name, width, **more)  # type: ignore[arg-type]
    (points,) = sew_seam_stitch(LineString([(0, 0), (length, 0)]), style, shortest, longest)
    return points


def steps(points: Points) -> Points:
    gaps: Points = np.hypot(*np.diff(points, axis=0).T)
    return gaps


def crowd(points: Points, radius: float = 0.5) -> int:
    """Return the most distinct holes in any circle: the best circle has two holes on its edge, or one in its middle."""
    holes = np.unique(np.round(points, 7), axis=0)
    centres = [holes]
    for a, b in combinations(holes, 2):
        gap = math.dist(a, b)
        if 0 < gap <= 2 * radius:
            up = math.sqrt(radius**2 - gap**2 / 4) * np.array([a[1] - b[1], b[0] - a[0]]) / gap
            centres.append(np.array([(a + b) / 2 + up, (a + b) / 2 - up]))
    places = np.concatenate(centres)
    inside = np.hypot(*(places[:, None, :] - holes[None, :, :]).transpose(2, 0, 1)) <= radius + 1e-9
    return int(inside.sum(axis=1).max())


@st.composite
def cases(draw: st.DrawFn) -> Case:
    """A stitch with a length, width, repeat, shortest and longest stitch that a project file allows."""
    stitch = SEAM_STITCHES[draw(st.sampled_from(NAMES))]
    width = draw(st.floats(1.0, 20.0))
    repeat = draw(st.none() | st.floats(2.0, 60.0))
    wish = stitch.proportion * width if repeat is None else repeat
    length = draw(st.floats(max(4.0, 0.61 * wish), max(160.0, wish)))
    return stitch, length, width, repeat, draw(st.floats(0.2, 2.0)), draw(st.floats(2.0, 12.0))


def test_the_traditional_stitches_are_there() -> None:
    assert set(SEAM_STITCHES) >= TRADITIONAL


@settings(deadline=None)
@given(cases())
def test_every_stitch_is_neither_too_short_nor_too_long(
    case: Case,
) -> None:
    stitch, length, width, repeat, shortest, longest = case
    gaps = steps(sew(stitch.name, length, width, shortest, longest, repeat=repeat))
    assert gaps.min() >= max(FINEST, min(shortest, longest / 2)) - SAME_PLACE * 2
    assert gaps.max() <= longest + SAME_PLACE * 2


@settings(deadline=None)
@given(cases())
def test_stitches_stay_in_the_width_and_between_the_ends_and_reach_both(
    case: Case,
) -> None:
    stitch, length, width, repeat, shortest, longest = case
    along, across = sew(stitch.name, length, width, shortest, longest, repeat=repeat).T
    assert np.abs(across).max() <= width / 2 + SAME_PLACE * 2
    assert -SAME_PLACE * 2 <= along.min() <= max(shortest, FINEST)
    assert length - max(shortest, FINEST) - MERGE <= along.max() <= length + SAME_PLACE * 2


@settings(deadline=None)
@given(cases())
def test_holes_never_crowd(case: Case) -> None:
    stitch, length, width, repeat, shortest, longest = case
    if stitch.name not in KNOTTED:
        assert (
            crowd(sew(stitch.name, min(length, 40.0), width, shortest, longest, repeat=min(repeat or 5.0, 40.0))) <= 4
        )


@settings(deadline=None)
@given(cases())
def test_mirror_reflects_over_the_seam_and_turn_turns_half_round(
    case: Case,
) -> None:
    stitch, length, width, repeat, shortest, longest = case
    plain = sew(stitch.name, length, width, shortest, longest, repeat=repeat)
    mirrored = sew(stitch.name, length, width, shortest, longest, repeat=repeat, mirror=True)
    turned = sew(stitch.name, length, width, shortest, longest, repeat=repeat, turn=True)
    assert_allclose(mirrored, plain * [1, -1], atol=1e-9)
    assert_allclose(turned, [length, 0] - plain, atol=1e-9)


@settings(deadline=None)
@given(cases(), st.floats(-3.0, 3.0), st.floats(-99.0, 99.0))
def test_the_same_picture_on_a_seam_in_any_direction(case: Case, angle: float, shift: float) -> None:
    stitch, length, width, repeat, _, _ = case
    c, s = math.cos(angle), math.sin(angle)
    path = LineString([(shift, 1.0), (shift + c * length, 1.0 + s * length)])
    (placed,) = sew_seam_stitch(path, OrnamentStyle(stitch.name, width, repeat), 1.0, 7.0)
    straight = sew(stitch.name, path.length, width, repeat=repeat)
    if len(straight) == len(placed):  # rounding may move one place over the edge of a merge
        assert_allclose(placed, straight @ np.array([[c, s], [-s, c]]) + [shift, 1.0], atol=1e-6)
    else:
        assert (
            MultiPoint(placed).hausdorff_distance(MultiPoint(straight @ np.array([[c, s], [-s, c]]) + [shift, 1.0]))
            < 2.0
        )


@pytest.mark.parametrize("name", sorted(TIPS))
@pytest.mark.parametrize("length", [13.0, 31.0, 64.5, 107.0])
def test_whole_repeats_as_many_as_come_nearest_to_the_wish(name: str, length: float) -> None:
    stitch = SEAM_STITCHES[name]
    wish = stitch.proportion * stitch.width
    nearest = min(range(1, 200), key=lambda n: abs(n - length / wish))
    across = np.unique(np.round(sew(name, length, stitch.width), 6), axis=0)[:, 1]
    each, more = TIPS[name]
    assert np.count_nonzero(across > stitch.width / 2 - 0.01) == each * nearest + more


@pytest.mark.parametrize(
    ("length", "wish", "count"), [(10, 4, 3), (9.9, 4, 2), (1, 4, 1), (100, 7, 14), (100, 6.9, 14)]
)
def test_whole_repeats(length: float, wish: float, count: int) -> None:
    assert whole_repeats(length, wish) == count


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("length", [31.0, 47.0, 93.7])
def test_each_stitch_has_the_symmetry_it_states(name: str, length: float) -> None:
    points = sew(name, length, SEAM_STITCHES[name].width)
    reflected = MultiPoint(points).hausdorff_distance(MultiPoint([length, 0] + points * [-1, 1]))
    turned = MultiPoint(points).hausdorff_distance(MultiPoint([length, 0] - points))
    if SEAM_STITCHES[name].symmetry is Symmetry.MIRROR:
        assert reflected < SAME_PLACE * 10
    elif SEAM_STITCHES[name].symmetry is Symmetry.HALF_TURN:
        assert turned < SAME_PLACE * 10 < reflected
    else:
        assert min(reflected, turned) > 0.5


@settings(deadline=None)
@given(cases())
def test_the_same_wish_gives_the_same_stitches(
    case: Case,
) -> None:
    stitch, length, width, repeat, shortest, longest = case
    first = sew(stitch.name, length, width, shortest, longest, repeat=repeat)
    assert (first == sew(stitch.name, length, width, shortest, longest, repeat=repeat)).all()


@st.composite
def clips(draw: st.DrawFn) -> tuple[float, Polygon]:
    """A seam from (0, 0) and a region round it: pointed or blunt ends, notches, any width."""
    length = draw(st.floats(10.0, 90.0))
    sides = []
    for side in (1.0, -1.0):
        marks = sorted(draw(st.lists(st.floats(0.02, 0.98), min_size=1, max_size=7, unique=True)))
        heights = draw(st.lists(st.floats(0.2, 12.0), min_size=len(marks), max_size=len(marks)))
        sides.append([(length * m, side * h) for m, h in zip(marks, heights, strict=True)])
    ring = [(-0.3, 0.0), *sides[1], (length + 0.3, 0.0), *reversed(sides[0])]
    return length, Polygon(ring)


@settings(deadline=None)
@given(cases(), clips(), st.booleans(), st.booleans())
def test_nothing_leaves_the_clip_and_the_lengths_still_hold(
    case: Case,
    place: tuple[float, Polygon],
    mirror: bool,
    turn: bool,
) -> None:
    stitch, _, width, repeat, shortest, longest = case
    length, clip = place
    style = OrnamentStyle(stitch.name, width, repeat, mirror, turn, clip)
    runs = sew_seam_stitch(LineString([(0, 0), (length, 0)]), style, shortest, longest)
    grown = clip.buffer(2 * MERGE, join_style="mitre")
    for run in runs:
        assert grown.covers(LineString(run))
        assert steps(run).min() >= max(FINEST, min(shortest, longest / 2)) - SAME_PLACE * 2
        assert steps(run).max() <= longest + SAME_PLACE * 2


# Found by search: without the rule that a fifth hole near four others falls into the nearest, each has five.
CROWDED = [
    ("fan", 13.75, 1.2, 8.5, 0.4, 2.0),
    ("detached-chain-fan", 12.06, 10.5, 2.0, 0.4, 3.0),
    ("fan", 11.31, 13.8, 2.2, 2.0, 2.0),
    ("detached-chain-fan", 8.06, 4.2, 2.2, 0.2, 3.0),
    # The same where arms are split, because they are longer than a stitch may be.
    ("detached-chain-fan", 12.72, 17.3, 2.7, 0.2, 2.0),
    ("fan", 12.19, 19.5, 2.5, 0.4, 2.0),
]


@pytest.mark.parametrize(("name", "length", "width", "repeat", "shortest", "longest"), CROWDED)
def test_holes_never_crowd_where_the_drawing_would(
    name: str, length: float, width: float, repeat: float, shortest: float, longest: float
) -> None:
    assert crowd(sew(name, length, width, shortest, longest, repeat=repeat)) <= 4


@settings(deadline=None, max_examples=40)
@given(cases(), clips())
def test_holes_never_crowd_where_arms_are_drawn_in(case: Case, place: tuple[float, Polygon]) -> None:
    stitch, _, width, repeat, shortest, longest = case
    length, clip = place
    if stitch.name not in KNOTTED and length < 40.0:
        style = OrnamentStyle(stitch.name, width, repeat, clip=clip)
        for run in sew_seam_stitch(LineString([(0, 0), (length, 0)]), style, shortest, longest):
            assert crowd(run) <= 4


@pytest.mark.parametrize("name", ["feather", "fly", "cretan", "fan", "wheatear", "double-blanket"])
def test_arms_are_drawn_in_not_chopped_or_dropped(name: str) -> None:
    """In a band half as wide as the stitch there are as many tips as in the open, and none past the band."""
    width = SEAM_STITCHES[name].width
    wide = sew(name, 60.0, width)
    narrow = sew(name, 60.0, width, clip=box(-1, -width / 4 - 0.5, 61, width / 4 + 0.5))

    def tips(points: Points, reach: float) -> int:
        holes = np.unique(np.round(points, 6), axis=0)
        return int(np.count_nonzero(np.abs(holes[:, 1]) > reach))

    assert tips(narrow, 0.75 * (width / 4 + 0.5)) >= tips(wide, 0.9 * width / 2)
    assert np.abs(narrow[:, 1]).max() <= width / 4 + 0.5 + SAME_PLACE


def test_a_wide_clip_changes_nothing() -> None:
    for name, stitch in SEAM_STITCHES.items():
        clip = box(-20, -30, 80, 30)
        assert (sew(name, 60.0, stitch.width) == sew(name, 60.0, stitch.width, clip=clip)).all()


def test_a_hole_in_the_clip_is_kept_clear() -> None:
    clip = Polygon(box(-5, -9, 65, 9).exterior, [box(28, 1.5, 33, 4.0).exterior.coords])
    points = sew("feather", 60.0, 8.0, clip=clip)
    assert clip.buffer(2 * MERGE).covers(LineString(points))


def test_a_path_that_leaves_the_clip_is_followed_on_its_longest_part_inside() -> None:
    clip = box(0, -9, 10, 9).union(box(20, -9, 60, 9)).union(box(0, 5, 60, 9))
    assert isinstance(clip, Polygon)
    points = sew("herringbone", 70.0, 6.0, clip=clip)
    assert points[:, 0].min() >= 20 - MERGE and points[:, 0].max() <= 60 + MERGE


def slanting_ends(length: float, across: float, shift: float) -> Polygon:
    """A band whose two ends slant: its upper edge begins ``shift`` mm later and ends as much earlier than its lower one."""
    return Polygon([(-shift, -across), (length + shift, -across), (length - shift, across), (shift, across)])


@pytest.mark.parametrize("name", ["herringbone", "chevron", "cross"])
@pytest.mark.parametrize("mirror", [False, True])
def test_a_row_that_ends_on_its_edges_ends_where_both_sides_have_room(name: str, mirror: bool) -> None:
    """Every stroke is as long as in a row that is not clipped: none is squashed at the slanting ends."""
    width = SEAM_STITCHES[name].width
    clip = slanting_ends(60.0, 8.0, 8.0)
    points = sew(name, 60.0, width, clip=clip, mirror=mirror)
    begin, end = points[:, 0].min(), points[:, 0].max()
    assert 0.5 * width - 1.5 <= begin <= width and 0.5 * width - 1.5 <= 60.0 - end <= width
    plain = sew(name, end - begin, width, mirror=mirror)
    assert len(plain) == len(points)
    assert_allclose(points - [begin, 0], plain, atol=0.35)


def test_rows_that_run_out_on_the_seam_reach_its_ends_however_they_slant() -> None:
    points = sew("feather", 60.0, 8.0, clip=slanting_ends(60.0, 8.0, 8.0))
    assert points[0, 0] < 0.6 and points[-1, 0] > 59.4


@pytest.mark.parametrize("width", [4.0, 6.0, 9.0])
def test_legs_of_herringbone_stand_at_45_to_62_degrees_and_cross_near_the_edges(width: float) -> None:
    """Proportions of the hand stitch (from drawings in embroidery handbooks, from memory): legs of 45 to 60 degrees."""
    points = np.unique(np.round(sew("herringbone", 90.0, width), 6), axis=0)
    top = np.sort(points[points[:, 1] > width / 2 - 0.01, 0])
    bottom = np.sort(points[points[:, 1] < -width / 2 + 0.01, 0])
    # The first leg runs from the lower edge at the start to the second of the two upper ends that cross.
    angle = math.degrees(math.atan2(width, top[1] - bottom[0]))
    assert 45.0 <= angle <= 62.0
    crossing = np.sort(points[:, 1])[np.sort(points[:, 1]) < width / 2 - 0.01].max()
    assert 0.1 * width <= width / 2 - crossing <= 0.25 * width


def test_no_room_gives_nothing() -> None:
    away = OrnamentStyle("feather", 8.0, clip=box(0, 20, 10, 30))
    assert sew_seam_stitch(LineString([(0, 0), (40, 0)]), away, 1.0, 7.0) == ()
    assert sew_seam_stitch(LineString([(0, 0), (2, 0)]), OrnamentStyle("feather", 8.0), 1.0, 7.0) == ()


def test_an_unknown_stitch_is_refused_with_names_near_it() -> None:
    with pytest.raises(GeometryError, match="herringbone"):
        sew("heringbone", 40.0, 6.0)


def test_needle_positions_are_read_only() -> None:
    with pytest.raises(ValueError, match="read-only"):
        sew("chain", 40.0, 3.0)[0, 0] = 1.0


@pytest.mark.parametrize("name", sorted(KNOTTED))
def test_knots_are_the_only_dense_places(name: str) -> None:
    """A knot is six holes on a circle of 0.6 or 0.7 mm: more than elsewhere, on purpose, and never more than that."""
    for width in (SEAM_STITCHES[name].width, SEAM_STITCHES[name].least_width):
        assert crowd(sew(name, 40.0, width), 0.72) == 6


def test_descriptions_are_for_people() -> None:
    for name, stitch in SEAM_STITCHES.items():
        assert stitch.name == name
        assert stitch.description.endswith(".") and len(stitch.description.split()) >= 8
        assert 1.0 <= stitch.least_width <= stitch.width <= 20.0
