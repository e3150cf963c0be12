"""What is sewn on a panel besides its seam stitches: grounds below them; letters and placed stitch files above them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from shapely.geometry.base import BaseGeometry

from hoopwright.core.findings import Finding
from hoopwright.needle.accents.shapes import Planned
from hoopwright.needle.accents.wishes import place_of, plan_accents
from hoopwright.needle.lettering.plan import plan_lettering
from hoopwright.needle.ornaments import EDGE, Ornament
from hoopwright.needle.panel_grounds import band, plan_grounds
from hoopwright.needle.placed import SEAM_STITCH, plan_placed
from hoopwright.operations.vocabulary import Stitch
from hoopwright.piecing.frame import frame_of
from hoopwright.piecing.shapes import Frame, PatchMap
from hoopwright.project.schema import PanelModel, Project


@dataclass(frozen=True, slots=True)
class Decorations:
    """Blocks sewn ``under`` the seam stitches and ``over`` them, in sewing order; ``frame`` is the panel's.

    ``accents`` are made in hoopings of their own and laid on the panel when all else is sewn.
    """

    under: tuple[Stitch, ...] = ()
    over: tuple[Stitch, ...] = ()
    frame: Frame = field(default_factory=Frame)
    accents: tuple[Planned, ...] = ()


NONE = Decorations()
"""A panel with nothing but its seam stitches."""


def plan_decorations(
    patches: PatchMap, panel: PanelModel, ornaments: tuple[Ornament, ...], project: Project, files: Mapping[str, bytes]
) -> tuple[Decorations, tuple[Finding, ...]]:
    """Return what is sewn on a panel besides its seam stitches, and what the maker should know.

    ``files`` holds the contents of the files that the project names.
    """
    frame = frame_of(panel, files)
    bands = [(f"{SEAM_STITCH}{o.seam}" if o.seam != EDGE else "the row along the outline", band(o)) for o in ornaments]
    letters, read = plan_lettering(panel, frame, patches.outline, bands, project, files)
    bands += [(block.title, block.region) for block in letters if block.region is not None]
    placed, said = plan_placed(panel, frame, patches.outline, bands, project, files)
    over = (*letters, *placed)
    accents, told = plan_accents(panel, frame, patches.outline, project)
    taken: list[BaseGeometry] = [place for _, place in bands]
    taken += [block.region for block in over if block.region is not None]
    taken += [place_of(accent) for accent in accents]
    under, findings = plan_grounds(patches, panel, taken, project.stitching.run, files, project.units)
    first = next(iter(project.threads))
    return Decorations(_threaded(under, first), _threaded(over, first), frame, accents), (
        *findings,
        *read,
        *said,
        *told,
    )


def _threaded(blocks: tuple[Stitch, ...], first: str) -> tuple[Stitch, ...]:
    """Give blocks that name no thread the project's first."""
    return tuple(b if b.thread else replace(b, thread=first) for b in blocks)
