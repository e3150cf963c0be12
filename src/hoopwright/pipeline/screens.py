"""What a screen shows of a build, as plain data and pictures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from hoopwright.build import Build
from hoopwright.checks.holes import MOST
from hoopwright.checks.sites import on_cloth
from hoopwright.core.findings import Finding
from hoopwright.items.recipe import Recipe
from hoopwright.items.swatches.wish import Weight
from hoopwright.needle.grounds.motif_file import motif_lines
from hoopwright.outputs.booklet.sizes import sewn_extents
from hoopwright.outputs.pictures.face import face as whole_face
from hoopwright.outputs.pictures.finished import finished_png
from hoopwright.outputs.screen import draft
from hoopwright.outputs.screen import needles as screen_needles
from hoopwright.outputs.screen import recipe_form as screen_form
from hoopwright.outputs.screen import run_sheet as screen_run
from hoopwright.outputs.screen import swatches as screen_swatches
from hoopwright.outputs.screen.halts import HaltSheet
from hoopwright.outputs.screen.halts import halt_sheets as screen_halts


@dataclass(frozen=True, slots=True)
class Below:
    """A row of seam stitches under another: its name, its thread ("#rrggbb"), how it is sewn."""

    name: str
    thread: str
    weight: Weight = "bold"
    mirror: bool = False


def draft_view(made: Build, files: Mapping[str, bytes] | None = None) -> dict[str, Any]:
    """Return what a screen needs to draw the panels of a build while they are drafted; see hoopwright.outputs.screen.

    ``files`` holds the contents of those the project names; without them letters of a font and stitch files are not drawn.
    """
    return draft.draft_view(made, files)


def finding_row(finding: Finding) -> dict[str, Any]:
    """Return a finding as plain data."""
    return draft.finding_row(finding)


def run_sheet(made: Build, key: str) -> dict[str, Any]:
    """Return the moments of a hooping as a screen plays them. Raises KeyError for one that the build does not have."""
    cloth = any(h.key == key for h in on_cloth(made.plan))
    return screen_run.run_sheet(made, key, MOST if cloth else None)


def needles(made: Build, key: str) -> bytes:
    """Return the needle positions of a hooping; see hoopwright.outputs.screen.needles. Raises KeyError as ``run_sheet``."""
    return screen_needles.needles(made, key)


def needle_holes(made: Build, key: str) -> bytes:
    """Return how close the needle holes of a hooping lie; see hoopwright.outputs.screen. Raises KeyError as ``run_sheet``."""
    return screen_run.holes(made, key)


def thickness(made: Build, key: str, moment: int) -> list[dict[str, Any]]:
    """Return how thick the cloth lies after a moment of a hooping. Raises KeyError as ``run_sheet``, IndexError for an unknown moment."""
    return screen_run.thickness(made, key, moment)


def halt_sheets(made: Build, language: str | None = None) -> tuple[HaltSheet, ...]:
    """Return every hooping as it is followed at the machine; see hoopwright.outputs.screen.halts.

    ``language`` is that of the words in the pictures, None the project's own.
    """
    project = made.plan.project
    if language is not None and language != project.language:
        project = project.model_copy(update={"language": language})
        made = replace(made, plan=replace(made.plan, project=project))
    return screen_halts(made)


def swatch_catalogue() -> dict[str, list[dict[str, Any]]]:
    """Return every seam stitch, ground and motif as plain data; see hoopwright.outputs.screen.swatches."""
    return screen_swatches.catalogue()


def seam_stitch_swatch(
    name: str, thread: str, cloth: str, *, weight: Weight = "bold", mirror: bool = False, over: Below | None = None
) -> bytes:
    """Return a seam stitch in the colours of a thread and a cloth ("#rrggbb") as SVG. Raises HoopwrightError for an unknown name.

    ``over`` is the row over which it is sewn.
    """
    under = None if over is None else screen_swatches.StitchSwatch(over.name, over.weight, over.mirror)
    swatch = screen_swatches.StitchSwatch(name, weight, mirror, under)
    return screen_swatches.swatch_svg(swatch, thread, cloth, None if over is None else over.thread)


def ground_swatch(
    name: str, thread: str, cloth: str, *, seed: int = 1, motif: tuple[bytes, str] | None = None
) -> bytes:
    """Return a ground in the colours of a thread and a cloth ("#rrggbb") as SVG. Raises HoopwrightError for an unknown name.

    ``motif`` is a drawing of the maker's own with its name, for the grounds that repeat one. Raises GeometryError for one that cannot be
    used.
    """
    lines = () if motif is None else motif_lines(*motif)
    return screen_swatches.swatch_svg(screen_swatches.GroundSwatch(name, seed, lines), thread, cloth)


def accent_swatch(
    name: str, thread: str, cloth: str, *, lobes: int | None = None, fullness: float = 0.5, seed: int = 0
) -> bytes:
    """Return an accent in the colours of a thread and a cloth ("#rrggbb") as SVG. Raises HoopwrightError for an unknown name."""
    return screen_swatches.swatch_svg(screen_swatches.AccentSwatch(name, lobes, fullness, seed), thread, cloth)


def finished_pictures(made: Build, longest: int) -> tuple[tuple[str, bytes], ...]:
    """Return (panel key, PNG) of every finished panel of a build, its longer side of ``longest`` pixels."""
    return tuple((p.key, finished_png(made.plan, p.key, longest=longest)) for p in made.plan.panels if p.patches)


def recipe_form(recipe: Recipe) -> list[dict[str, Any]]:
    """Return the settings of a recipe as a screen asks for them; see hoopwright.outputs.screen.recipe_form."""
    return screen_form.recipe_form(recipe)


def face(made: Build, longest: int) -> tuple[str, bytes] | None:
    """Return (media type, picture) of what a build makes as a whole; see hoopwright.outputs.pictures.face."""
    return whole_face(made.plan, longest)


def finished_sizes(made: Build) -> tuple[tuple[float, float], ...]:
    """Return width and height, mm, of the sewn works of a build laid flat; of its panels where nothing is sewn round them."""
    panels = (p.outline.bounds for p in made.plan.panels)
    sizes = sewn_extents(made.plan) or tuple((b[2] - b[0], b[3] - b[1]) for b in panels)
    return tuple(dict.fromkeys((round(wide, 1), round(high, 1)) for wide, high in sizes))
