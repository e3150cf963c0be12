from __future__ import annotations

from pathlib import Path

import pytest

from hoopwright.core.findings import blocking
from hoopwright.pipeline import build
from hoopwright.project.load import load
from hoopwright.project.schema import Project
from tests.items.small_items import patchwork_faults, project_of

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("tide-mat", "reading-sleeve", "reed-bookmark", "sluice-key-tab", "mill-label")


@pytest.mark.parametrize("name", NAMES)
def test_the_example_builds_without_a_warning(name: str) -> None:
    made = build(load(EXAMPLES / name / "project.toml").project, prove=False)
    assert made.plan.making.pieces
    assert [str(f) for f in (*made.findings, *patchwork_faults(made.plan))] == []


@pytest.mark.parametrize(
    ("item", "code"), [("mat", "HW467"), ("glasses-sleeve", "HW437"), ("bookmark", "HW467"), ("key-tab", "HW467")]
)
def test_a_turned_panel_is_refused(item: str, code: str) -> None:
    project = project_of(item, "150x240")
    turned = Project.model_validate(
        {**project.model_dump(by_alias=True), "panel": {**project.panel.model_dump(), "turn": 30}}
    )
    assert [f.code for f in blocking(build(turned, prove=False).findings)] == [code]


@pytest.mark.parametrize("name", NAMES)
def test_neighbouring_blocks_without_hands_between_differ(name: str) -> None:
    """A new block begins only where hands are needed, or for another thread, another purpose or another seam."""
    made = build(load(EXAMPLES / name / "project.toml").project, prove=False)
    for hooping in made.plan.hoopings:
        for one, other in zip(hooping.steps[:-1], hooping.steps[1:], strict=True):
            a, b = one.stitch, other.stitch
            assert other.halt or (a.thread, a.role, a.seam) != (b.thread, b.role, b.seam), other.index
