from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from hoopwright.build import Build
from hoopwright.outputs.writing import WARNING_NAME, machine_stage, warning_text
from hoopwright.pipeline import build, write
from hoopwright.project.load import load
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


def test_findings_of_the_record_carry_their_line_of_the_project_file(tmp_path: Path) -> None:
    """What the stitch files leave out is found last of all, and still leads back to the line that asks for it."""
    example = Path(__file__).parents[2] / "examples" / "tide-mill-flap" / "project.toml"
    loaded = load(example)
    write(build(loaded.project, prove=False), tmp_path / "out", text=loaded.text)
    found = json.loads((tmp_path / "out" / "build.json").read_text(encoding="utf-8"))["findings"]
    (where,) = [f["where"] for f in found if f["code"] == "HW806"]
    lines = loaded.text.splitlines()
    assert lines[where["line"] - 1].startswith("halt_at")
