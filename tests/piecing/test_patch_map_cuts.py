from __future__ import annotations

import pytest
from shapely.geometry import Polygon, box

from hoopwright.core.findings import Severity
from hoopwright.core.types import Point
from hoopwright.piecing.patch_map_cuts import map_from_cuts
from hoopwright.piecing.shapes import PatchMap

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
        ("HW214", Severity.NOTES, "panel.patchwork.cuts[1]"),
        ("HW214", Severity.NOTES, "panel.patchwork.cuts[1]"),
        ("HW214", Severity.NOTES, "panel.patchwork.cuts[2]"),
    ]
    assert {s.number: {s.start, s.end} for s in patches.seams}[2] == {(0, 0), (0, 50)}


def test_faults_are_refused_with_their_place() -> None:
    assert refused([((60, 0), (70, 10))]) == ("HW211", "panel.patchwork.cuts[0]")
    assert refused([((5, 5), (5, 5))]) == ("HW211", "panel.patchwork.cuts[0]")
    assert refused([((float("nan"), 5), (5, 5))]) == ("HW211", "panel.patchwork.cuts[0]")
    assert refused([ACROSS, ((-50, 0), (50, 0))]) == ("HW211", "panel.patchwork.cuts[1]")
    assert refused([ACROSS, ((0, -50), (0, 50))]) == ("HW212", "panel.patchwork.cuts[1]")
    assert refused([ACROSS, ((0, 0), (0, 40))]) == ("HW213", "panel.patchwork.cuts[1]")
    assert refused([((-50, 49.8), (50, 49.9))]) == ("HW215", "panel.patchwork.cuts[0]")


def test_a_cut_through_a_bay_is_two_cuts() -> None:
    bay = Polygon([(-50, -50), (50, -50), (50, 50), (10, 50), (10, 0), (-10, 0), (-10, 50), (-50, 50)])
    assert refused([((-50, 20), (50, 20))], bay) == ("HW212", "panel.patchwork.cuts[0]")
    assert len(made([((-50, 20), (-10, 20)), ((10, 20), (50, 20))], bay).letters) == 3
