"""Frame purse: drafted from a metal snap frame, its front pieced, its back pieced or plain, and fully lined.

The shell is sewn in one hooping, the lining, a little smaller, in another; the two are joined along their upper edges by
hand or on a sewing machine, turned through the lining, and set into the frame.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Final, Literal

from pydantic import Field

from hoopwright.core.errors import GeometryError
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm
from hoopwright.items.parts.cloths import ClothWish, chosen_cloth, cloth_findings
from hoopwright.items.parts.frame_draft import (
    BodyShape,
    FrameDraft,
    FrameShape,
    bow,
    draft,
    lining_body,
    widest_flare,
)
from hoopwright.items.parts.frame_sewing import Purse, making
from hoopwright.items.parts.hooped import hooped_thickness
from hoopwright.items.parts.opening import least_opening, opening_findings, proposed_opening
from hoopwright.items.parts.room import too_large
from hoopwright.items.parts.rounding import rounded_down
from hoopwright.items.recipe import Making, Recipe, Wanted, Workshop
from hoopwright.project.lengths import show_length
from hoopwright.project.schema import Key, Length, Model, PolygonOutline, Project

HANDY: Final[Mm] = 50.0
"""An opening that is pleasant to work through, mm, taken where the bottom has room for it (common practice, no source)."""

LOCK_ROOM: Final[Mm] = 4.0
"""Seam left on both sides of the opening together on the straight bottom, mm, so that it is locked on a straight stretch."""

LEAN: Final = 0.5
"""Largest spread as a share of the depth: at steeper corners the lining's tapered sides would not lie inside the shell."""

PIECED: Final[dict[str, tuple[str, ...]]] = {"front": ("front",), "both": ("back", "front"), "none": ()}
"""The pieced sides in the order in which they are sewn: the back is laid on the front."""

_HALVINGS: Final = 30


class FramePurseSettings(Model):
    """The frame, the body, and what both are made of.

    ``frame_shape`` "cornered" is a frame with two corners, "half-round" a bow. ``frame_width`` is measured from hinge to hinge,
    ``frame_arm`` from the hinges up to the top, ``frame_radius`` is that of the corners (a bow has none); all along the outside
    of the groove of the closed frame. ``flare`` is how far each arm is swung out at its hinge, 10 to 25 mm for frames of 100 mm and
    more, less for small ones. ``ease`` is the cloth in excess of the frame's edge. ``depth`` is measured from the hinges to the
    bottom, ``spread`` is how much wider the bottom is than the hinges on each side, ``bottom_radius`` rounds its corners; ``boxed``,
    if not 0, cuts squares of that size out of the corners instead, for a flat bottom twice as deep. ``pieced`` says which
    sides take the patchwork of [panel]. ``lining_smaller`` is how much smaller the lining is. ``opening`` is the gap in the
    lining's bottom, left out: as the size asks. ``outer`` and ``lining`` are keys of cloths.
    """

    frame_shape: Literal["cornered", "half-round"] = "cornered"
    frame_width: Annotated[Length, Field(ge=30, le=300)] = 85.0
    frame_arm: Annotated[Length, Field(ge=8, le=150)] = 45.0
    frame_radius: Annotated[Length, Field(ge=0, le=150)] = 12.0
    flare: Annotated[Length, Field(ge=0, le=40)] = 12.0
    ease: Annotated[Length, Field(ge=0, le=10)] = 4.0
    depth: Annotated[Length, Field(ge=15, le=300)] = 75.0
    spread: Annotated[Length, Field(ge=0, le=60)] = 3.0
    bottom_radius: Annotated[Length, Field(ge=0, le=150)] = 22.0
    boxed: Annotated[Length, Field(ge=0, le=100)] = 0.0
    pieced: Literal["front", "both", "none"] = "front"
    lining_smaller: Annotated[Length, Field(ge=0, le=3)] = 1.0
    opening: Annotated[Length, Field(ge=25, le=200)] | None = Field(default=None, examples=[50])
    outer: Key | None = None
    lining: Key | None = None


def frame_of(settings: FramePurseSettings) -> FrameShape:
    """Return the frame the settings describe."""
    if settings.frame_shape == "half-round":
        return bow(settings.frame_width, settings.frame_arm)
    return FrameShape(settings.frame_width, settings.frame_arm, settings.frame_radius)


def body_of(settings: FramePurseSettings) -> BodyShape:
    """Return the body of the shell; boxed corners take the place of round ones."""
    radius = 0.0 if settings.boxed else settings.bottom_radius
    return BodyShape(settings.depth, settings.spread, radius, settings.boxed)


def shell_of(settings: FramePurseSettings) -> FrameDraft:
    """Return the shell's pattern, centred. Raises GeometryError when the sizes do not fit each other."""
    return draft(frame_of(settings), settings.flare, settings.ease, body_of(settings)).centred()


def lining_pattern(settings: FramePurseSettings) -> FrameDraft:
    """Return the lining's pattern, centred: the same opening edge, a little smaller below."""
    body = lining_body(body_of(settings), settings.lining_smaller)
    return draft(frame_of(settings), settings.flare, settings.ease, body).centred()


def shell_thickness(settings: FramePurseSettings, project: Project) -> Mm:
    """Return how thick the shell is that must pass the opening: two sides, each of cloth, foundation and batting."""
    cloth = project.cloths[chosen_cloth(project, settings.outer, "cloth")].thickness
    return 2 * (cloth + hooped_thickness(project))


def opening_needed(settings: FramePurseSettings, project: Project) -> Mm:
    """Return the narrowest opening that the rolled shell passes."""
    left, _, right, _ = shell_of(settings).outline.bounds
    return least_opening(right - left, shell_thickness(settings, project), 0.0)


def opening_of(settings: FramePurseSettings, project: Project) -> Mm:
    """Return the opening: the maker's, or what is needed, widened up to HANDY where the straight bottom has room."""
    needed = proposed_opening(opening_needed(settings, project))
    return settings.opening or max(needed, min(HANDY, _opening_room(settings)))


def _opening_room(settings: FramePurseSettings) -> Mm:
    """Return the longest opening that the lining's straight bottom has room for."""
    return lining_pattern(settings).bottom.length - LOCK_ROOM


def _wanted(settings: FramePurseSettings, project: Project) -> tuple[Wanted, ...]:
    points = tuple((x, y) for x, y, *_ in shell_of(settings).outline.exterior.coords[:-1])
    outline = PolygonOutline(shape="polygon", points=points)
    return tuple(Wanted(side, f"{project.title}, {side}", outline) for side in PIECED[settings.pieced])


def _refuse(settings: FramePurseSettings, project: Project) -> tuple[Finding, ...]:
    sizes = _frame_findings(settings, project) or _body_findings(settings, project)
    if not sizes:
        pattern = shell_of(settings)
        left, low, right, high = pattern.outline.bounds
        cure = "Choose a smaller frame, less flare or less depth"
        sizes = too_large("HW444", "A frame purse", right - left, high - low, project, cure)
        sizes = (*sizes, *_opening_findings(settings, project))
    return (*cloth_findings(project, _wishes(settings)), *sizes)


def _wishes(settings: FramePurseSettings) -> tuple[ClothWish, ...]:
    inner = ClothWish("lining", "lining", settings.lining, "lining")
    if settings.pieced == "both":
        return (inner,)
    what = "back" if settings.pieced == "front" else "front and back"
    return ClothWish("outer", what, settings.outer, "cloth"), inner


def _frame_findings(settings: FramePurseSettings, project: Project) -> tuple[Finding, ...]:
    """HW440, HW441: a frame that cannot be, arms too short to be swung out so far."""
    most = min(settings.frame_width / 2, settings.frame_arm)
    if settings.frame_shape == "cornered" and settings.frame_radius > most + MERGE:
        message = "The corners of the frame are too round for its width and arms"
        cure = f'Choose a frame_radius of at most {show_length(rounded_down(most, project.units), project.units)}, or frame_shape = "half-round"'
        return (_blocks("HW440", message, cure, "frame_radius"),)
    widest = widest_flare(frame_of(settings), settings.ease)
    if settings.flare > widest + MERGE:
        flare = show_length(settings.flare, project.units)
        message = f"The arms of this frame cannot be swung out by {flare}"
        cure = f"Choose a flare of at most {show_length(rounded_down(widest, project.units), project.units)}"
        return (_blocks("HW441", message, cure, "flare"),)
    return ()


def _body_findings(settings: FramePurseSettings, project: Project) -> tuple[Finding, ...]:
    """HW445: sides that lean out too far; HW442: bottom corners that have no room."""
    most = settings.depth * LEAN
    if settings.spread > most + MERGE:
        cure = f"Choose a spread of at most {show_length(rounded_down(most, project.units), project.units)}, or a deeper body"
        return (_blocks("HW445", "The sides of the purse lean out too far to be lined", cure, "spread"),)
    if _drawn(settings):
        return ()
    name, what = ("boxed", "boxed") if settings.boxed else ("bottom_radius", "round")
    most = _most(lambda size: _drawn(settings.model_copy(update={name: size})), getattr(settings, name))
    message = f"The {what} bottom corners are too large for this body"
    cure = f"Choose {name} of at most {show_length(rounded_down(most, project.units), project.units)}, or a deeper or wider body"
    return (_blocks("HW442", message, cure, name),)


def _opening_findings(settings: FramePurseSettings, project: Project) -> tuple[Finding, ...]:
    """HW413, HW443: an opening too narrow for the shell, or longer than the straight part of the lining's bottom."""
    least, wide = opening_needed(settings, project), opening_of(settings, project)
    room = _opening_room(settings)
    if wide <= room + MERGE:
        return opening_findings(project, settings.opening, least, room, "the shell", "make.opening")
    show = show_length(wide, project.units), show_length(max(0.0, rounded_down(room, project.units)), project.units)
    message = f"An opening of {show[0]} does not fit the straight part of the bottom, which has room for {show[1]}"
    smaller = "Choose smaller boxed corners" if settings.boxed else "Choose a smaller bottom_radius"
    less = f", or an opening of at most {show[1]}" if room >= least else ""
    return (_blocks("HW443", message, f"{smaller}, or make the body wider (spread){less}", "opening"),)


def _drawn(settings: FramePurseSettings) -> bool:
    """Whether shell and lining can be drafted."""
    try:
        shell_of(settings), lining_pattern(settings)
    except GeometryError:
        return False
    return True


def _most(fits: Callable[[Mm], bool], too_much: Mm) -> Mm:
    """Return the largest size that fits, to a tenth of a millimetre below."""
    low, high = 0.0, too_much
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    return int(low * 10) / 10


def _blocks(code: str, message: str, cure: str, setting: str) -> Finding:
    return Finding(code, Severity.BLOCKS, message, cure, Where(path=f"make.{setting}"))


def _make(shop: Workshop) -> Making:
    settings: FramePurseSettings = shop.settings
    outer = chosen_cloth(shop.project, settings.outer, "cloth")
    inner = chosen_cloth(shop.project, settings.lining, "lining")
    opening = opening_of(settings, shop.project)
    patterns = shell_of(settings), lining_pattern(settings)
    return making(Purse(shop, *patterns, outer, inner, PIECED[settings.pieced], settings.boxed, opening))


FRAME_PURSE = Recipe(
    name="frame-purse",
    title="Frame purse",
    summary="A lined purse drafted from a metal snap frame; front, both sides or no side pieced.",
    settings=FramePurseSettings,
    make=_make,
    wanted=_wanted,
    refuse=_refuse,
)
