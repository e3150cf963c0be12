"""The cutting list: which patch or piece from which cloth, and how large."""

from __future__ import annotations

from hoopwright.build import Build
from hoopwright.core.tolerances import COVER
from hoopwright.estimate.cloth import along_grain, by_length, rough_size
from hoopwright.items.recipe import Piece
from hoopwright.operations.vocabulary import Lay
from hoopwright.outputs.templates.cuts import grain_words
from hoopwright.outputs.templates.pieces import panel_name
from hoopwright.piecing.shapes import Cover, Patch, PiecedPanel
from hoopwright.project.lengths import show_length, show_size
from hoopwright.project.schema import Project


def cutting(build: Build) -> dict[str, object]:
    """Return which ways of cutting are asked for, the rows of every panel's list, and those of the other pieces."""
    project, making = build.plan.project, build.plan.making
    several = len(build.plan.panels) > 1 or bool(making.pieces)
    panels = [
        {"title": panel_name(panel.key) if several else "", "rows": _rows(project, panel)}
        for panel in build.plan.panels
    ]
    hands = [h for hooping in build.plan.hoopings for step in hooping.steps for h in step.hands]
    folded = {h.piece for h in hands if isinstance(h, Lay) and h.fold is not None}
    return {
        "templates": project.piecing.cut != "rough",
        "rough": project.piecing.cut != "templates",
        "panels": [p for p in panels if p["rows"]],
        "pieces": [_piece(project, p, folded=p.key in folded) for p in making.pieces],
    }


def _rows(project: Project, panel: PiecedPanel) -> list[dict[str, object]]:
    return [_row(project, patch) for patch in panel.patches if patch.made_of is None]


def _row(project: Project, patch: Patch) -> dict[str, object]:
    cloth = project.cloths[patch.cloth]
    return {
        "patch": f"{patch.number} · {patch.letters[0]}",
        "cloth": cloth.name,
        "colour": cloth.colour,
        "template": show_size(patch.exact.width, patch.exact.height, project.units),
        "rough_note": "" if patch.seam else "wide × high",
        "rough": show_size(*rough_size(project, patch), project.units),
        "grain": grain_words(patch),
        "chance": _chance(patch.rough.cover),
    }


def _chance(cover: Cover) -> str:
    """Return in how many layings out of a hundred a rough cut covers; none that failed is no promise of always."""
    if cover.chance > 0:
        return f"{(1 - cover.chance) * 100:.1f} %"
    return f"over {(1 - 1 / max(cover.trials, 2)) * 100:.1f} %"


def _piece(project: Project, piece: Piece, *, folded: bool) -> dict[str, object]:
    cloth = project.cloths[piece.cloth]
    notes = [piece.note, "folded before it is laid" if folded and "fold" not in piece.note else ""]
    notes += ["mind its up" if cloth.has_up else ""]
    return {
        "title": piece.title,
        "cloth": cloth.name,
        "colour": cloth.colour,
        "count": str(piece.count),
        "size": _piece_size(project, piece),
        "note": ", ".join(n for n in notes if n),
    }


def _piece_size(project: Project, piece: Piece) -> str:
    """Return the size of a piece in words that suit its kind: cloth across and along the warp, tapes by their length."""
    kind, units = project.cloths[piece.cloth].kind, project.units
    width, length = by_length(piece.cut)
    if kind == "zip":
        return f"at least {show_length(length, units)} long"
    if kind == "ribbon":
        return f"{show_length(length, units)} of {show_length(width, units)} width"
    size = show_size(*along_grain(piece.cut, piece.grain), units)
    straight = width * length - piece.cut.area <= COVER * (width + length)
    return size if straight else f"by the template, fits in {size}"
