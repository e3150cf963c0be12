"""The pieces of paper of a build: one for every patch, every section and every panel outline.

A piece lives in the paper's frame: x to the right, y DOWN, right side of the cloth towards the reader.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TypeVar

from shapely.affinity import affine_transform
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.build import Build
from hoopwright.core.types import Degrees
from hoopwright.piecing.shapes import Patch, PiecedPanel
from hoopwright.project.schema import Project

FLIP_Y = (1.0, 0.0, 0.0, -1.0, 0.0, 0.0)
QUARTER = (0.0, -1.0, 1.0, 0.0, 0.0, 0.0)


Shape = TypeVar("Shape", bound=BaseGeometry)


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """One piece of paper.

    ``cut`` is the line to cut, ``sew`` the dashed line, ``seam`` the edge it is sewn on by (None: no such edge), ``clip``
    the allowance to cut away after sewing. ``head`` is its large name, ``short`` the same for a tiny piece, ``lines``
    what is written below. ``grain`` is the warp's direction clockwise from the paper's x axis (None: no arrow);
    ``has_up`` makes the arrow point one way only.
    """

    name: str
    head: str
    lines: tuple[str, ...]
    cut: Polygon
    sew: Polygon
    seam: LineString | None = None
    clip: BaseGeometry | None = None
    grain: Degrees | None = None
    has_up: bool = False


def pieces_of(build: Build) -> tuple[Piece, ...]:
    """Return all pieces of paper, panel by panel: patches in sewing order, then the panel's own outline."""
    project = build.plan.project
    patches = project.piecing.cut != "rough"
    return tuple(
        piece
        for panel in build.plan.panels
        for piece in (
            *(_of_patch(project, panel, p) for p in panel.patches if patches or p.made_of is not None),
            _of_outline(project, panel),
        )
    )


def quarter_turned(piece: Piece) -> Piece:
    """Return the piece turned a quarter on the paper; its arrow turns with it."""
    grain = None if piece.grain is None else piece.grain + 90
    return replace(_mapped(piece, QUARTER), grain=grain)


def section_names(panel: PiecedPanel) -> Callable[[int], str]:
    """Return how sections of ``panel`` are called on paper; empty for a panel without sections."""
    count = len(panel.order.sections)
    return lambda number: f"section {number} of {count}" if count > 1 else ""


def _of_patch(project: Project, panel: PiecedPanel, patch: Patch) -> Piece:
    seam = None if patch.seam is None else LineString([patch.seam.start, patch.seam.end])
    where = section_names(panel)(patch.section)
    if patch.made_of is not None:
        head, has_up, grain = patch.label, False, None
        lines: tuple[str, ...] = (
            f"pieced section {patch.made_of}",
            "trim it to the solid line",
            "right side up",
            where,
        )
    else:
        cloth = project.cloths[patch.cloth]
        head, has_up, grain = f"{patch.number} · {patch.letters[0]}", cloth.has_up, -patch.grain
        lines = (cloth.name, "right side up", where)
    piece = Piece(
        name=f"{panel.key} {head}",
        head=head,
        lines=tuple(line for line in lines if line),
        cut=patch.template,
        sew=patch.area,
        seam=seam,
        clip=patch.clip,
        has_up=has_up,
    )
    return replace(_mapped(piece, FLIP_Y), grain=grain)


def _of_outline(project: Project, panel: PiecedPanel) -> Piece:
    cut = panel.outline.buffer(project.piecing.allowance, join_style="mitre")
    lines = ("outline of the finished panel, right side up", "trim to the solid line when all is sewn")
    piece = Piece(
        f"{panel.key} outline",
        "Panel" if panel.key == "panel" else f"Panel {panel.key}",
        lines,
        Polygon(cut.exterior),
        panel.outline,
    )
    return _mapped(piece, FLIP_Y)


def _mapped(piece: Piece, matrix: tuple[float, ...]) -> Piece:
    def there(shape: Shape) -> Shape:
        return affine_transform(shape, list(matrix))

    seam = None if piece.seam is None else there(piece.seam)
    clip = None if piece.clip is None else there(piece.clip)
    return replace(piece, cut=there(piece.cut), sew=there(piece.sew), seam=seam, clip=clip)
