"""Plans made by hand, for rules that look at one thing each."""

from __future__ import annotations

from shapely.geometry import LineString, box

from hoopwright.core.types import frozen_points
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping, Run, Step
from hoopwright.operations.vocabulary import Numeral, Role, RunStyle, Stitch
from hoopwright.project.schema import Project

PROJECT = Project.model_validate(
    {
        "schema": 1,
        "title": "Trial",
        "cloths": {"linen": {"name": "linen", "colour": "#808080"}},
        "threads": {"slate": {"name": "slate", "colour": "#222222"}},
        "panel": {"outline": {"shape": "rectangle", "width": 60, "height": 60}},
    }
)


def plan_of(
    *rows: list[tuple[float, float]],
    role: Role = Role.SEAM,
    numerals: tuple[Numeral, ...] = (),
    project: Project = PROJECT,
    field: tuple[float, float] = (100.0, 100.0),
) -> Plan:
    """Return a plan with one hooping and one step a row of needle positions."""
    stitch = Stitch(role, "Trial", "slate", (LineString([(0, 0), (1, 0)]),), RunStyle(2.5), "", numerals=numerals)
    steps = tuple(Step(i + 1, stitch, (), (Run(frozen_points(row)),)) for i, row in enumerate(rows))
    return Plan(project, field, (), (Hooping("panel", "Trial", "panel", 1, steps),), ())


def patch_number(text: str, width: float, height: float) -> Numeral:
    """Return a numeral in a rectangle."""
    return Numeral(text, box(0, 0, width, height))
