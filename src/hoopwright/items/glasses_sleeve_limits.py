"""Sizes of a glasses sleeve that cannot be, with the reason and what would fit."""

from __future__ import annotations

from typing import Final

from hoopwright.core.findings import Finding, blocking
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm
from hoopwright.items.glasses_sleeve_sizes import (
    GlassesSleeveSettings,
    body_size,
    contents_of,
    edge_room,
    half_girth_of_ellipse,
    in_the_edge,
    inside_half_girth,
    opening_needed,
    wall,
)
from hoopwright.items.parts.bag_cloths import bag_cloth_findings
from hoopwright.items.parts.grounds import ground_refused
from hoopwright.items.parts.limits import Least, Limit, refused, too_little, too_much
from hoopwright.items.parts.lining import BESIDE
from hoopwright.items.parts.opening import opening_findings, width_unused
from hoopwright.items.parts.pocket import BELOW_EDGE, LEAST_POCKET
from hoopwright.items.parts.room import not_turned, too_large
from hoopwright.items.parts.strap import CLEAR, LEAST_LOOP, longest_loop
from hoopwright.project.lengths import show_length, show_size
from hoopwright.project.schema import Project

LEAST_WIDTH: Final[Mm] = 50.0
"""Narrower sleeves cannot be turned, mm (from memory)."""

LEAST_FLAP: Final[Mm] = 20.0
"""Lower flaps do not stay closed, mm (from memory)."""

LEAST_HEIGHT: Final[Mm] = 45.0
"""Lower sleeves hold nothing, mm (from memory)."""


def refuse(settings: GlassesSleeveSettings, project: Project) -> tuple[Finding, ...]:
    """Return everything that forbids this sleeve, and what the maker should know about its cloths."""
    found = (
        *_cloths(settings, project),
        *_body(settings, project),
        *_parts(settings, project),
        *ground_refused(settings.ground, project),
    )
    if blocking(found):
        return found
    width, height = body_size(settings)
    cure = "Make the sleeve smaller (width, height, thickness, ease, flap of [make]), or turn the glasses (way)"
    size = too_large("HW430", "A sleeve", width, height + settings.flap, project, cure, pieced=settings.flap <= 0.0)
    return (*found, *size, *_opening(settings, project), *_unused(settings, project), *not_turned("HW437", project))


def _cloths(settings: GlassesSleeveSettings, project: Project) -> tuple[Finding, ...]:
    pocket, strap = bool(settings.pocket), bool(settings.strap)
    return bag_cloth_findings(settings, project, pocket=pocket, strap=strap, soft="HW438", what="the sleeve")


def _body(settings: GlassesSleeveSettings, project: Project) -> tuple[Finding, ...]:
    """HW439 too small to be sewn and turned, HW431 the glasses do not go in."""
    width, height = body_size(settings)
    size = show_size(width, height, project.units)
    if width < LEAST_WIDTH or height < LEAST_HEIGHT:
        least = show_size(LEAST_WIDTH, LEAST_HEIGHT, project.units)
        message = f"A sleeve of {size} is too small to be sewn and turned"
        return (refused("HW439", message, f"It needs at least {least}", "body" if settings.body else "ease"),)
    contents = contents_of(settings)
    girth = half_girth_of_ellipse(contents.width, contents.thickness)
    inside = inside_half_girth(width, wall(settings, project)[0])
    if inside >= girth - MERGE and height >= contents.front() - MERGE:
        return ()
    need = show_size(contents.flat_width(settings.ease), contents.back(settings.ease), project.units)
    message = (
        f"The glasses do not go into a sleeve of {size}: half round they measure {show_length(girth, project.units)}, the "
        f"sleeve inside {show_length(inside, project.units)}, and they stand {show_length(contents.front(), project.units)} high"
    )
    return (refused("HW431", message, f"Make it {need}, or leave body out", "body" if settings.body else "ease"),)


def _parts(settings: GlassesSleeveSettings, project: Project) -> tuple[Finding, ...]:
    """HW433 to HW436: corners, flap, pocket and strap that do not suit the body."""
    width, height = body_size(settings)
    flap = settings.flap
    round_flap = min(width / 2.0, flap) if flap else settings.flap_radius
    strap_room = height - settings.pocket - settings.strap_width - 2.0 * CLEAR
    limits = (
        Limit(
            "HW433", "corner", settings.corner, min(width, height) / 2.0, "The sleeve has no room for corners so round"
        ),
        Limit("HW434", "flap", flap, height, "The flap is higher than the body and would hang below it"),
        Limit("HW434", "flap_radius", settings.flap_radius, round_flap, "The flap has no room for corners so round"),
        Limit("HW435", "pocket", settings.pocket, height - BELOW_EDGE, "The pocket comes too near to the upper edge"),
        Limit("HW436", "strap", settings.strap, longest_loop(width), "The loop of the strap finds no room on the body"),
    )
    least = (
        Least("HW434", "flap", flap, LEAST_FLAP, "The flap is too low to close anything"),
        Least("HW435", "pocket", settings.pocket, LEAST_POCKET, "The pocket is too shallow to hold anything"),
        Least("HW436", "strap", settings.strap, LEAST_LOOP, "The loop of the strap is too short to be sewn"),
    )
    found = (*too_much(limits, project), *too_little(least, project))
    if settings.strap and strap_room < 0.0:
        found += (
            refused("HW436", "The strap finds no room above the pocket", "Make pocket or strap_width smaller", "strap"),
        )
    return found


def _unused(settings: GlassesSleeveSettings, project: Project) -> tuple[Finding, ...]:
    why = "a sleeve with a flap is turned through its lining" if settings.flap else "the opening lies in the lining"
    return width_unused(settings.opening_width, in_the_edge(settings, project), why)


def _opening(settings: GlassesSleeveSettings, project: Project) -> tuple[Finding, ...]:
    """HW413, HW414: the opening, in the edge or in the lining, is too narrow or has no room."""
    width, _ = body_size(settings)
    edge = in_the_edge(settings, project)
    room = edge_room(settings) if edge else width - 2.0 * BESIDE
    return opening_findings(
        project,
        settings.opening_width if edge else None,
        opening_needed(settings, project),
        room,
        f"a sleeve {show_length(width, project.units)} wide",
        "make.opening_width" if edge else "make.stiffener_rolls",
        settings.stiffener_rolls,
    )
