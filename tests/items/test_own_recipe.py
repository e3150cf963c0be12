"""The recipe printed in docs/own-recipe.md is complete and works."""

from __future__ import annotations

import re
import sys
import types
from collections.abc import Iterator
from importlib.metadata import EntryPoint
from pathlib import Path

import pytest

from hoopwright.core.findings import blocking
from hoopwright.items import registry
from hoopwright.operations.vocabulary import Face, Lay, Role, Turn
from hoopwright.pipeline import build
from hoopwright.project.load import load
from hoopwright.project.schema import Project

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "own-recipe.md").read_text(encoding="utf-8")
FLAP = ROOT / "examples" / "tide-mill-flap" / "project.toml"


@pytest.fixture
def registered(monkeypatch: pytest.MonkeyPatch) -> None:
    """Register the page's recipe as an installed package would."""
    module = types.ModuleType("page_recipe")
    exec(re.findall(r"```python\n(.*?)```", PAGE, re.DOTALL)[0], module.__dict__)
    monkeypatch.setitem(sys.modules, "page_recipe", module)
    point = EntryPoint("pin-cushion", "page_recipe:RECIPE", registry.GROUP)
    monkeypatch.setattr(registry, "entry_points", lambda group: [point] if group == registry.GROUP else [])
    registry.recipes.cache_clear()


@pytest.fixture(autouse=True)
def forgotten() -> Iterator[None]:
    """Leave no trace of the page's recipe."""
    yield
    registry.recipes.cache_clear()


def project(**make: object) -> Project:
    base = load(FLAP).project
    panel = base.panel.model_copy(
        update={"patchwork": None, "cloths": {}, "outline": type(base.panel)().outline, "seams": {}}
    )
    return base.model_copy(update={"item": "pin-cushion", "make": make, "panel": panel})


@pytest.mark.parametrize("side", [50.0, 80.0, 100.0])
def test_it_builds_in_several_sizes(registered: None, side: float) -> None:
    made = build(project(side=side))
    assert blocking(made.findings) == ()
    assert [h.key for h in made.plan.hoopings] == ["top", "cushion"]
    closing = made.plan.hoopings[-1].steps[-1].stitch
    assert closing.role is Role.CLOSING
    assert closing.paths[0].length == pytest.approx(4 * side - 40.0)


def test_top_up_back_down_and_turned_through_the_gap(registered: None) -> None:
    made = build(project())
    lays = [h for s in made.plan.hoopings[-1].steps for h in s.hands if isinstance(h, Lay)]
    assert [(x.piece, x.face) for x in lays] == [("top", Face.UP), ("back", Face.DOWN)]
    (turn,) = [h for h in made.plan.making.assembly if isinstance(h, Turn)]
    assert turn.line.length == pytest.approx(40.0)


def test_its_settings_are_checked_like_ours(registered: None) -> None:
    assert [f.code for f in build(project(side=900.0)).findings] == ["HW402"]
    (finding,) = build(project(sid=80.0)).findings
    assert 'Did you mean "side"?' in finding.cure
