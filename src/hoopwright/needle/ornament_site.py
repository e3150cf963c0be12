"""Seams to be decorated, with what is asked for each, and the ornaments that come of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from shapely.geometry import LineString

from hoopwright.needle.seam_stitches import SEAM_STITCHES, SeamStitch
from hoopwright.operations.vocabulary import OrnamentStyle
from hoopwright.piecing.shapes import PatchMap, SeamLine
from hoopwright.plane.subdivision import OUTSIDE
from hoopwright.project.schema import PanelModel, RowModel, SeamStitchModel

PLAIN: Final = "none"
"""The stitch name that leaves a seam plain."""

EDGE: Final = 0
"""The seam number of the row along a panel's outline, which lies on no seam."""


@dataclass(frozen=True, slots=True)
class Ornament:
    """A decorative stitch on one seam: seam number, path, style, thread key (None: the project's first thread).

    ``after`` are the seams whose ornaments end on this one and are sewn before it. A row over another has the number of the same
    seam and comes after it. The row along the outline has the number EDGE, and its path is closed.
    """

    seam: int
    path: LineString
    style: OrnamentStyle
    thread: str | None
    title: str
    after: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Site:
    """A seam with what was asked for it, its thread, the stitch found, where that stands, and the patches beside it."""

    line: SeamLine
    wish: SeamStitchModel
    thread: str | None
    stitch: SeamStitch
    path: str
    faces: tuple[int, ...]


def wishes(patches: PatchMap, panel: PanelModel) -> Iterator[tuple[SeamLine, SeamStitchModel, str]]:
    """Return each seam with what is asked for it and where in the project file that stands."""
    own = {int(key): (key, model) for key, model in panel.seams.items()}
    for line in patches.seams:
        key, model = own.get(line.number, (None, panel.seam_stitch))
        yield line, model, "panel.seam_stitch" if key is None else f"panel.seams.{key}"


def sites_of(patches: PatchMap, panel: PanelModel) -> Iterator[Site]:
    """Return the seams that get a stitch of the table."""
    plane = patches.plane
    for line, wish, path in wishes(patches, panel):
        if wish.stitch in SEAM_STITCHES:
            edges = [plane.edges[e] for e in plane.chains[line.chain].edges]
            faces = {f for e in edges for f in (e.left, e.right) if f != OUTSIDE}
            thread = wish.thread or panel.seam_stitch.thread
            yield Site(line, wish, thread, SEAM_STITCHES[wish.stitch], path, tuple(sorted(faces)))


def asked(patches: PatchMap, panel: PanelModel) -> dict[str, RowModel]:
    """Return every row that is asked for, by its place in the project file."""
    rows: dict[str, RowModel] = {path: wish for _, wish, path in wishes(patches, panel)}
    if panel.edge_stitch is not None:
        rows["panel.edge_stitch"] = panel.edge_stitch
    for path, row in list(rows.items()):
        if isinstance(row, SeamStitchModel) and row.over is not None and row.stitch != PLAIN:
            rows[f"{path}.over"] = row.over
    return rows


def stitch_of(row: RowModel) -> str:
    """Return the name of the stitch that a row asks for."""
    return str(getattr(row, "stitch", PLAIN))
