"""Mat: a pieced front with a back in two overlapping parts, turned through the overlap like an envelope."""

from __future__ import annotations

from typing import Annotated, Final

from pydantic import Field

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.types import Mm
from hoopwright.items.parts.closing import TAPE_OUT, closing_seam
from hoopwright.items.parts.cloths import ClothWish, chosen_cloth, cloth_findings
from hoopwright.items.parts.envelope import envelope, lay_envelope
from hoopwright.items.parts.in_hoop import cut_corners, stays_in_hoop, taken_out
from hoopwright.items.parts.limits import Limit, too_much
from hoopwright.items.parts.room import not_turned, too_large
from hoopwright.items.parts.rounding import rounded_down
from hoopwright.items.recipe import HoopingOperations, Look, Making, Promise, Recipe, Wanted, Workshop
from hoopwright.operations.vocabulary import HandWork, Press, Turn
from hoopwright.project.lengths import show_length
from hoopwright.project.schema import Key, Length, Model, Project, RectangleOutline

KEY: Final = "mat"

PROMISE: Final = Promise(
    parts=1, rims=None, euler=1, closed_rims=None, closed_euler=1, shell=(KEY, "back-lower", "back-upper")
)
"""Three discs; each back is sewn to the front's rim along one arc (its hem, folded and caught at both ends, stays a disc):
1 + 1 + 1 - 1 - 1 = 1. In the overlap three layers meet in the seam. The envelope is never closed.
"""

LEAST_OVERLAP: Final[Mm] = 25.0
"""Backs that overlap by less gape when the mat is washed (common practice, no source)."""

LEAST_BESIDE: Final[Mm] = 10.0
"""What must be left of each half beside overlap and hem, mm, so that there is something to hold (from memory)."""


class MatSettings(Model):
    """Finished size, and how the back closes.

    ``width`` and ``height`` are the finished size; ``corner`` rounds the corners (0: sharp). ``overlap`` is how far the
    two backs lie over each other, ``hem`` what is folded in at their inner edges. ``back`` is the cloth of the backs.
    """

    width: Annotated[Length, Field(ge=60, le=400)] = 115.0
    height: Annotated[Length, Field(ge=60, le=400)] = 160.0
    corner: Annotated[Length, Field(ge=0, le=60)] = 0.0
    overlap: Annotated[Length, Field(ge=LEAST_OVERLAP, le=120)] = 30.0
    hem: Annotated[Length, Field(ge=6, le=25)] = 10.0
    back: Key | None = None


CARE: Final = (
    "Wash it by hand or at a low warmth and press it from the back while it is damp.",
    "Not a pot holder: nothing in it keeps heat from the table or from your hand.",
)


def _outline(settings: MatSettings) -> RectangleOutline:
    return RectangleOutline(shape="rectangle", width=settings.width, height=settings.height, radius=settings.corner)


def _wishes(settings: MatSettings) -> tuple[ClothWish, ...]:
    return (ClothWish("back", "backs", settings.back, "cloth"),)


def _wanted(settings: MatSettings, project: Project) -> tuple[Wanted, ...]:
    return (Wanted(KEY, project.title, _outline(settings)),)


def _refuse(settings: MatSettings, project: Project) -> tuple[Finding, ...]:
    cure = "Make width or height of [make] smaller"
    found = too_large("HW460", "A mat", settings.width, settings.height, project, cure, pieced=True)
    return (
        *found,
        *not_turned("HW467", project),
        *_sound_back(settings, project),
        *cloth_findings(project, _wishes(settings)),
    )


def _sound_back(settings: MatSettings, project: Project) -> tuple[Finding, ...]:
    """HW461: the overlap leaves too little of each back beside it; HW462: corners rounder than the mat is wide."""
    corner = Limit(
        "HW462", "corner", settings.corner, settings.width / 2.0, "The corners are rounder than the mat is wide"
    )
    found = list(too_much((corner,), project))
    most = settings.height - 2.0 * (settings.corner + settings.hem + LEAST_BESIDE)
    if settings.overlap > most:
        cure = (
            f"Make the overlap at most {show_length(rounded_down(most, project.units), project.units)}"
            if rounded_down(most, project.units) >= LEAST_OVERLAP
            else "Make the mat higher"
        )
        message = f"An overlap of {show_length(settings.overlap, project.units)} leaves too little of each back"
        found.append(Finding("HW461", Severity.BLOCKS, message, cure, Where(path="make.overlap")))
    return tuple(found)


def _make(shop: Workshop) -> Making:
    settings: MatSettings = shop.settings
    outline = shop.panels[KEY].outline
    front = stays_in_hoop(shop, KEY, shop.project.title)
    cloth = chosen_cloth(shop.project, settings.back, "cloth")
    back = envelope(shop, outline, cloth, "back", "back", at=0.0, overlap=settings.overlap, hem=settings.hem)
    work = (
        *front.operations,
        *lay_envelope(shop, back, settings.overlap),
        closing_seam(shop, outline, None, catches=(*front.along(outline.exterior), back.lower, back.upper)),
        *taken_out(shop, outline, "the mat", cut_corners(settings.corner)),
    )
    turn = Turn(
        back.opening,
        front.top_at(back.opening),
        back.lower.key,
        "Turn the mat right side out through the overlap of its backs, and push the corners out with something blunt.",
    )
    press: HandWork = Press(
        "all", f"{TAPE_OUT}. Roll the seam between your fingers so that it lies on the edge, and press."
    )
    look = Look(KEY, outline, underside=(back.lower.key, back.upper.key))
    hooping = HoopingOperations(KEY, shop.project.title, KEY, front.section, work)
    return Making((*front.before, hooping), (back.lower, back.upper), (turn, press), CARE, PROMISE, (look,))


MAT: Final = Recipe(
    name="mat",
    title="Mat",
    summary="A pieced mat with an envelope back in two overlapping parts.",
    settings=MatSettings,
    make=_make,
    wanted=_wanted,
    refuse=_refuse,
)
