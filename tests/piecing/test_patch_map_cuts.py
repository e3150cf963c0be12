from __future__ import annotations

import math
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from hoopwright.core.findings import Severity
from hoopwright.core.types import Point
from hoopwright.piecing.patch_map_cuts import map_from_cuts
from hoopwright.piecing.shapes import PatchMap
from tests.browser.many import HIGH, WIDE, cuts

SQUARE = box(-50, -50, 50, 50)
Cut = tuple[Point, Point]
ACROSS: Cut = ((-50, 0), (50, 0))


def made(cuts: list[Cut], outline: Polygon = SQUARE) -> PatchMap:
    patches, findings = map_from_cuts(outline, cuts)
    assert patches is not None, findings
    return patches


def refused(cuts: list[Cut], outline: Polygon = SQUARE) -> tuple[str, str | None]:
    patches, findings = map_from_cuts(outline, cuts)
    assert patches is None
    first = next(f for f in findings if f.severity is Severity.BLOCKS)
    assert first.message and first.cure
    return first.code, first.where.path


def test_the_left_hand_side_keeps_its_letter() -> None:
    patches = made([ACROSS, ((0, 0), (0, 50)), ((0, -50), (0, 0))])
    where = {p: patches.polygon(p).centroid for p in patches.letters}
    # seen along the first cut, left is above; seen along the upward cuts, left is on the left
    assert (where["A"].x, where["A"].y) == pytest.approx((-25, 25))
    assert (where["C"].x, where["C"].y) == pytest.approx((25, 25))
    assert (where["B"].x, where["B"].y) == pytest.approx((-25, -25))
    assert (where["D"].x, where["D"].y) == pytest.approx((25, -25))


def test_seams_take_the_numbers_of_their_cuts() -> None:
    patches = made([ACROSS, ((10, 0), (12, 50)), ((-20, -50), (-25, 0))])
    ends = {s.number: {s.start, s.end} for s in patches.seams}
    assert ends == {1: {(-50, 0), (50, 0)}, 2: {(10, 0), (12, 50)}, 3: {(-20, -50), (-25, 0)}}


def test_ends_that_miss_by_little_are_moved_and_noted() -> None:
    patches, findings = map_from_cuts(SQUARE, [ACROSS, ((0, 1.0), (0, 48.5)), ((10, -1.5), (10, 50))])
    assert patches is not None
    assert [(f.code, f.severity, f.where.path) for f in findings] == [
        ("HW214", Severity.NOTES, "panel.patchwork.cuts[2]"),
        ("HW214", Severity.NOTES, "panel.patchwork.cuts[2]"),
        ("HW214", Severity.NOTES, "panel.patchwork.cuts[3]"),
    ]
    assert {s.number: {s.start, s.end} for s in patches.seams}[2] == {(0, 0), (0, 50)}


def test_faults_are_refused_with_their_place() -> None:
    assert refused([((60, 0), (70, 10))]) == ("HW211", "panel.patchwork.cuts[1]")
    assert refused([((5, 5), (5, 5))]) == ("HW211", "panel.patchwork.cuts[1]")
    assert refused([((float("nan"), 5), (5, 5))]) == ("HW211", "panel.patchwork.cuts[1]")
    assert refused([ACROSS, ((-50, 0), (50, 0))]) == ("HW211", "panel.patchwork.cuts[2]")
    assert refused([ACROSS, ((0, -50), (0, 50))]) == ("HW212", "panel.patchwork.cuts[2]")
    assert refused([ACROSS, ((0, 0), (0, 40))]) == ("HW213", "panel.patchwork.cuts[2]")
    assert refused([((-50, 49.8), (50, 49.9))]) == ("HW215", "panel.patchwork.cuts[1]")


def test_a_cut_through_a_bay_is_two_cuts() -> None:
    bay = Polygon([(-50, -50), (50, -50), (50, 50), (10, 50), (10, 0), (-10, 0), (-10, 50), (-50, 50)])
    assert refused([((-50, 20), (50, 20))], bay) == ("HW212", "panel.patchwork.cuts[1]")
    assert len(made([((-50, 20), (-10, 20)), ((10, 20), (50, 20))], bay).letters) == 3


@settings(max_examples=60, deadline=None)
@given(moves=st.lists(st.floats(-0.9, 0.9), min_size=20, max_size=20))
def test_letters_and_seams_stay_when_cuts_move_a_little(moves: list[float]) -> None:
    cuts: list[Cut] = [
        ACROSS,
        ((-50, -20), (50, -25)),
        ((-20, 0), (-10, 50)),
        ((10, -50), (5, -23)),
        ((25, -24), (30, 0)),
    ]
    moved: list[Cut] = [
        ((a[0] + m[0], a[1] + m[1]), (b[0] + m[2], b[1] + m[3]))
        for (a, b), m in zip(cuts, (moves[i : i + 4] for i in range(0, 20, 4)), strict=True)
    ]
    before, after = made(cuts), made(moved)
    assert sum(f.area for f in after.plane.faces) == pytest.approx(SQUARE.area)
    for letter in before.letters:
        shared = before.polygon(letter).intersection(after.polygon(letter)).area
        assert shared > 0.7 * before.polygon(letter).area
    assert [s.number for s in after.seams] == [s.number for s in before.seams] == [1, 2, 3, 4, 5]
    for old, new in zip(before.seams, after.seams, strict=True):
        assert old.line.hausdorff_distance(new.line) < 6.0


def test_a_moved_cut_leaves_far_corners_exactly_where_they_were() -> None:
    """Exactly: what is planned from corners that stayed is remembered by them."""
    before, after = (made(slices(shift), box(-WIDE / 2, -HIGH / 2, WIDE / 2, HIGH / 2)) for shift in (0.0, 0.3))
    stayed = set(before.plane.vertices) & set(after.plane.vertices)
    near = [
        v
        for v in after.plane.vertices
        if v not in stayed and min(math.dist(v, w) for w in before.plane.vertices) < 1e-6
    ]
    assert near == []
    assert 0 < len(after.plane.vertices) - len(stayed) <= 6


def slices(shift: float) -> list[Cut]:
    """Slices round a middle, each ending on those before; the third is shifted."""
    found = [(a, b) for a, b in cuts(24)]
    moved = [(x + shift, y) for x, y in found[2]]
    return [*found[:2], (moved[0], moved[1]), *found[3:]]


@pytest.mark.bench
def test_a_moved_cut_is_replanned_in_ten_milliseconds() -> None:
    cuts: list[Cut] = [
        ACROSS,
        ((-50, -20), (50, -25)),
        ((-20, 0), (-10, 50)),
        ((10, -50), (5, -23)),
        ((25, -24), (30, 0)),
    ]
    cuts.append(((20, 0), (25, 50)))
    times = []
    for i in range(20):
        start = time.perf_counter()
        patches = made([((-50, i * 0.1), (50, 0)), *cuts[1:]])
        times.append(time.perf_counter() - start)
        assert len(patches.letters) == 7
    print(f"best {min(times) * 1000:.1f} ms, worst {max(times) * 1000:.1f} ms")
    assert min(times) < 0.01
