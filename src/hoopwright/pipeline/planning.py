"""From a project to its plan, its findings and its estimate."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Final, TypeVar

from hoopwright.build import Build
from hoopwright.checks.cloth import comes_out
from hoopwright.checks.rules import check
from hoopwright.core.findings import Finding, blocking
from hoopwright.estimate.estimate import estimate
from hoopwright.estimate.findings import estimate_findings
from hoopwright.items.plan import Plan
from hoopwright.items.recipe import HoopingOperations, Recipe, Wanted, Workshop
from hoopwright.items.registry import recipe_named
from hoopwright.items.settings import read_settings
from hoopwright.needle.block_order import reordered
from hoopwright.needle.decorations import NONE, Decorations, plan_decorations
from hoopwright.needle.ornaments import Ornament, plan_ornaments
from hoopwright.needle.sewing import steps_of
from hoopwright.needle.shapes import Hooping
from hoopwright.needle.unsewn import left_out
from hoopwright.piecing.colours import choose_cloths, lightness_of
from hoopwright.piecing.frame import frame_of
from hoopwright.piecing.order import Budget, sewing_order
from hoopwright.piecing.patch_map import patch_map
from hoopwright.piecing.patches import patches_of
from hoopwright.piecing.shapes import PatchMap, PiecedPanel, SewingOrder
from hoopwright.project.fields import field_of
from hoopwright.project.schema import (
    ClothModel,
    Model,
    PanelModel,
    Project,
)

T = TypeVar("T")


class Clock:
    """Times the stages; the only place that looks at a clock, and no result depends on it."""

    def __init__(self) -> None:
        self.rows: list[tuple[str, float]] = []

    def stage(self, name: str, work: Callable[[], T]) -> T:
        """Run one stage and remember how long it took."""
        start = time.perf_counter()
        result = work()
        self.rows.append((name, time.perf_counter() - start))
        return result


def build(project: Project, drawings: Mapping[str, bytes] | None = None, *, prove: bool = True) -> Build:
    """Plan the project, check it and estimate it; nothing is written.

    ``drawings`` holds the contents of the files the project names. A panel that cannot be pieced gives a Build without hoopings
    whose findings say why. ``prove`` carries every operation out on the sheet stack; while a drawing is being dragged it
    may be left for the moment the hand rests.
    """
    clock = Clock()
    made = plan(project, drawings or {}, clock)
    findings = clock.stage("checks", lambda: (*made.findings, *check(made)))
    if prove:
        findings = (*findings, *clock.stage("cloth", lambda: comes_out(made)))
    needs = clock.stage("estimate", lambda: estimate(made))
    return Build(made, (*findings, *estimate_findings(made, needs)), needs, tuple(clock.rows))


def plan(project: Project, drawings: Mapping[str, bytes] | None = None, clock: Clock | None = None) -> Plan:
    """Carry the project through items, piecing and needle."""
    clock = clock or Clock()
    field = field_of(project.hoop)
    recipe, settings, findings = asked_recipe(project)
    if recipe is None or settings is None or blocking(findings):
        return Plan(project, field, (), (), findings)
    panels: list[PiecedPanel] = []
    ornaments: dict[str, tuple[Ornament, ...]] = {}
    decorations: dict[str, Decorations] = {}
    for wanted in recipe.wanted(settings, project):
        panel, rows, more, found = _pieced(project, wanted, drawings or {}, clock)
        findings = (*findings, *found)
        if panel is not None:
            panels.append(panel)
            ornaments[panel.key], decorations[panel.key] = rows, more
        if panel is None or not panel.order.sewable:
            return Plan(project, field, tuple(panels), (), findings)
    shop = Workshop(project, settings, {p.key: p for p in panels}, ornaments, decorations, drawings or {})
    making = clock.stage("operations", lambda: recipe.make(shop))
    hoopings = clock.stage("needle", lambda: tuple(_sew(project, g) for g in making.hoopings))
    lost = tuple(f for g, h in zip(making.hoopings, hoopings, strict=True) for f in _left_out(g, h))
    return Plan(project, field, tuple(panels), hoopings, (*findings, *making.findings, *lost), making)


UNSEWN: Final = SewingOrder((), 0, True, (), (), False, ())
"""The order of a drawing that must be mended first; what could be said of its order would mislead."""


def asked_recipe(project: Project) -> tuple[Recipe | None, Model | None, tuple[Finding, ...]]:
    """Return the recipe and its settings that a project asks for, and what speaks against them; None for what there is not."""
    recipe, findings = recipe_named(project.item)
    if recipe is None:
        return None, None, findings
    settings, findings = read_settings(recipe, project.make, project.units)
    if settings is None:
        return recipe, None, findings
    return recipe, settings, recipe.refuse(settings, project)


def _pieced(
    project: Project, wanted: Wanted, files: Mapping[str, bytes], clock: Clock
) -> tuple[PiecedPanel | None, tuple[Ornament, ...], Decorations, tuple[Finding, ...]]:
    """Piece one panel of the item and plan what is sewn on it."""
    model = project.panel
    if wanted.outline is not None:
        model = model.model_copy(update={"outline": wanted.outline})
    map_, findings = clock.stage("patch map", lambda: patch_map(model, files, project.units))
    if map_ is None:
        return None, (), NONE, findings
    panel = replace(_piece(project, model, wanted.key, map_, clock), frame=frame_of(model, files))
    if blocking(findings):
        return replace(panel, order=UNSEWN), (), NONE, findings
    if not panel.order.sewable:
        return panel, (), NONE, (*findings, *panel.findings)
    rows, found = clock.stage("seam stitches", lambda: plan_ornaments(map_, model, map_.outline, project.units))
    more, said = clock.stage("decorations", lambda: plan_decorations(map_, model, rows, project, files))
    return panel, rows, more, (*findings, *panel.findings, *found, *said)


def _sew(project: Project, group: HoopingOperations) -> Hooping:
    steps, after = steps_of(group.operations, project.stitching, project.machine)
    return Hooping(group.key, group.title, group.panel, group.section, reordered(steps), after)


def _left_out(group: HoopingOperations, hooping: Hooping) -> tuple[Finding, ...]:
    return left_out(group.operations, (step.stitch for step in hooping.steps), hooping.key)


def _for_patches(project: Project) -> dict[str, ClothModel]:
    """Return the cloths that patches may be cut from: those of kind "cloth", and others the maker gave to a patch."""
    given = set(project.panel.cloths.values())
    return {key: cloth for key, cloth in project.cloths.items() if cloth.kind == "cloth" or key in given}


def ordered(
    project: Project, model: PanelModel, key: str, map_: PatchMap, clock: Clock, budget: Budget | None = None
) -> PiecedPanel:
    """Choose the cloths and find the order; the patches themselves are not made."""
    cloths, found = clock.stage("cloths", lambda: choose_cloths(map_, model.cloths, _for_patches(project)))
    light = {letter: lightness_of(project.cloths[key].colour) for letter, key in cloths}
    order = clock.stage(
        "order",
        lambda: sewing_order(
            map_,
            own=model.order,
            first=model.first,
            wishes=model.wishes,
            lightness=light,
            allowance=project.piecing.allowance,
            budget=budget,
        ),
    )
    return PiecedPanel(key, map_.outline, map_, order, (), cloths, (*found, *order.findings))


def _piece(project: Project, model: PanelModel, key: str, map_: PatchMap, clock: Clock) -> PiecedPanel:
    panel = ordered(project, model, key, map_, clock)
    if not panel.order.sewable:
        return panel
    patches, more = clock.stage(
        "patches",
        lambda: patches_of(map_, panel.order, dict(panel.cloths), project.cloths, project.piecing, project.units),
    )
    return replace(panel, patches=patches, findings=(*panel.findings, *more))


def panel_model(project: Project, key: str) -> PanelModel:
    """Return the panel of a project with the outline that the item gives the panel ``key``."""
    recipe, settings, _ = asked_recipe(project)
    wanted = () if recipe is None or settings is None else recipe.wanted(settings, project)
    outline = next((w.outline for w in wanted if w.key == key and w.outline is not None), None)
    return project.panel if outline is None else project.panel.model_copy(update={"outline": outline})
