"""Why sizes and cloths of a flap pouch are refused, and what would do."""

from __future__ import annotations

from typing import Final

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.types import Mm
from hoopwright.items.flap_pouch_sizes import (
    FlapPouchSettings,
    body_size,
    contents_of,
    edge_room,
    flap_height,
    flap_radius,
    in_the_edge,
    opening_needed,
    pocket_depth,
    strap_loop,
)
from hoopwright.items.parts.bag_cloths import bag_cloth_findings
from hoopwright.items.parts.grounds import ground_refused
from hoopwright.items.parts.limits import Least, Limit, refused, too_little, too_much
from hoopwright.items.parts.lining import slit_line
from hoopwright.items.parts.opening import opening_findings, width_unused
from hoopwright.items.parts.pocket import BELOW_EDGE
from hoopwright.items.parts.room import too_large
from hoopwright.items.parts.rounding import rounded_up
from hoopwright.items.parts.strap import LEAST_LOOP, longest_loop
from hoopwright.project.lengths import show_length, show_size
from hoopwright.project.schema import Project

LEAST_WIDTH: Final[Mm] = 50.0
"""Narrower bodies cannot be turned, mm (from memory)."""
OVERLAP: Final[Mm] = 15.0
"""A flap that reaches less far over the front falls open, mm (from memory)."""
LEAST_HEIGHT: Final[Mm] = 45.0
"""Lower bodies leave no room for pocket and strap, mm (from memory)."""


def refuse(settings: FlapPouchSettings, project: Project) -> tuple[Finding, ...]:
    """Return everything that stands against a flap pouch, and what is good to know before it is made."""
    found = (
        *_cloths(settings, project),
        *_body(settings, project),
        *_parts(settings, project),
        *ground_refused(settings.ground, project),
    )
    if any(f.severity is Severity.BLOCKS for f in found):
        return found
    width, height = body_size(settings)
    total = height + flap_height(settings)
    opening = _opening(settings, project)
    cure = "Make body or flap smaller (make.contents, make.body, make.flap)"
    unused = width_unused(settings.opening_width, in_the_edge(settings, project), "the opening lies in the lining")
    return (
        *found,
        *opening,
        *unused,
        *_gapes(settings, project),
        *too_large("HW420", "A pouch", width, total, project, cure),
    )


def _opening(settings: FlapPouchSettings, project: Project) -> tuple[Finding, ...]:
    width, needed = body_size(settings)[0], opening_needed(settings, project)
    edge = in_the_edge(settings, project)
    return opening_findings(
        project,
        settings.opening_width if edge else None,
        needed,
        edge_room(settings) if edge else slit_line(width, 0.0).length,
        f"a body {show_length(width, project.units)} wide",
        f"make.{'opening_width' if edge else 'opening'}",
        settings.stiffener_rolls,
        'turn it through the lining (opening = "lining")' if edge and needed <= slit_line(width, 0.0).length else None,
    )


def _gapes(settings: FlapPouchSettings, project: Project) -> tuple[Finding, ...]:
    """HW429: the flap ends before it reaches well over the front."""
    thickness = settings.contents[2] if settings.contents else 0.0
    need = body_size(settings)[1] - pocket_depth(settings) + thickness / 2.0 + OVERLAP
    rise = flap_height(settings)
    if rise >= need:
        return ()
    show = [show_length(v, project.units) for v in (rise, rounded_up(need, project.units))]
    message = f"A flap of {show[0]} hardly reaches over the front, so the pouch gapes"
    return (
        Finding(
            "HW429", Severity.WARNS, message, f"Make flap at least {show[1]}, or pocket higher", Where(path="make.flap")
        ),
    )


def _cloths(settings: FlapPouchSettings, project: Project) -> tuple[Finding, ...]:
    strap = bool(strap_loop(settings))
    return bag_cloth_findings(settings, project, pocket=True, strap=strap, soft="HW428", what="the pouch")


def _body(settings: FlapPouchSettings, project: Project) -> tuple[Finding, ...]:
    """HW421 too small to be sewn and turned, HW422 the contents do not go in."""
    width, height = body_size(settings)
    size = show_size(width, height, project.units)
    if width < LEAST_WIDTH or height < LEAST_HEIGHT:
        wide, high = (rounded_up(v, project.units) for v in (LEAST_WIDTH, LEAST_HEIGHT))
        least = show_size(wide, high, project.units)
        return (
            refused(
                "HW421", f"A body of {size} is too small to be sewn and turned", f"It needs at least {least}", "body"
            ),
        )
    contents = contents_of(settings)
    if contents is None or (width >= contents.flat_width(0.0) and height >= contents.back()):
        return ()
    width, height = (rounded_up(v, project.units) for v in (contents.flat_width(0.0), contents.back()))
    need = show_size(width, height, project.units)
    return (refused("HW422", f"The contents do not go into a body of {size}", f"Make it at least {need}", "body"),)


def _parts(settings: FlapPouchSettings, project: Project) -> tuple[Finding, ...]:
    """HW423 to HW427: flap, corners, pocket and strap that do not suit the body."""
    width, height = body_size(settings)
    rise, depth = flap_height(settings), pocket_depth(settings)
    round_flap, round_body = min(width / 2.0, rise), min(width / 2.0, height)
    strap = strap_loop(settings)
    wide = settings.strap_width if strap else 0.0
    limits = (
        Limit("HW423", "flap", rise, height, "The flap is higher than the body and would hang below it"),
        Limit("HW424", "flap_radius", flap_radius(settings), round_flap, "The flap has no room for corners so round"),
        Limit("HW424", "corner", settings.corner, round_body, "The body has no room for corners so round"),
        Limit("HW425", "pocket", depth, height - BELOW_EDGE, "The fold of the pocket comes too near to the flap"),
        Limit("HW426", "strap", strap, longest_loop(width), "The loop of the strap finds no room on the body"),
        Limit("HW427", "strap_width", wide, height / 3.0, "The strap is too wide for the body"),
    )
    short = Least("HW426", "strap", strap, LEAST_LOOP, "The loop of the strap is too short to be sewn")
    return (*too_much(limits, project), *too_little((short,), project))
