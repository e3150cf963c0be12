"""Accents laid on panels of whole items are followed on the stack, without a word where nothing is wrong."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from shapely.affinity import translate

from hoopwright.checks.cloth import comes_out
from hoopwright.cloth.edges import raw_edges
from hoopwright.cloth.materials import LACE
from hoopwright.cloth.replay import bench_of, replay
from hoopwright.items.plan import Plan
from hoopwright.operations.vocabulary import Lay
from hoopwright.pipeline import plan
from hoopwright.project.load import load
from hoopwright.project.schema import Project

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def with_leaf(name: str, at: tuple[float, float] = (0.0, 0.0)) -> Plan:
    table = load(EXAMPLES / name / "project.toml").project.model_dump(by_alias=True)
    table["panel"]["accents"] = [{"motif": "leaf", "size": 30, "at": at}]
    return plan(Project.model_validate(table))


@pytest.mark.parametrize(
    ("name", "at"), [("tide-mat", (0.0, 0.0)), ("reed-bookmark", (0.0, 0.0)), ("sluice-key-tab", (-20.0, 0.0))]
)
def test_nothing_is_found_wrong_with_it(name: str, at: tuple[float, float]) -> None:
    """A mat is turned, a bookmark's seam passes near, a key tab has cut edges under satin: an accent has no cut edge."""
    assert [str(f) for f in comes_out(with_leaf(name, at))] == []


def test_it_is_one_sheet_without_a_cut_edge() -> None:
    made = with_leaf("tide-mat")
    stacks = replay(made.hoopings[-1], bench_of(made.project))
    (leaf,) = stacks[-2].of("leaf")
    assert (leaf.lace, leaf.thickness, leaf.cloth) == (True, LACE, "")
    assert "leaf" not in {e.sheet for e in raw_edges(stacks[-2])}


def moved(made: Plan, by: float) -> Plan:
    """Return the plan with the leaf laid beside its place."""
    hooping = made.hoopings[-1]
    steps = tuple(
        replace(
            s,
            hands=tuple(
                replace(h, pose=translate(h.pose, by, 0.0)) if isinstance(h, Lay) and h.piece == "leaf" else h
                for h in s.hands
            ),
        )
        for s in hooping.steps
    )
    return replace(made, hoopings=(*made.hoopings[:-1], replace(hooping, steps=steps)))


def test_one_laid_beside_its_place_is_not_caught_and_that_is_told() -> None:
    found = comes_out(moved(with_leaf("tide-mat"), 30.0))
    assert any(f.code in ("HW540", "HW541") and "leaf" in f.message for f in found), [str(f) for f in found]
