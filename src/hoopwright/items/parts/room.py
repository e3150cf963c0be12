"""Does a work fit the hoop's field?"""

from __future__ import annotations

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm
from hoopwright.items.parts.rounding import rounded_up
from hoopwright.project.fields import field_of
from hoopwright.project.lengths import show_length, show_size
from hoopwright.project.schema import Project


def room_for(project: Project, *, pieced: bool = False) -> tuple[Mm, Mm]:
    """Return width and height that seam lines may have: the field less its margin and the lines sewn outside.

    A panel ``pieced`` there needs more: its seams run on past their ends.
    """
    stitching = project.stitching
    outside = max(stitching.tack_outside, stitching.hold_outside, stitching.seam_past_end if pieced else 0.0)
    reach = 2.0 * (project.hoop.margin + outside)
    width, height = field_of(project.hoop)
    return width - reach, height - reach


def too_large(
    code: str, what: str, width: Mm, height: Mm, project: Project, cure: str, *, pieced: bool = False
) -> tuple[Finding, ...]:
    """Return a finding when a work of this size at its seam lines does not fit; ``cure`` says which settings to change."""
    room = room_for(project, pieced=pieced)
    if width <= room[0] + MERGE and height <= room[1] + MERGE:
        return ()
    size, most = (show_size(*pair, project.units) for pair in ((width, height), room))
    extra = [
        show_length(rounded_up(a + f - r, project.units), project.units)
        for a, r, f in zip((width, height), room, field_of(project.hoop), strict=True)
    ]
    return (
        Finding(
            code,
            Severity.BLOCKS,
            f"{what} of {size} between its seam lines does not fit the hoop, which has room for {most}",
            f"{cure}, or choose a field of at least {extra[0]} by {extra[1]}",
            Where(path="make"),
        ),
    )


def not_turned(code: str, project: Project) -> tuple[Finding, ...]:
    """Return a finding when the panel is turned in the hoop: the pieces laid on it later would not be."""
    if project.panel.turn == 0.0:
        return ()
    message = f'The panel is turned by {project.panel.turn:g} degrees, but the item "{project.item}" is sewn upright'
    return (Finding(code, Severity.BLOCKS, message, "Take the line turn out", Where(path="panel.turn")),)
