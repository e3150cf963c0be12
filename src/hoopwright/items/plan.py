"""The plan: everything that is known before it is checked, estimated and written."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.core.findings import Finding
from hoopwright.core.types import Mm
from hoopwright.items.recipe import NOTHING, Making
from hoopwright.needle.shapes import Hooping
from hoopwright.piecing.shapes import PiecedPanel
from hoopwright.project.schema import Project


@dataclass(frozen=True, slots=True, eq=False)
class Plan:
    """A project planned: pieced panels and hoopings in sewing order. ``field`` is the hoop's (width, height) in mm.

    ``findings`` are those of the rooms before the checks (project, piecing, needle, items). ``making`` is what the recipe
    yielded beyond the hoopings: pieces to cut, handwork after the last hooping, care, promise.
    """

    project: Project
    field: tuple[Mm, Mm]
    panels: tuple[PiecedPanel, ...]
    hoopings: tuple[Hooping, ...]
    findings: tuple[Finding, ...]
    making: Making = NOTHING
