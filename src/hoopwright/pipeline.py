"""The one way through: project -> plan -> findings and estimate -> build -> files."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TypeVar

from hoopwright.build import Build
from hoopwright.checks.rules import check
from hoopwright.core.errors import BlockedError
from hoopwright.core.findings import Finding, blocking
from hoopwright.estimate.estimate import estimate
from hoopwright.estimate.findings import estimate_findings
from hoopwright.items.panel import HoopingOperations, panel_operations
from hoopwright.items.plan import Plan
from hoopwright.needle.ornaments import plan_ornaments
from hoopwright.needle.sewing import steps_of
from hoopwright.needle.shapes import Hooping
from hoopwright.outputs.folder import put_folder
from hoopwright.outputs.machine.facts import StitchFacts, facts
from hoopwright.outputs.machine.read import read_stitches
from hoopwright.outputs.writing import Tell, all_files, machine_stage
from hoopwright.piecing.colours import choose_cloths, lightness_of
from hoopwright.piecing.order import sewing_order
from hoopwright.piecing.patch_map import patch_map
from hoopwright.piecing.patches import patches_of
from hoopwright.piecing.shapes import PatchMap, PiecedPanel
from hoopwright.project.fields import field_of
from hoopwright.project.schema import ClothModel, Project

PANEL = "panel"
"""Key of the only panel of a project that makes one panel."""

T = TypeVar("T")


class _Clock:
    """Times the stages; the only place that looks at a clock, and no result depends on it."""

    def __init__(self) -> None:
        self.rows: list[tuple[str, float]] = []

    def stage(self, name: str, work: Callable[[], T]) -> T:
        """Run one stage and remember how long it took."""
        start = time.perf_counter()
        result = work()
        self.rows.append((name, time.perf_counter() - start))
        return result


def build(project: Project, drawings: Mapping[str, bytes] | None = None) -> Build:
    """Plan the project, check it and estimate it; nothing is written.

    ``drawings`` holds the SVG files the project names. A panel that cannot be pieced gives a Build without hoopings
    whose findings say why.
    """
    clock = _Clock()
    made = plan(project, drawings or {}, clock)
    findings = clock.stage("checks", lambda: (*made.findings, *check(made)))
    needs = clock.stage("estimate", lambda: estimate(made))
    return Build(made, (*findings, *estimate_findings(made, needs)), needs, tuple(clock.rows))


def plan(project: Project, drawings: Mapping[str, bytes] | None = None, clock: _Clock | None = None) -> Plan:
    """Carry the project through piecing, items and needle."""
    clock = clock or _Clock()
    field = field_of(project.hoop)
    map_, findings = clock.stage("patch map", lambda: patch_map(project.panel, drawings or {}))
    if map_ is None:
        return Plan(project, field, (), (), findings)
    panel = _piece(project, map_, clock)
    findings = (*findings, *panel.findings)
    if not panel.order.sewable:
        return Plan(project, field, (panel,), (), findings)
    ornaments, more = clock.stage("seam stitches", lambda: plan_ornaments(map_, project.panel, map_.outline))
    groups = clock.stage("operations", lambda: panel_operations(project, panel, ornaments))
    hoopings = clock.stage("needle", lambda: tuple(_sew(project, panel, g) for g in groups))
    return Plan(project, field, (panel,), hoopings, (*findings, *more))


def _sew(project: Project, panel: PiecedPanel, group: HoopingOperations) -> Hooping:
    steps, after = steps_of(group.operations, project.stitching, project.machine)
    return Hooping(group.key, group.title, panel.key, group.section, steps, after)


def _for_patches(project: Project) -> dict[str, ClothModel]:
    """Return the cloths that patches may be cut from: those of kind "cloth", and others the maker gave to a patch."""
    given = set(project.panel.cloths.values())
    return {key: cloth for key, cloth in project.cloths.items() if cloth.kind == "cloth" or key in given}


def _piece(project: Project, map_: PatchMap, clock: _Clock) -> PiecedPanel:
    model = project.panel
    cloths, found = clock.stage("cloths", lambda: choose_cloths(map_, model.cloths, _for_patches(project)))
    light = {letter: lightness_of(project.cloths[key].colour) for letter, key in cloths}
    order = clock.stage(
        "order",
        lambda: sewing_order(map_, own=model.order, first=model.first, wishes=model.wishes, lightness=light),
    )
    findings: tuple[Finding, ...] = (*found, *order.findings)
    if not order.sewable:
        return PiecedPanel(PANEL, map_.outline, map_, order, (), cloths, findings)
    patches, more = clock.stage(
        "patches", lambda: patches_of(map_, order, dict(cloths), project.cloths, project.piecing)
    )
    return PiecedPanel(PANEL, map_.outline, map_, order, patches, cloths, (*findings, *more))


def write(made: Build, folder: Path, *, despite: bool = False, tell: Tell = lambda _: None) -> Build:
    """Write every file of a build to ``folder``, whole or not at all, and return the build with all findings.

    Raises BlockedError when a finding blocks (unless ``despite``), OutputError when the folder cannot be written.
    """
    tell("stitch files")
    made, machine = machine_stage(made)
    if made.blocked and not despite:
        blocks = blocking(made.findings)
        raise BlockedError(
            f"Nothing was written: {len(blocks)} finding{'s' if len(blocks) > 1 else ''} would spoil the work",
            made.findings,
            "Mend what they say, or build anyway with --despite-findings.",
        )
    put_folder(all_files(made, machine, tell), folder)
    return made


def stitch_facts(data: bytes, name: str, speed: int = 600) -> StitchFacts:
    """Return what a stitch file of any kind holds. Raises StitchFileError for one that cannot be read."""
    return facts(read_stitches(data, name), speed)


def check_files(made: Build) -> Build:
    """Write the stitch files in memory, read them back and return the build with what was found; nothing is written."""
    return machine_stage(made)[0]
