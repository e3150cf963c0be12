"""Grounds of bodies and backs, as a recipe's settings and as the block that is sewn."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Any, Final, TypeAlias

from pydantic import BeforeValidator
from shapely.geometry import Polygon

from hoopwright.core.findings import Finding, blocking
from hoopwright.core.types import Mm
from hoopwright.items.recipe import Workshop
from hoopwright.needle.grounds.table import PLAIN
from hoopwright.needle.panel_grounds import ground_block, ground_faults, motif_said
from hoopwright.operations.vocabulary import Stitch
from hoopwright.project.lengths import read_length
from hoopwright.project.schema import GroundModel, Project

GROUND_INSIDE: Final[Mm] = 3.0
"""The ground of a body ends this far inside the seam line, mm, when nothing else is said."""


def read_ground(value: Any) -> Any:
    """Return a ground as its settings: a mere distance means crossing lines so far apart, 0 none.

    Raises LengthError for what is no length.
    """
    if isinstance(value, dict):
        return {"margin": GROUND_INSIDE, **value}
    if isinstance(value, GroundModel):
        return value
    spacing = read_length(value)
    return {"kind": "crosshatch", "spacing": spacing, "margin": GROUND_INSIDE} if spacing else {"kind": PLAIN}


BodyGround: TypeAlias = Annotated[GroundModel, BeforeValidator(read_ground)]
"""The setting ``ground`` of a recipe."""

CROSSED: Final = GroundModel(kind="crosshatch", spacing=12.0, margin=GROUND_INSIDE)
"""Crossing lines 12 mm apart."""


def ground_refused(model: GroundModel, project: Project) -> tuple[Finding, ...]:
    """Return what is wrong with a recipe's ground in itself; a motif's file is looked at when it is sewn."""
    return () if model.file is not None else ground_faults(model, "make.ground", {}, project.units)


def ground(shop: Workshop, what: str, region: Polygon, model: GroundModel) -> tuple[Stitch, ...]:
    """Return the block that quilts ``what`` over ``region``; nothing for a plain one, or for a motif that cannot be used."""
    if model.kind == PLAIN or blocking(_file_said(shop, model)):
        return ()
    block = ground_block(model, region, f"Ground of {what}", shop.project.stitching.run, shop.files)
    return (replace(block, thread=block.thread or shop.thread("outline")),)


def ground_said(shop: Workshop, region: Polygon, model: GroundModel) -> tuple[Finding, ...]:
    """Return what the maker should know about a ground of ``region`` whose motif is a file."""
    said = _file_said(shop, model)
    blocks = ground(shop, "the cloth", region, model) if model.file is not None else ()
    return (*said, *(more for block in blocks for more in motif_said(block, "make.ground.file", shop.project.units)))


def _file_said(shop: Workshop, model: GroundModel) -> tuple[Finding, ...]:
    return ground_faults(model, "make.ground", shop.files, shop.project.units) if model.file is not None else ()
