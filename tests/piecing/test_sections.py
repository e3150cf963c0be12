from __future__ import annotations

import pytest
from shapely.geometry import box

from hoopwright.piecing.seam_net import SeamNet, members, net_of
from hoopwright.piecing.sections import SectionSearch, Sides, full_chords, groups_of, stuck_groups
from hoopwright.piecing.shapes import PatchMap
from tests.piecing.drawings import FOUR_SQUARES, GAPPED, STRIPS, T_OF_THREE, WINDMILL, drawn

DOUBLE = drawn(
    box(0, 0, 120, 60),
    ((60, 0), (60, 60)),
    ((0, 30), (60, 30)),
    ((30, 0), (30, 60)),
    ((60, 20), (120, 20)),
    ((90, 0), (90, 60)),
)
"""Two by two squares, twice, side by side."""


def sides_of(patch_map: PatchMap, first: int | None = None) -> Sides:
    middle = patch_map.outline.centroid
    faces = patch_map.plane.faces
    return Sides(tuple(f.area for f in faces), tuple(f.centroid.distance(middle) for f in faces), first)


def sizes(net: SeamNet) -> list[tuple[int, int]]:
    return sorted(
        (min(pair), max(pair))
        for pair in ((c.left.bit_count(), c.right.bit_count()) for c in full_chords(net, net.everything))
    )


def test_full_chords_run_from_boundary_to_boundary() -> None:
    assert sizes(net_of(FOUR_SQUARES.plane)) == [(2, 2), (2, 2)]
    assert sizes(net_of(T_OF_THREE.plane)) == [(1, 2)]
    assert sizes(net_of(STRIPS.plane)) == [(1, 4), (1, 4), (2, 3), (2, 3)]
    assert sizes(net_of(WINDMILL.plane)) == []
    assert sizes(net_of(GAPPED.plane)) == [(1, 2), (1, 2)]


def test_a_plan_is_made_from_the_inside_out() -> None:
    net = net_of(DOUBLE.plane)
    plan = SectionSearch(net, sides_of(DOUBLE)).plan(net.everything)
    groups = groups_of(plan)
    assert plan.sections == len(groups) == 4
    assert groups[-1].pieces == net.everything
    for group in groups:
        brought = [groups[n - 1].pieces for n in group.joined]
        assert all(n < group.number for n in group.joined)
        assert group.plain | sum(brought) == group.pieces
        assert group.plain.bit_count() + sum(b.bit_count() for b in brought) == group.pieces.bit_count()
    assert sorted(n for g in groups for n in g.joined) == [1, 2, 3]


def test_the_wished_first_patch_lies_on_the_last_foundation() -> None:
    net = net_of(DOUBLE.plane)
    for piece in members(net.everything):
        groups = groups_of(SectionSearch(net, sides_of(DOUBLE, piece)).plan(net.everything))
        assert groups[-1].plain >> piece & 1


def test_a_short_budget_is_told_and_still_gives_a_plan() -> None:
    net = net_of(DOUBLE.plane)
    search = SectionSearch(net, sides_of(DOUBLE), steps=1)
    assert search.plan(net.everything).sections >= 4
    assert search.bounded


def test_what_no_chord_can_part_is_named_as_a_group() -> None:
    net = net_of(WINDMILL.plane)
    assert stuck_groups(net, net.everything) == (net.everything,)
    with pytest.raises(ValueError, match="cannot be parted"):
        SectionSearch(net, sides_of(WINDMILL)).plan(net.everything)
    assert stuck_groups(net_of(DOUBLE.plane), 0b11111111) == ()


def test_the_larger_side_stays_in_the_hoop_with_or_without_a_wish_elsewhere() -> None:
    net = net_of(DOUBLE.plane)
    for first in (None, *members(net.everything)):
        sides = sides_of(DOUBLE, first)
        search = SectionSearch(net, sides)
        for chord in full_chords(net, net.everything):
            base, other = search.base_first(chord)
            if first is not None:
                assert base >> first & 1
            else:
                assert search.area(base) * 1.05 >= search.area(other)
        right = 0b11111111 & ~sum(1 << p for p in members(net.everything) if DOUBLE.plane.faces[p].centroid.x < 60)
        if first is not None and not right >> first & 1:
            for chord in full_chords(net, right):
                base, other = search.base_first(chord)
                assert search.area(base) * 1.05 >= search.area(other)
