"""The pieces of paper of a build: one for every patch, section and panel outline, and for every piece that is no patch.

A piece lives in the paper's frame: x to the right, y DOWN, right side of the cloth towards the reader.
"""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Final, TypeVar

import shapely
from shapely.affinity import affine_transform
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.build import Build
from hoopwright.core.types import Degrees, Point
from hoopwright.items.plan import Plan
from hoopwright.items.recipe import Piece as CutPiece
from hoopwright.operations.vocabulary import Fold, HandWork, Lay
from hoopwright.outputs.saying import Say, saying
from hoopwright.piecing.shapes import Patch, PiecedPanel
from hoopwright.plane.half_plane import left_of
from hoopwright.project.schema import Project

FLIP_Y = (1.0, 0.0, 0.0, -1.0, 0.0, 0.0)
QUARTER = (0.0, -1.0, 1.0, 0.0, 0.0, 0.0)

BY_LENGTH = ("ribbon", "zip")
"""Kinds of cloth that are cut by length, without a template."""

NOTE = 36
"""Letters in a line of a piece's note."""

Shape = TypeVar("Shape", bound=BaseGeometry)


@dataclass(frozen=True, slots=True)
class Signs:
    """The words beside the signs of a piece: its fold, its grain arrow (both ways, or with an up), what is cut away."""

    fold: str = "fold"
    grain: str = "grain"
    grain_up: str = "grain, up"
    up: str = "up"
    clip: str = "cut this away after sewing"

    def said(self, say: Say) -> Signs:
        """Return them in another language."""
        return Signs(say(self.fold), say(self.grain), say(self.grain_up), say(self.up), say(self.clip))


ENGLISH: Final = Signs()


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """One piece of paper.

    ``cut`` is the line to cut, ``sew`` the dashed line (None: nothing is sewn along it), ``seam`` the edge it is sewn on by
    (None: no such edge), ``fold`` the line it is folded along, ``clip`` the allowance to cut away after sewing. ``head`` is its large name, ``short`` the same for a tiny piece, ``lines``
    what is written below. ``grain`` is the warp's direction clockwise from the paper's x axis (None: no arrow);
    ``has_up`` makes the arrow point one way only. ``signs`` are the words beside its signs.
    """

    name: str
    head: str
    lines: tuple[str, ...]
    cut: Polygon
    sew: Polygon | None = None
    seam: LineString | None = None
    clip: BaseGeometry | None = None
    grain: Degrees | None = None
    has_up: bool = False
    fold: LineString | None = None
    signs: Signs = ENGLISH

    @property
    def inner(self) -> Polygon:
        """Where words may stand: inside the dashed line, else inside the cutting line."""
        return self.cut if self.sew is None else self.sew


def pieces_of(build: Build) -> tuple[Piece, ...]:
    """Return all pieces of paper, panel by panel: patches in sewing order, the panel's own outline; then the other pieces.

    Ribbons and zips have none: they are cut by length. Their words are in the project's language.
    """
    say = saying(build.plan.project)
    signs = ENGLISH.said(say)
    return tuple(replace(p, signs=signs) for p in _pieces(build, say))


def _pieces(build: Build, say: Say) -> tuple[Piece, ...]:
    project, making = build.plan.project, build.plan.making
    patches = project.piecing.cut != "rough"
    several = len(build.plan.panels) > 1
    panels = (
        piece
        for panel in build.plan.panels
        for piece in (
            *(_of_patch(project, panel, p, several, say) for p in panel.patches if patches or p.made_of is not None),
            _of_outline(project, panel, say),
        )
    )
    folds = folds_of(build.plan)
    flat = (p for p in making.pieces if project.cloths[p.cloth].kind not in BY_LENGTH)
    return (*panels, *(_of_piece(project, p, folds.get(p.key), say) for p in flat))


def folds_of(plan: Plan) -> dict[str, LineString]:
    """Return along which line a piece is folded when it is laid, or an edge of it is turned in, for every piece that is."""
    found: dict[str, LineString] = {}
    poses: dict[str, Polygon] = {}
    for hand in (h for hooping in plan.hoopings for step in hooping.steps for h in step.hands):
        if isinstance(hand, Lay):
            poses[hand.piece] = hand.pose
        for piece, line in _folds(hand, poses):
            endless = LineString(left_of(*line).exterior.coords[:2])
            found.setdefault(piece, _longest(poses[piece].intersection(endless)))
    return found


def _folds(hand: HandWork, poses: Mapping[str, Polygon]) -> list[tuple[str, tuple[Point, Point]]]:
    """Return the pieces a piece of handwork folds where they lie as laid; what folds away most of a piece opens a seam."""
    if isinstance(hand, Lay) and hand.fold is not None:
        return [(hand.piece, hand.fold)]
    if not isinstance(hand, Fold):
        return []
    half = left_of(*hand.line)
    laid = [(p, poses[p]) for p in hand.pieces if p in poses]
    return [(p, hand.line) for p, pose in laid if 0.0 < 2.0 * pose.intersection(half).area < pose.area]


def _longest(lines: BaseGeometry) -> LineString:
    return max((p for p in shapely.get_parts(lines) if isinstance(p, LineString)), key=lambda p: p.length)


def quarter_turned(piece: Piece) -> Piece:
    """Return the piece turned a quarter on the paper; its arrow turns with it."""
    grain = None if piece.grain is None else piece.grain + 90
    return replace(_mapped(piece, QUARTER), grain=grain)


def section_names(panel: PiecedPanel) -> Callable[[int], str]:
    """Return how sections of ``panel`` are called on paper; empty for a panel without sections."""
    count = len(panel.order.sections)
    return lambda number: f"section {number} of {count}" if count > 1 else ""


def _of_patch(project: Project, panel: PiecedPanel, patch: Patch, several: bool, say: Say) -> Piece:
    seam = None if patch.seam is None else LineString([patch.seam.start, patch.seam.end])
    where = section_names(panel)(patch.section)
    if several:
        where = f"{panel_name(panel.key)}{f', {where}' if where else ''}"
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
        lines=tuple(say(line) for line in lines if line),
        cut=patch.template,
        sew=patch.area,
        seam=seam,
        clip=patch.clip,
        has_up=has_up,
    )
    return replace(_mapped(piece, FLIP_Y), grain=grain)


def _of_outline(project: Project, panel: PiecedPanel, say: Say) -> Piece:
    cut = panel.outline.buffer(project.piecing.allowance, join_style="mitre")
    lines = ("outline of the finished panel, right side up", "trim to the solid line when all is sewn")
    piece = Piece(
        f"{panel.key} outline",
        say(panel_name(panel.key)),
        tuple(map(say, lines)),
        Polygon(cut.exterior),
        panel.outline,
    )
    return _mapped(piece, FLIP_Y)


def panel_name(key: str) -> str:
    """Return how a pieced panel is called on paper."""
    return "Panel" if key == "panel" else f"Panel {key.replace('-', ' ')}"


def _of_piece(project: Project, given: CutPiece, fold: LineString | None, say: Say) -> Piece:
    cloth = project.cloths[given.cloth]
    sided = "" if cloth.kind == "stiffener" else "right side up"
    count = f"cut {given.count}" if given.count > 1 else ""
    lines = (cloth.name, say(", ".join(x for x in (count, sided) if x)), *textwrap.wrap(say(given.note), NOTE))
    piece = Piece(given.key, say(given.title), tuple(x for x in lines if x), given.cut, given.sewn, fold=fold)
    grain = None if cloth.kind == "stiffener" else -given.grain
    return replace(_mapped(piece, FLIP_Y), grain=grain, has_up=cloth.has_up)


def _mapped(piece: Piece, matrix: tuple[float, ...]) -> Piece:
    def there(shape: Shape | None) -> Shape | None:
        return None if shape is None else affine_transform(shape, list(matrix))

    return replace(
        piece,
        cut=affine_transform(piece.cut, list(matrix)),
        sew=there(piece.sew),
        seam=there(piece.seam),
        fold=there(piece.fold),
        clip=there(piece.clip),
    )
