from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from hoopwright.checks.accents import accents_hold_together
from hoopwright.core.types import Points, frozen_points
from hoopwright.items.plan import Plan
from hoopwright.needle.lines import locked
from hoopwright.needle.shapes import Run
from hoopwright.pipeline import plan
from hoopwright.project.load import load
from tests.needle.accents.growths import plain, rimless, sewn, with_spur

EXAMPLE = Path(__file__).parents[2] / "examples" / "tide-lace" / "project.toml"


@pytest.fixture(scope="module")
def made() -> Plan:
    return plan(load(EXAMPLE).project)


def with_run(made: Plan, points: Points) -> Plan:
    """Return the plan with its second block sewn otherwise."""
    hooping = made.hoopings[0]
    step = replace(hooping.steps[1], runs=(Run(locked(frozen_points(points), 0.5)),))
    steps = (hooping.steps[0], step, *hooping.steps[2:])
    return replace(made, hoopings=(replace(hooping, steps=steps),))


@pytest.mark.no_cover
def test_the_example_holds_together(made: Plan) -> None:
    assert accents_hold_together(made) == ()


def test_each_flaw_is_told_with_its_place(made: Plan) -> None:
    assert accents_hold_together(with_run(made, sewn(plain(14.0)))) == ()
    (spur,) = accents_hold_together(with_run(made, with_spur(sewn(plain(14.0)), (9.0, 3.5))))
    assert (spur.code, spur.severity, spur.where.operation, spur.where.hooping) == ("HW377", "blocks", 2, "accent")
    assert spur.where.point == pytest.approx((9.0, 3.5), abs=0.1)
    assert "HW379" in [f.code for f in accents_hold_together(with_run(made, rimless(plain())))]
