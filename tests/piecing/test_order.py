from __future__ import annotations

import math

import pytest
from shapely.geometry import LineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from hoopwright.core.findings import Severity
from hoopwright.piecing.order import Budget, sewing_order
from hoopwright.piecing.shapes import PatchMap, SewingOrder
from hoopwright.project.schema import WishesModel
from tests.piecing.big_maps import comb_map, sliced_map
from tests.piecing.drawings import FOUR_SQUARES, STRIPS, T_OF_THREE, WINDMILL, drawn


def first_of(order: SewingOrder) -> str:
    return order.sections[-1].letters[0]


def check_by_areas(patch_map: PatchMap, order: SewingOrder) -> None:
    """Each member is new, lies left of its seam, and its seam is just what its area shares with what is there."""
    areas: dict[int, BaseGeometry] = {}
    for section in order.sections:
        there: BaseGeometry = Polygon()
        for number, member in enumerate(section.members):
            if member.section is None:
                (letter,) = member.letters
                area: BaseGeometry = patch_map.polygon(letter)
            else:
                area = areas[member.section]
                assert set(member.letters) == set(order.sections[member.section - 1].letters)
            assert there.intersection(area).area < 1e-6
            if number == 0:
                assert member.seam is None
            else:
                assert member.seam is not None
                seam = LineString([member.seam.start, member.seam.end])
                shared = there.boundary.intersection(area.boundary)
                assert shared.length == pytest.approx(seam.length, abs=1e-3)
                assert seam.buffer(1e-3).contains(shared) or shared.difference(seam.buffer(1e-3)).length < 1e-6
                assert _left(member.seam.start, member.seam.end, area.intersection(seam.buffer(0.5)))
            there = there.union(area).buffer(0)
            assert member.why
        areas[section.number] = there
    assert there.symmetric_difference(patch_map.outline).area < 1e-3


def _left(start: tuple[float, float], end: tuple[float, float], area: BaseGeometry) -> bool:
    x, y = area.representative_point().coords[0]
    return bool((end[0] - start[0]) * (y - start[1]) - (end[1] - start[1]) * (x - start[0]) > 0)


@pytest.mark.parametrize(
    "patch_map",
    [T_OF_THREE, STRIPS, FOUR_SQUARES, sliced_map(25), comb_map(9)],
    ids=["T", "strips", "squares", "slices", "comb"],
)
def test_an_order_is_true_in_areas(patch_map: PatchMap) -> None:
    order = sewing_order(patch_map)
    assert sorted(order.sections[-1].letters) == sorted(patch_map.letters)
    check_by_areas(patch_map, order)


def test_strips_go_from_the_middle_outwards() -> None:
    order = sewing_order(STRIPS)
    assert order.sections[0].letters[0] == "C"
    assert set(order.sections[0].letters[1:3]) == {"B", "D"}
    by_wish = {w.wish: w for w in order.wishes}
    assert by_wish["centre_outwards"].value == 0
    assert by_wish["centre_outwards"].sentence.startswith("C at the centre is laid first.")
    assert by_wish["few_turns"].sentence == "All seams run in one direction: your hands need not turn."
    assert "light_over_dark" not in by_wish


def test_larger_patches_come_first_when_that_is_wished() -> None:
    uneven = drawn(box(0, 0, 100, 40), ((50, 0), (50, 40)), ((70, 0), (70, 40)), ((80, 0), (80, 40)))
    only = WishesModel(centre_outwards=0, few_turns=0, few_layers=0, light_over_dark=0, large_first=1)
    order = sewing_order(uneven, wishes=only)
    areas = [uneven.polygon(n).area for n in order.sections[0].letters]
    assert areas[0] == max(areas)
    assert {w.wish for w in order.wishes} == {"large_first", "clear_of_patches"}


def test_a_light_strip_is_not_flipped_over_a_dark_one() -> None:
    only = WishesModel(centre_outwards=0, few_turns=0, few_layers=0, light_over_dark=1, large_first=0)
    light = {"A": 20.0, "B": 90.0, "C": 20.0, "D": 90.0, "E": 20.0}
    order = sewing_order(STRIPS, wishes=only, lightness=light)
    (wish,) = (w for w in order.wishes if w.wish == "light_over_dark")
    assert first_of(order) in "BD"
    assert wish.value == pytest.approx(0.25)
    assert "1 lighter patch" in wish.sentence
    smooth = {n: 90.0 - 15.0 * i for i, n in enumerate("ABCDE")}
    order = sewing_order(STRIPS, wishes=only, lightness=smooth)
    assert order.sections[0].letters == tuple("ABCDE")
    assert next(w for w in order.wishes if w.wish == "light_over_dark").value == 0


def test_few_layers_presses_allowances_of_a_narrow_strip_apart() -> None:
    """The strip in the middle is narrower than the allowance: sewn first, both seams press away from it."""
    narrow = drawn(box(0, 0, 85, 40), ((40, 0), (40, 40)), ((45, 0), (45, 40)))
    only = WishesModel(centre_outwards=0, few_turns=0, few_layers=1, light_over_dark=0, large_first=0)
    order = sewing_order(narrow, wishes=only)
    assert first_of(order) == "B"
    (layers,) = (w for w in sewing_order(narrow, own=("A", "B", "C"), wishes=only).wishes if w.wish == "few_layers")
    assert layers.sentence.startswith(f"Allowances of two seams lie on each other on {1.35 * 40:.0f} mm²")
    assert layers.value == pytest.approx(1.35 * 40 / (2 * 40 * 6.35), abs=1e-4)
    wide = sewing_order(narrow, wishes=only, allowance=3.0)
    assert next(w for w in wide.wishes if w.wish == "few_layers").value == 0


def test_few_turns_keeps_to_one_direction_as_long_as_it_can() -> None:
    """Two strips on each side of a middle: with the other wishes off, the direction changes once."""
    cross = drawn(
        box(0, 0, 60, 60), ((20, 20), (20, 40)), ((40, 20), (40, 40)), ((0, 20), (60, 20)), ((0, 40), (60, 40))
    )
    only = WishesModel(centre_outwards=0, few_turns=1, few_layers=0, light_over_dark=0, large_first=0)
    (turns,) = (w for w in sewing_order(cross, wishes=only).wishes if w.wish == "few_turns")
    assert turns.sentence.startswith("From one seam to the next the direction changes once out of 3")
    assert turns.value == pytest.approx(1 / 3, abs=1e-4)


def test_an_allowance_is_kept_off_finished_patches() -> None:
    """Two flaps on a base, with a notch narrower than two allowances: the second one's allowance lies on the first."""
    notch = [(0, 0), (60, 0), (60, 60), (32, 60), (32, 30), (28, 30), (28, 60), (0, 60)]
    towers = drawn(Polygon(notch), ((0, 30), (28, 30)), ((32, 30), (60, 30)))
    (clear,) = (w for w in sewing_order(towers).wishes if w.wish == "clear_of_patches")
    assert clear.value == pytest.approx(0.5)
    assert "would cover part of" in clear.sentence
    (clear,) = (w for w in sewing_order(towers, allowance=1.5).wishes if w.wish == "clear_of_patches")
    assert clear.value == 0


def test_a_first_patch_is_granted_where_possible_and_refused_with_the_reason() -> None:
    for name in STRIPS.letters:
        order = sewing_order(STRIPS, first=name)
        assert first_of(order) == name
        assert order.findings == ()
    order = sewing_order(T_OF_THREE, first="C")
    (finding,) = order.findings
    assert (finding.code, finding.severity) == ("HW224", Severity.WARNS)
    assert "Patch C cannot be the first: A and B" in finding.message
    assert first_of(order) in "AB"
    assert [f.code for f in sewing_order(STRIPS, first="Q").findings] == ["HW224"]


def test_sections_are_told_with_patches_and_seams() -> None:
    order = sewing_order(FOUR_SQUARES)
    (finding,) = order.findings
    assert finding.code == "HW225"
    assert "made in 2 sections" in finding.message
    join = order.sections[1].members[-1]
    assert join.section == 1
    assert join.seam is not None
    assert (
        f"Join S1 (patches {join.letters[0]} and {join.letters[1]}) to the panel along seam {join.seam.number}"
        in finding.message
    )
    assert math.dist(join.seam.start, join.seam.end) == pytest.approx(60.0)
    assert order.count == 0
    assert order.count_exact


def test_the_base_of_a_join_is_the_larger_side_and_holds_the_wished_first_patch() -> None:
    uneven = drawn(box(0, 0, 60, 60), ((0, 20), (60, 20)), ((30, 0), (30, 60)))
    upper = [n for n in uneven.letters if uneven.polygon(n).centroid.y > 20]
    order = sewing_order(uneven)
    larger = max((s.letters for s in (order.sections[0],)), key=len)
    base = [n for m in order.sections[-1].members if m.section is None for n in m.letters]
    assert sum(uneven.polygon(n).area for n in base) >= sum(uneven.polygon(n).area for n in larger)
    for name in uneven.letters:
        assert first_of(sewing_order(uneven, first=name)) == name
    assert len(upper) == 2


def test_a_ring_is_named_with_the_patch_it_turns_round() -> None:
    order = sewing_order(WINDMILL)
    centre = next(n for n in WINDMILL.letters if WINDMILL.polygon(n).contains(Point(30, 30)))
    (finding,) = order.findings
    assert (finding.code, finding.severity, finding.where.patch) == ("HW227", Severity.BLOCKS, centre)
    assert f"make a ring of 4 that turns round patch {centre}" in finding.message
    assert "partial seam" in finding.cure
    assert "appliqué" in finding.cure
    assert set(order.stuck) == set(WINDMILL.letters)
    assert not order.sewable


def test_a_y_and_a_bend_are_named_with_their_places() -> None:
    y = drawn(box(0, 0, 60, 60), ((30, 30), (30, 0)), ((30, 30), (0, 50)), ((30, 30), (60, 50)))
    (finding,) = sewing_order(y).findings
    assert "meet in a Y at x 30.0, y 30.0 mm" in finding.message
    assert "Y seam" in finding.cure
    bend = drawn(box(0, 0, 60, 60), ((30, 0), (30, 30)), ((30, 30), (60, 30)))
    (finding,) = sewing_order(bend).findings
    assert finding.where.point == (30.0, 30.0)
    assert "meet round a corner at x 30.0, y 30.0 mm" in finding.message


def test_a_ring_round_a_hole_is_blamed_on_the_ring() -> None:
    hole = Polygon(box(0, 0, 60, 60).exterior, [box(20, 20, 40, 40).exterior])
    ring = drawn(hole, ((0, 20), (20, 20)), ((40, 20), (60, 20)), ((0, 40), (20, 40)), ((40, 40), (60, 40)))
    (finding,) = sewing_order(ring).findings
    assert "hold each other in a ring" in finding.message


def test_two_faults_are_two_findings() -> None:
    two = drawn(
        box(0, 0, 120, 60),
        ((60, 0), (60, 60)),
        *(((x + 30, 30), (x + 30, 0)) for x in (0, 60)),
        *(((x + 30, 30), (x, 50)) for x in (0, 60)),
        *(((x + 30, 30), (x + 60, 50)) for x in (0, 60)),
    )
    order = sewing_order(two)
    assert [f.code for f in order.findings] == ["HW227", "HW227"]
    assert len(order.stuck) == 6


def test_bounds_are_told() -> None:
    order = sewing_order(sliced_map(40), budget=Budget(counting=100, search=500))
    assert not order.count_exact
    assert [f.code for f in order.findings] == ["HW229"]
    check_by_areas(sliced_map(40), order)
    grid = drawn(
        box(0, 0, 80, 80),
        *(((0, 10.0 * i), (80, 10.0 * i)) for i in range(1, 8)),
        *(((10.0 * i, 0), (10.0 * i, 80)) for i in range(1, 8)),
    )
    order = sewing_order(grid, budget=Budget(sections=1000))
    assert order.bounded
    assert "HW226" in [f.code for f in order.findings]
    assert len(order.sections) == 8
    check_by_areas(grid, order)


def test_the_same_map_gives_the_same_order() -> None:
    for patch_map in (sliced_map(60), FOUR_SQUARES):
        assert sewing_order(patch_map) == sewing_order(patch_map)


def test_one_patch_needs_no_seam() -> None:
    order = sewing_order(drawn(box(0, 0, 60, 60)))
    assert order.count == 1
    assert [m.seam for m in order.sections[0].members] == [None]
