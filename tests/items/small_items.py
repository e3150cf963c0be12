"""Projects for the tests of recipes, and what their making does to the cloth."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import shapely
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.columns import visible
from hoopwright.cloth.proofs import prove_panel
from hoopwright.cloth.replay import after_hands, bench_of, replay
from hoopwright.cloth.shapes import Stack
from hoopwright.core.findings import Finding, blocking
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import HandWork, Lay, Role, Side
from hoopwright.pipeline import build, plan
from hoopwright.project.schema import Project

CLOTHS = {
    "indigo": {"name": "indigo twill", "colour": "#2f4468"},
    "foam": {"name": "foam green linen", "colour": "#a9c4b8"},
    "lawn": {"name": "unbleached lawn", "colour": "#e2d8c0", "thickness": 0.2, "kind": "lining"},
    "felt": {"name": "stiff felt", "colour": "#8a8f94", "thickness": 1.0, "kind": "stiffener"},
    "tape": {"name": "madder ribbon", "colour": "#a2412f", "thickness": 0.3, "kind": "ribbon"},
}
THREADS = {"chalk": {"name": "chalk white", "colour": "#f4f1e6"}, "slate": {"name": "slate", "colour": "#56606b"}}
STRIPS = {"way": "strips", "seed": 3, "patches": 3, "angle": 10, "least_area": 100}


def project_of(item: str, field: object = "130x180", patchwork: object = STRIPS, **make: Any) -> Project:
    """Return a project of the item with these settings of its own."""
    return Project.model_validate(
        {
            "schema": 1,
            "title": f"A {item}",
            "item": item,
            "make": make,
            "hoop": {"field": field},
            "cloths": CLOTHS,
            "threads": THREADS,
            "guides": {"layout": "slate", "outline": "slate"},
            "panel": {"patchwork": patchwork, "seam_stitch": {"stitch": "feather"}},
        }
    )


def findings_of(project: Project) -> tuple[Finding, ...]:
    """Return every finding of a build, without the proofs of the cloth."""
    return build(project, prove=False).findings


def blocks(project: Project) -> list[str]:
    """Return what blocks a build, and what the cloth says against its patchwork."""
    made = build(project, prove=False)
    return [str(f) for f in blocking((*made.findings, *patchwork_faults(made.plan)))]


def patchwork_faults(made: Plan) -> tuple[Finding, ...]:
    """Return what the sheet stack finds in the pieced part of every hooping: up to where the first other piece is laid."""
    found: list[Finding] = []
    for hooping in made.hoopings:
        panel = next((p for p in made.panels if p.key == hooping.panel), None)
        if panel is not None:
            found += prove_panel(panel, pieced_part(hooping, {p.label for p in panel.patches}), made.project)
    return tuple(found)


def pieced_part(hooping: Hooping, labels: set[str]) -> Hooping:
    others = [s.index for s in hooping.steps if any(isinstance(h, Lay) and h.piece not in labels for h in s.hands)]
    if not others:
        return hooping
    return replace(hooping, steps=tuple(s for s in hooping.steps if s.index < others[0]), after=())


def planned(item: str, field: object = "130x180", patchwork: object = STRIPS, **make: Any) -> Plan:
    return plan(project_of(item, field, patchwork, **make))


def stacks(made: Plan, number: int = -1) -> tuple[Stack, ...]:
    """Return the stack after every step of a hooping, and last after its hand work."""
    return replay(made.hoopings[number], bench_of(made.project))


def finished(made: Plan, assembly: Sequence[HandWork] | None = None) -> Stack:
    """Return the stack when the last hooping and the assembly are done."""
    hands = made.making.assembly if assembly is None else assembly
    return after_hands(stacks(made)[-1], hands, bench_of(made.project))


def step_of(hooping: Hooping, role: Role, number: int = 0) -> Step:
    return [s for s in hooping.steps if s.stitch.role is role][number]


def sheets_shown(stack: Stack, side: Side, inside: BaseGeometry) -> dict[tuple[str, bool], float]:
    """Return what shows from a side within a region: sheet and whether its right side, with the area."""
    found: dict[tuple[str, bool], float] = {}
    for shown in visible(stack, side):
        area = float(shapely.area(shapely.intersection(shown.region, inside)))
        if area > 0.5:
            found[shown.sheet, shown.right] = found.get((shown.sheet, shown.right), 0.0) + area
    return found


def lays(hooping: Hooping) -> list[Lay]:
    return [h for s in hooping.steps for h in s.hands if isinstance(h, Lay)]
