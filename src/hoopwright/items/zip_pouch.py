"""Zip pouch: a zip across the front, outer and lining sewn to both its edges and flipped away, back and back lining last.

The whole pouch is sewn in one hooping. The linings are laid under the hoop. The zip stands half open before the closing seam,
since the work is turned through the lining and then through the zip.
"""

from __future__ import annotations

from typing import Annotated, Final, Literal

from pydantic import Field

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm
from hoopwright.items.parts.cloths import ClothWish, chosen_cloth, cloth_findings
from hoopwright.items.parts.hooped import hooped_thickness
from hoopwright.items.parts.lining import BESIDE, HEM, OVERLAP
from hoopwright.items.parts.opening import least_opening, proposed_opening
from hoopwright.items.parts.room import too_large
from hoopwright.items.parts.rounding import rounded_down, rounded_up
from hoopwright.items.parts.strap import CLEAR, Strap, longest_loop
from hoopwright.items.parts.zip_back import making
from hoopwright.items.parts.zip_front import FRONT, Pouch
from hoopwright.items.recipe import Making, Recipe, Wanted, Workshop
from hoopwright.piecing.outline import outline_of
from hoopwright.project.lengths import show_length
from hoopwright.project.schema import FlapOutline, Key, Length, Model, Project

TEETH_CLEAR: Final[Mm] = 3.0
"""Least distance from a seam to the zip's teeth, mm, so that neither the needle nor the cloth meets the pull (from memory)."""

STOP_CLEAR: Final[Mm] = 5.0
"""How far beyond the allowance the zip's stops must lie on each side, mm (common practice, no source)."""

BELOW_ZIP: Final[Mm] = 2.0
"""The strap lies this far below the edge of the zip's tape, mm: over it, more cloth would lie than goes under the foot."""

LEAST_UPPER: Final[Mm] = 12.0
"""Least height of the part above the zip, mm: less cannot be turned (from memory)."""

LEAST_LOWER: Final[Mm] = 50.0
"""Least height of the part below the zip, mm: the lining's opening lies there (from memory)."""


class ZipPouchSettings(Model):
    """The finished pouch, its zip, and what it is made of.

    ``width`` and ``height`` are finished, ``corner`` rounds the two lower corners. ``zip_below_top`` is measured from the upper
    edge to the middle of the zip. ``zip_tape`` is the width of the whole zip with its tapes, ``zip_teeth`` that of its teeth,
    ``zip_length`` its length from stop to stop, left out: long enough is bought. ``zip_made_of`` tells whether its teeth are a coil
    that a needle can cross, or metal. ``strap`` says in which side seam the tab or strap is caught, ``strap_width`` and
    ``strap_loop`` its width and the length of its loop. ``pieced`` gives the patchwork of [panel] to the front below the zip.
    ``outer``, ``lining``, ``zip`` and ``ribbon`` are keys of cloths.
    """

    width: Annotated[Length, Field(ge=60, le=400)] = 110.0
    height: Annotated[Length, Field(ge=70, le=400)] = 105.0
    corner: Annotated[Length, Field(ge=0, le=60)] = 8.0
    zip_below_top: Annotated[Length, Field(ge=10, le=200)] = 26.0
    zip_tape: Annotated[Length, Field(ge=16, le=45)] = 26.0
    zip_teeth: Annotated[Length, Field(ge=2, le=12)] = 5.0
    zip_length: Annotated[Length, Field(ge=50, le=800)] | None = Field(default=None, examples=[160])
    zip_made_of: Literal["coil", "metal"] = "coil"
    strap: Literal["left", "right", "none"] = "right"
    strap_width: Annotated[Length, Field(ge=8, le=40)] = 20.0
    strap_loop: Annotated[Length, Field(ge=15, le=300)] = 30.0
    pieced: bool = False
    outer: Key | None = None
    lining: Key | None = None
    zip: Key | None = None
    ribbon: Key | None = None


def seam_heights(settings: ZipPouchSettings, allowance: Mm) -> tuple[Mm, Mm]:
    """Return the heights of the fronts above and below the zip at their seam lines, mm.

    Each seam runs an allowance inside the edge of the tape (plain geometry).
    """
    gap = settings.zip_tape / 2 - allowance
    return settings.zip_below_top - gap, settings.height - settings.zip_below_top - gap


def least_zip(width: Mm, allowance: Mm) -> Mm:
    """Return the shortest zip from stop to stop, mm: both stops outside the allowance, clear of the needle."""
    return width + 2 * (allowance + STOP_CLEAR)


def layers_thickness(settings: ZipPouchSettings, project: Project) -> Mm:
    """Return how thick the pouch is that must pass slit and zip: both sides, outer and lining, foundation, batting, and the zip."""
    cloths = [chosen_cloth(project, w.wanted, w.kind) for w in _wishes(settings)]
    outer, inner, zipper = (project.cloths[key].thickness for key in cloths[:3])
    return 2 * (outer + inner) + zipper + hooped_thickness(project)


def zip_opening(settings: ZipPouchSettings, project: Project) -> Mm:
    """Return how far the zip is opened before the closing seam: half way, or as far as the work needs to pass."""
    least = least_opening(settings.width, layers_thickness(settings, project), 0.0)
    return max(settings.width / 2, proposed_opening(least) + BESIDE)


def strap_of(settings: ZipPouchSettings, allowance: Mm) -> Strap | None:
    """Return the strap, its upper edge just below the tape of the zip; None without one."""
    if settings.strap == "none":
        return None
    _, lower = seam_heights(settings, allowance)
    y = lower - settings.height / 2 - allowance - BELOW_ZIP - settings.strap_width / 2
    side = 1 if settings.strap == "right" else -1
    return Strap(settings.strap_width, settings.strap_loop, settings.width, y, side)


def _outline(settings: ZipPouchSettings) -> FlapOutline:
    return FlapOutline(shape="flap", width=settings.width, height=settings.height, radius=settings.corner)


def _wanted(settings: ZipPouchSettings, project: Project) -> tuple[Wanted, ...]:
    if not settings.pieced:
        return ()
    _, lower = seam_heights(settings, project.piecing.allowance)
    outline = FlapOutline(shape="flap", width=settings.width, height=lower, radius=settings.corner)
    return (Wanted(FRONT, f"{project.title}, lower front", outline),)


def _wishes(settings: ZipPouchSettings) -> tuple[ClothWish, ...]:
    strap = (ClothWish("ribbon", "strap", settings.ribbon, "ribbon"),) if settings.strap != "none" else ()
    return (
        ClothWish("outer", "outer pieces", settings.outer, "cloth"),
        ClothWish("lining", "lining", settings.lining, "lining"),
        ClothWish("zip", "zip", settings.zip, "zip"),
        *strap,
    )


def _refuse(settings: ZipPouchSettings, project: Project) -> tuple[Finding, ...]:
    found = (*cloth_findings(project, _wishes(settings)), *_zip_findings(settings, project))
    found = (*found, *_size_findings(settings, project), *_strap_findings(settings, project))
    cure = "Make width or height of [make] smaller"
    return (*found, *too_large("HW450", "A zip pouch", settings.width, settings.height, project, cure))


def _zip_findings(settings: ZipPouchSettings, project: Project) -> tuple[Finding, ...]:
    """HW451 metal teeth, HW452 a tape too narrow for the seam, HW453 a zip too short."""
    allowance, found = project.piecing.allowance, []
    if settings.zip_made_of == "metal":
        message = "The closing seam crosses the zip, and a needle breaks on metal teeth"
        found.append(_blocks("HW451", message, "Take a coil zip, which can be sewn across", "zip_made_of"))
    tape = settings.zip_teeth + 2 * (allowance + TEETH_CLEAR)
    if settings.zip_tape < tape - MERGE:
        message = f"The seams would run nearer than {_say(TEETH_CLEAR, project)} to the teeth of this zip"
        cure = f"Take a zip at least {_least(tape, project)} wide, or a smaller piecing.allowance"
        found.append(_blocks("HW452", message, cure, "zip_tape"))
    least = least_zip(settings.width, allowance)
    if settings.zip_length is not None and settings.zip_length < least - MERGE:
        message = f"A zip of {_say(settings.zip_length, project)} is too short: its stops would lie under the needle"
        widest = _most(max(0.0, settings.zip_length - least + settings.width), project)
        cure = f"Take one of at least {_least(least, project)}, or make the pouch at most {widest} wide"
        found.append(_blocks("HW453", message, cure, "zip_length"))
    return tuple(found)


def _size_findings(settings: ZipPouchSettings, project: Project) -> tuple[Finding, ...]:
    """HW454 a front too low above or below the zip, HW455 corners with no room, HW456 too narrow to be turned."""
    upper, lower = seam_heights(settings, project.piecing.allowance)
    gap = settings.zip_below_top - upper
    found = []
    if upper < LEAST_UPPER - MERGE:
        cure = f"Choose zip_below_top of at least {_least(LEAST_UPPER + gap, project)}"
        found.append(_blocks("HW454", "The front above the zip is too low to be turned", cure, "zip_below_top"))
    if lower < LEAST_LOWER - MERGE:
        cure = f"Make the pouch at least {_least(settings.zip_below_top + gap + LEAST_LOWER, project)} high, or move the zip up"
        found.append(_blocks("HW454", "The front below the zip is too low", cure, "height"))
    room = min(settings.width / 2, lower / 2 - OVERLAP / 2 - HEM)
    if settings.corner > room + MERGE and lower >= LEAST_LOWER:
        cure = f"Choose a corner of at most {_most(room, project)}"
        found.append(_blocks("HW455", "The lower corners are too round for this pouch", cure, "corner"))
    if zip_opening(settings, project) > settings.width - BESIDE:
        message = "The pouch is too narrow to be turned through its zip and its lining"
        found.append(_blocks("HW456", message, "Make it wider, or choose thinner cloth", "width"))
    return tuple(found)


def _strap_findings(settings: ZipPouchSettings, project: Project) -> tuple[Finding, ...]:
    """HW457 a loop that finds no room, HW458 a strap that reaches below the pouch's straight side."""
    strap = strap_of(settings, project.piecing.allowance)
    if strap is None:
        return ()
    found = []
    most = longest_loop(settings.width)
    if strap.loop > most + MERGE:
        cure = f"Make strap_loop at most {_most(most, project)}"
        found.append(_blocks("HW457", "The loop of the strap finds no room inside the pouch", cure, "strap_loop"))
    allowance = project.piecing.allowance
    room = seam_heights(settings, allowance)[1] - allowance - BELOW_ZIP - settings.corner - CLEAR
    if strap.width > room + MERGE:
        cure = f"Make strap_width at most {_most(max(0.0, room), project)}"
        found.append(_blocks("HW458", "The strap is too wide for the side seam below the zip", cure, "strap_width"))
    return tuple(found)


def _say(mm: Mm, project: Project) -> str:
    return show_length(mm, project.units)


def _most(mm: Mm, project: Project) -> str:
    return show_length(rounded_down(mm, project.units), project.units)


def _least(mm: Mm, project: Project) -> str:
    return show_length(rounded_up(mm, project.units), project.units)


def _blocks(code: str, message: str, cure: str, setting: str) -> Finding:
    return Finding(code, Severity.BLOCKS, message, cure, Where(path=f"make.{setting}"))


def _make(shop: Workshop) -> Making:
    settings: ZipPouchSettings = shop.settings
    project, allowance = shop.project, shop.project.piecing.allowance
    outline, _, _ = outline_of(_outline(settings), {})
    assert outline is not None
    outer, inner, zipper, *ribbon = (chosen_cloth(project, w.wanted, w.kind) for w in _wishes(settings))
    return making(
        Pouch(
            shop,
            outline,
            settings.corner,
            settings.height / 2 - settings.zip_below_top,
            settings.zip_tape,
            settings.zip_length or least_zip(settings.width, allowance),
            zip_opening(settings, project),
            outer,
            inner,
            zipper,
            ribbon[0] if ribbon else "",
            strap_of(settings, allowance),
            settings.pieced,
        )
    )


ZIP_POUCH = Recipe(
    name="zip-pouch",
    title="Zip pouch",
    summary="A lined pouch with a zip across its front, sewn whole in one hooping; the front below the zip may be pieced.",
    settings=ZipPouchSettings,
    make=_make,
    wanted=_wanted,
    refuse=_refuse,
)
