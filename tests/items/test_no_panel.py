from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from hoopwright.core.findings import Severity
from hoopwright.items.registry import recipe_named
from hoopwright.items.settings import read_settings
from hoopwright.project.schema import Project
from tests.items.bags import project

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*/project.toml"))
ASKED: dict[str, object] = {
    "ground": {"kind": "crosshatch"},
    "grounds": {"A": {"kind": "channels"}},
    "lettering": [{"lines": ["Tide"]}],
    "placed": [{"file": "gull.pes"}],
    "accents": [{"motif": "leaf"}],
    "edge_stitch": {"stitch": "herringbone"},
}


def notes(asked: Project) -> list[tuple[str | None, Severity]]:
    recipe, _ = recipe_named(asked.item)
    assert recipe is not None
    settings, found = read_settings(recipe, asked.make)
    assert settings is not None, found
    said = recipe.refuse(settings, asked)
    return [(f.where.path, f.severity) for f in said if f.code == "HW490"]


@pytest.mark.parametrize("item", ["label", "accent"])
@pytest.mark.parametrize("name", ASKED)
def test_what_would_be_sewn_on_a_panel_is_told_where_there_is_none(item: str, name: str) -> None:
    assert notes(project(item, panel={name: ASKED[name]})) == [(f"panel.{name}", Severity.NOTES)]


def test_every_setting_is_told_and_usual_ones_are_not() -> None:
    assert notes(project("label", panel=ASKED)) == [(f"panel.{name}", Severity.NOTES) for name in ASKED]
    assert notes(project("label", panel={"ground": {"kind": "none"}, "accents": [], "turn": 5})) == []


@pytest.mark.parametrize("item", ["panel", "block", "flap-pouch", "key-tab", "mat"])
def test_items_with_a_panel_say_nothing(item: str) -> None:
    assert notes(project(item, panel=ASKED)) == []


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.parent.name)
def test_no_example_asks_for_what_has_no_effect(path: Path) -> None:
    assert notes(Project.model_validate(tomllib.loads(path.read_text(encoding="utf-8")))) == []
