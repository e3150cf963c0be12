from __future__ import annotations

from dataclasses import replace

import pytest

from hoopwright.build import Build
from hoopwright.outputs.writing import WARNING_NAME, machine_stage, warning_text
from hoopwright.pipeline import build
from hoopwright.project.schema import Project


@pytest.fixture(scope="module")
def too_wide() -> Build:
    """A panel of 140 mm in a field of 130 mm."""
    data = {
        "schema": 1,
        "title": "Sluice cloth",
        "machine": {"kinds": ["dst", "exp"]},
        "cloths": {"linen": {"name": "linen", "colour": "#808080"}},
        "threads": {"slate": {"name": "slate", "colour": "#222222"}},
        "panel": {
            "outline": {"shape": "rectangle", "width": 140, "height": 60},
            "patchwork": {"way": "cuts", "cuts": [[[0, -30], [0, 30]]]},
        },
    }
    return build(Project.model_validate(data))


def test_that_the_plan_leaves_the_field_is_told_once(too_wide: Build) -> None:
    codes = [f.code for f in machine_stage(too_wide)[0].findings]
    assert codes.count("HW601") == 1
    assert "HW815" not in codes


def test_a_file_that_leaves_the_field_is_found_without_the_rule_on_plans(too_wide: Build) -> None:
    """What is read back is judged by itself: with the plan's own finding taken away every file is blocked."""
    silent = replace(too_wide, findings=tuple(f for f in too_wide.findings if f.code != "HW601"))
    assert not silent.blocked
    checked, files = machine_stage(silent)
    assert [f.code for f in checked.findings].count("HW815") == 2
    assert b"DO NOT SEW" in files[0].data[:40]


def test_the_warning_names_what_blocks_and_nothing_else(too_wide: Build) -> None:
    text = warning_text(too_wide)
    assert WARNING_NAME.endswith(".txt")
    assert "HW601" in text
    assert "notes" not in text
