"""The estimate of a whole plan."""

from __future__ import annotations

import dataclasses
from dataclasses import replace

import pytest
from shapely.geometry import box

from hoopwright.core.findings import Severity
from hoopwright.estimate import EstimateSettings, estimate, estimate_findings
from hoopwright.estimate.cloth import along_grain, cloth_needs
from hoopwright.estimate.thread import stack_thickness
from hoopwright.estimate.time import HandMinutes, hand_minutes
from hoopwright.items.plan import Plan
from hoopwright.items.recipe import Making, Piece
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Face, Flip, Hand, HandWork, Hoop, Lay, Press, Release, Side, Trim
from tests.estimate.plans import patch, plan, project
from tests.outputs.machine_hoopings import hooping

LINE = [(float(x), 0.0) for x in range(0, 42, 2)]
SEWN = hooping([LINE, LINE], [LINE], [LINE], threads="ewe")


def test_every_step_has_its_row() -> None:
    got = estimate(plan([SEWN]))
    assert [(s.hooping, s.index) for s in got.steps] == [("flap", 1), ("flap", 2), ("flap", 3)]
    assert got.stitches == SEWN.count == 84
    assert got.machine == pytest.approx(sum(s.machine for s in got.steps))


def test_machine_minutes_of_a_step() -> None:
    """42 stitches at 600 a minute and two cuts of six seconds."""
    assert estimate(plan([SEWN])).steps[0].machine == pytest.approx(42 / 600 + 2 * 6 / 60)


def test_speed_counts() -> None:
    slow, fast = (estimate(plan([SEWN], machine={"speed": s})).machine for s in (400, 800))
    assert slow - 4 * 0.1 == pytest.approx(2 * (fast - 4 * 0.1))


def test_thread_of_each_colour_and_bobbin() -> None:
    got = {t.thread: t.metres for t in estimate(plan([SEWN])).threads}
    assert list(got) == ["ecru", "weed", "bobbin"]
    assert got["ecru"] == pytest.approx(3 * got["weed"])
    assert got["bobbin"] == pytest.approx(got["ecru"] + got["weed"])


def test_threads_not_used_are_not_listed() -> None:
    assert [t.thread for t in estimate(plan([hooping([LINE])])).threads] == ["ecru", "bobbin"]


def test_waste_is_a_setting() -> None:
    bare, wasted = (estimate(plan([SEWN]), EstimateSettings(waste=w)).threads[0].metres for w in (0.0, 0.2))
    assert wasted == pytest.approx(1.2 * bare)


def test_changing_the_thread_takes_the_hands() -> None:
    table = HandMinutes(press=0.0, thread=2.0)
    got = estimate(plan([SEWN]), EstimateSettings(hands=table))
    assert [s.hands for s in got.steps] == [2.0, 2.0, 2.0]
    one = estimate(plan([hooping([LINE], [LINE])]), EstimateSettings(hands=table))
    assert [s.hands for s in one.steps] == [2.0, 0.0]


def test_every_sort_of_hand_work_has_its_minutes() -> None:
    table = HandMinutes(hoop=1, lay=2, trim=4, flip=8, press=16, release=32, hand=64)
    area = patch("A", 10, 10).area
    work = (
        Hoop(("stabilizer",), "Hoop"),
        Lay("A", "linen", area, Face.UP, Side.TOP, None, None, "Lay"),
        Trim("A", None, "Trim"),
        Flip("A", ((0, 0), (1, 0)), area, "Flip"),
        Press("A", "Press"),
        Release("Release"),
        Hand("A", "Mark"),
    )
    assert [hand_minutes((w,), table) for w in work] == [1, 2, 4, 8, 16, 32, 64]
    assert hand_minutes(work, table) == 127


def test_what_is_done_at_the_end_counts_as_well() -> None:
    after = dataclasses.replace(SEWN, after=(Release("Take it out"),))
    assert estimate(plan([after])).hands == pytest.approx(estimate(plan([SEWN])).hands + 1.0)


def test_hoopings_and_assembly_together_are_the_whole() -> None:
    after = dataclasses.replace(SEWN, after=(Release("Take it out"),))
    other = dataclasses.replace(SEWN, key="body")
    making = Making((), (), (Press("all", "Press it"),), ())
    got = estimate(dataclasses.replace(plan([after, other]), making=making))
    assert got.hands_of("flap") == pytest.approx(got.hands_of("body") + HandMinutes().release)
    assert got.hands_of("flap") + got.hands_of("body") + got.assembly == pytest.approx(got.hands)
    assert got.machine_of("flap") + got.machine_of("body") == pytest.approx(got.machine)


def test_an_empty_plan_takes_nothing() -> None:
    got = estimate(plan())
    assert (got.stitches, got.machine, got.hands, got.cloths, got.steps) == (0, 0, 0, (), ())
    assert [t.metres for t in got.threads] == [0]


def test_a_thicker_stack_takes_more_thread() -> None:
    assert stack_thickness(project(foundation={"batting": "cotton"})) > stack_thickness(project())
    assert stack_thickness(project()) == pytest.approx(0.5 + 2 * 0.4)


def test_cloth_is_reckoned_by_cloth_on_its_own_bolt() -> None:
    patches = [patch("A", 50, 40), patch("B", 50, 40, "sail"), patch("C", 50, 30, "sail")]
    linen, sail = cloth_needs(plan(patches=patches, piecing={"cut": "templates"}))
    assert (linen.cloth, linen.pieces, linen.width, linen.length) == ("linen", 1, 50, 40)
    assert (sail.cloth, sail.pieces, sail.width, sail.length) == ("sail", 2, 50, 73)


def test_rough_cuts_take_more_cloth() -> None:
    patches = [patch("A", 50, 40)]
    for cut in ("rough", "both"):
        (need,) = cloth_needs(plan(patches=patches, piecing={"cut": cut}))
        assert (need.width, need.length) == (70, 60)


def test_sections_laid_as_one_need_no_cloth() -> None:
    assert cloth_needs(plan(patches=[patch("S1", 50, 40, made_of=1)])) == ()


@pytest.mark.parametrize(("grain", "size"), [(90, (30, 10)), (0, (10, 30)), (270, (30, 10)), (45, (28.28, 28.28))])
def test_the_warp_runs_along_the_bolt(grain: float, size: tuple[float, float]) -> None:
    assert along_grain(patch("A", 30, 10).exact.outline, grain) == pytest.approx(size, abs=0.01)


def test_pieces_wider_than_the_bolt_are_told() -> None:
    the_plan = plan(patches=[patch("A", 50, 40, "sail"), patch("B", 120, 40, "sail")], piecing={"cut": "templates"})
    (finding,) = estimate_findings(the_plan, estimate(the_plan))
    assert (finding.code, finding.severity, finding.where.patch) == ("HW701", Severity.WARNS, "B")


def test_a_second_bobbin_is_told() -> None:
    long: Hooping = hooping([[(float(x % 2) * 4, x / 100) for x in range(9000)]])
    the_plan = plan([long])
    (finding,) = estimate_findings(the_plan, estimate(the_plan))
    assert (finding.code, finding.where.hooping) == ("HW702", "flap")
    assert estimate_findings(plan([SEWN]), estimate(plan([SEWN]))) == ()


def piece(key: str, width: float, length: float, cloth: str, count: int = 1) -> Piece:
    return Piece(key, key.capitalize(), cloth, box(0, 0, width, length), count=count)


def with_pieces(*pieces: Piece, assembly: tuple[HandWork, ...] = ()) -> Plan:
    cloths = {
        "linen": {"name": "Linen", "colour": "#e0d8c0", "bolt": 1000},
        "tape": {"name": "Tape", "colour": "#888888", "kind": "ribbon"},
        "teeth": {"name": "Zip", "colour": "#333333", "kind": "zip"},
    }
    return replace(plan(cloths=cloths), making=Making((), pieces, assembly))


def test_pieces_need_cloth_as_often_as_they_are_cut() -> None:
    (need,) = cloth_needs(with_pieces(piece("back", 300, 100, "linen"), piece("pocket", 300, 50, "linen", count=2)))
    assert (need.pieces, need.width, need.length) == pytest.approx((3, 906.0, 100.0))


def test_ribbons_are_measured_by_their_length_whichever_way_they_lie() -> None:
    (need,) = cloth_needs(with_pieces(piece("loop", 10, 80, "tape"), piece("strap", 150, 10, "tape", count=2)))
    assert (need.pieces, need.width, need.length) == pytest.approx((3, 10.0, 380.0))


def test_each_zip_is_one_of_its_own() -> None:
    (need,) = cloth_needs(with_pieces(piece("zip", 220, 30, "teeth", count=2)))
    assert (need.pieces, need.width, need.length) == pytest.approx((2, 30.0, 220.0))


def test_a_piece_wider_than_its_bolt_is_told_once() -> None:
    made = with_pieces(piece("back", 1100, 100, "linen", count=2))
    (found,) = estimate_findings(made, estimate(made))
    assert (found.code, found.where.patch) == ("HW701", None)
    assert found.message.startswith("Back is 1100 mm wide")


def test_assembly_is_part_of_the_hands_time() -> None:
    made = with_pieces(assembly=(Press("all", "Press."), Press("all", "Press again.")))
    whole = estimate(made)
    assert whole.assembly == pytest.approx(2 * HandMinutes().press)
    assert whole.hands == pytest.approx(whole.assembly)
