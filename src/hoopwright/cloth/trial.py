"""What the proofs of a pieced panel look at: the plan, and the stack the cloth really makes of it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import shapely
from shapely.geometry import MultiPoint, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.columns import Columns, Shown, columns, visible
from hoopwright.cloth.placing import AS_LAID
from hoopwright.cloth.replay import Undone, attempt, bench_of
from hoopwright.cloth.shapes import Join, Region, Stack, region_of, united
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import BEHIND, COVER_AREA
from hoopwright.core.types import Point
from hoopwright.items.words import name_of
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import Role, Side
from hoopwright.piecing.shapes import Patch, PiecedPanel
from hoopwright.project.lengths import show_length
from hoopwright.project.schema import Project


@dataclass(frozen=True, slots=True)
class Fault:
    """A finding with the sheets it speaks of. A fault that ``follows`` is left out when one of its sheets has one that
    does not: mend that one and this goes too.
    """

    finding: Finding
    sheets: tuple[str, ...]
    follows: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Trial:
    """One hooping of a pieced panel carried out: the stack after every step and at the end, what shows at the end, and
    what could not be done.
    """

    panel: PiecedPanel
    hooping: Hooping
    project: Project
    patches: tuple[Patch, ...]
    region: Region
    stacks: tuple[Stack, ...]
    table: Columns
    shown: tuple[Shown, ...]
    undone: tuple[Undone, ...] = ()

    @property
    def end(self) -> Stack:
        """The stack when everything is done."""
        return self.stacks[-1]

    def name(self, sheet: str) -> str:
        """Return how the maker knows a sheet."""
        return next((name_of(p) for p in self.patches if p.label == sheet), sheet)

    def length(self, mm: float) -> str:
        """Return a length in the maker's units."""
        return show_length(mm, self.project.units)

    def holding(self, patch: Patch) -> tuple[Step, Stack, Join] | None:
        """Return the step that sews a patch on, the stack after it and what it joins; None when there is none."""
        role = Role.TACK if patch.seam is None else Role.SEAM
        for step, stack in zip(self.hooping.steps, self.stacks, strict=False):
            if step.stitch.role is role and step.stitch.piece == patch.label:
                return step, stack, stack.joins[-1]
        return None

    def shown_right(self, sheet: str) -> Region:
        """Return where a sheet shows its right side at the end."""
        return united(s.region for s in self.shown if s.sheet == sheet and s.right)

    def fault(
        self, code: str, message: str, cure: str, patch: Patch, at: BaseGeometry | None = None, step: Step | None = None
    ) -> Fault:
        """Return a fault that blocks, about a patch, at a place inside ``at`` (in its area when None)."""
        place = place_in(patch.area if at is None else at)
        where = Where(
            patch=patch.label, operation=None if step is None else step.index, point=place, hooping=self.hooping.key
        )
        return Fault(Finding(code, Severity.BLOCKS, message, cure, where), (patch.label,))


def is_flipped(stack: Stack, sheet: str) -> bool:
    """Whether a part of a sheet lies otherwise than it was laid."""
    return any(layer.placing is not AS_LAID for layer in stack.of(sheet))


def following(fault: Fault, *sheets: str) -> Fault:
    """Return a fault that may follow from another one of its patch or of ``sheets``."""
    return replace(fault, sheets=(*fault.sheets, *sheets), follows=True)


def trial_of(panel: PiecedPanel, hooping: Hooping, project: Project) -> Trial:
    """Carry out a hooping of a pieced panel."""
    stacks, undone = attempt(hooping, bench_of(project))
    patches = panel.of_section(hooping.section)
    last = hooping.section == panel.order.sections[-1].number
    region: Region = panel.outline if last else united(p.area for p in patches)
    table = columns(stacks[-1])
    shown = visible(stacks[-1], Side.TOP, table)
    return Trial(panel, hooping, project, patches, region, stacks, table, shown, undone)


def worth_mention(shape: BaseGeometry) -> Region:
    """Return the parts of a shape that are wide enough to be seen: strips narrower than BEHIND are left out."""
    if shape.area <= COVER_AREA:
        return Polygon()
    core = shapely.buffer(shape, -BEHIND / 2.0, join_style="mitre")
    if core.is_empty:
        return Polygon()
    return region_of(
        shapely.union_all([p for p in shapely.get_parts(shape) if p.intersects(core) and p.area > COVER_AREA])
    )


def place_in(shape: BaseGeometry | None) -> Point | None:
    """Return a place inside the largest part of a shape, rounded to a tenth of a millimetre; None without one."""
    if shape is None or shape.is_empty:
        return None
    if isinstance(shape, MultiPoint):
        shape = shape.geoms[len(shape.geoms) // 2]
    part = max(shapely.get_parts(shape), key=lambda p: (p.area, p.length))
    at = part.interpolate(0.5, normalized=True) if part.length and not part.area else part.representative_point()
    return round(at.x, 1), round(at.y, 1)
