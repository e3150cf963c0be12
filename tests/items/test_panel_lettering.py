from __future__ import annotations

import time
from typing import Any

import numpy as np
import shapely
from shapely.geometry import LineString, box

from hoopwright.core.findings import blocking
from hoopwright.items.plan import Plan
from hoopwright.operations.vocabulary import Role
from hoopwright.pipeline import build, plan
from hoopwright.project.schema import Project
from tests.items.small_items import project_of
from tests.needle.lettering.fonts import SERIF

FILES = {"letters.ttf": SERIF}
LETTERS = (
    {"lines": ["Tide mill"], "at": [0, 20], "width": 70, "font": "letters.ttf", "thread": "slate"},
    {"lines": ["mended 2026"], "at": [0, -25], "width": 50, "turn": 10},
)


def panel(**panel: Any) -> Project:
    plain = project_of("mat").model_dump(by_alias=True)
    rectangle = {"shape": "rectangle", "width": 100, "height": 120}
    plain["item"], plain["make"] = "panel", {}
    plain["panel"] = {"outline": rectangle, "patchwork": None, "seam_stitch": {"stitch": "none"}, **panel}
    return Project.model_validate(plain)


def steps(made: Plan, role: Role) -> list[Any]:
    return [s for h in made.hoopings for s in h.steps if s.stitch.role is role]


def test_letters_are_sewn_on_a_panel_before_its_outline() -> None:
    made = build(panel(lettering=LETTERS), FILES)
    assert [str(f) for f in blocking(made.findings)] == []
    one, other = sorted(steps(made.plan, Role.LETTERING), key=lambda s: s.stitch.title, reverse=False)
    assert "Tide mill" in one.stitch.title
    assert one.stitch.thread == "slate"
    assert other.stitch.thread == "chalk"
    (outline,) = steps(made.plan, Role.OUTLINE)
    assert max(one.index, other.index) < outline.index
    assert np.vstack([r.points for r in one.runs])[:, 1].min() > 0.0
    assert np.vstack([r.points for r in other.runs])[:, 1].max() < 0.0


def test_a_ground_leaves_letters_clear() -> None:
    made = plan(panel(lettering=LETTERS, ground={"kind": "crosshatch", "spacing": 5}), FILES)
    letters = shapely.union_all([LineString(r.points) for s in steps(made, Role.LETTERING) for r in s.runs])
    grounds = [LineString(r.points) for s in steps(made, Role.GROUND) for r in s.runs]
    assert grounds
    assert min(line.distance(letters) for line in grounds) > 0.2
    assert any(line.intersects(box(-48, -58, 48, 58)) for line in grounds)


def test_a_font_file_that_is_not_there_blocks() -> None:
    assert "HW361" in [f.code for f in blocking(plan(panel(lettering=LETTERS), {}).findings)]


def test_letters_that_did_not_change_cost_almost_nothing_when_planned_again() -> None:
    project = panel(lettering=LETTERS)
    plan(project, FILES)
    start = time.process_time()
    again = plan(project, FILES)
    assert time.process_time() - start < 0.25
    assert len(steps(again, Role.LETTERING)) == 2
