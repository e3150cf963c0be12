"""Columns: what is added against the pull, and what sewing pushes over the outline."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.geometry import LineString, box

from hoopwright.checks.columns import columns_sew_well
from hoopwright.checks.compensation import pull_is_allowed_for
from hoopwright.core.findings import Finding, Severity
from hoopwright.items.plan import Plan
from hoopwright.operations.vocabulary import EdgeStyle, LetteringStyle, Role, RunStyle, Stitch
from hoopwright.piecing.shapes import PatchMap, PiecedPanel, SewingOrder
from hoopwright.plane.subdivision import subdivide
from tests.checks.drawn import Row, satin
from tests.checks.hand_made import plan_of

SQUARE = box(-30, -30, 30, 30)


def styled(style: EdgeStyle | LetteringStyle | RunStyle) -> tuple[Finding, ...]:
    plan = plan_of(satin(20, 4))
    (hooping,) = plan.hoopings
    stitch = Stitch(Role.EDGE, "Rim", "slate", (LineString([(0, 0), (1, 0)]),), style, "")
    step = replace(hooping.steps[0], stitch=stitch)
    return pull_is_allowed_for(replace(plan, hoopings=(replace(hooping, steps=(step,)),)))


@pytest.mark.parametrize("pull", [0.0, 0.2, 0.6])
def test_up_to_six_tenths_may_be_added(pull: float) -> None:
    assert styled(EdgeStyle(4.0, pull=pull)) == ()
    assert styled(LetteringStyle(("Mill",), pull=pull)) == ()


@pytest.mark.parametrize(("pull", "said"), [(-0.1, "0.1 mm are taken off"), (0.7, "0.7 mm are added to")])
def test_less_than_nothing_or_more_is_told(pull: float, said: str) -> None:
    for style in (EdgeStyle(4.0, pull=pull), LetteringStyle(("Mill",), pull=pull)):
        (finding,) = styled(style)
        assert (finding.code, finding.severity) == ("HW617", Severity.WARNS)
        assert said in finding.message and "Rim" in finding.message and finding.where.operation == 1


def test_other_styles_have_no_pull() -> None:
    assert styled(RunStyle(2.5)) == ()


def on_panel(row: Row, role: Role) -> Plan:
    plan = plan_of(row, role=role)
    map_ = PatchMap(SQUARE, subdivide(SQUARE, []), ("A",), ())
    panel = PiecedPanel("panel", SQUARE, map_, SewingOrder((), 0, True, (), (), False, ()), (), (), ())
    return replace(plan, panels=(panel,))


@pytest.mark.parametrize(("top", "told"), [(29.8, True), (29.6, False), (31.0, False)])
def test_a_column_s_end_needs_room_to_be_pushed_out(top: float, told: bool) -> None:
    """One that ends outside already is another rule's business."""
    found = columns_sew_well(on_panel(satin(20, 4, at=(0.0, top - 20.0)), Role.PLACED))
    assert [f.code for f in found] == (["HW618"] if told else [])
    if told:
        assert found[0].where.point is not None and found[0].where.point[1] == top


def test_the_start_of_a_column_is_pushed_out_too() -> None:
    assert [f.code for f in columns_sew_well(on_panel(satin(20, 4, at=(0.0, -29.9)), Role.LETTERING))] == ["HW618"]


def test_a_column_along_the_outline_is_not_pushed_over_it_and_an_edge_lies_on_it() -> None:
    assert columns_sew_well(on_panel(satin(20, 3.9, at=(26.0, 0.0)), Role.PLACED)) == ()
    assert columns_sew_well(on_panel(satin(20, 4, at=(0.0, 9.9)), Role.EDGE)) == ()
