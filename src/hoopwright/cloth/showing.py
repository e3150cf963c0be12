"""Proofs of what shows at the end: every patch right side up, all of it, with cloth to spare, and no cut edge."""

from __future__ import annotations

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.edges import raw_edges
from hoopwright.cloth.placing import mirror
from hoopwright.cloth.shapes import Region, united
from hoopwright.cloth.trial import Trial, worth_mention
from hoopwright.core.findings import Finding
from hoopwright.core.tolerances import BEHIND, COVER
from hoopwright.core.words import listed
from hoopwright.piecing.allowances import beyond_seam, needed_cloth
from hoopwright.piecing.laying import seam_frame
from hoopwright.piecing.shapes import Patch
from hoopwright.piecing.templates import corners_of


def right_side_up(trial: Trial) -> tuple[Finding, ...]:
    """HW510 to HW512: a patch that is not laid, not flipped open, or shows its wrong side."""
    return tuple(f for patch in trial.patches for f in _right_side(trial, patch))


def _right_side(trial: Trial, patch: Patch) -> tuple[Finding, ...]:
    layers, name = trial.end.of(patch.label), trial.name(patch.label)
    if not layers:
        return (trial.blocks("HW510", f"{_capital(name)} is never laid", "Lay it before its seam.", patch, patch.area),)
    if patch.seam is not None and not any(layer.folds for layer in layers):
        message = f"{_capital(name)} is never flipped open over its seam"
        return (trial.blocks("HW511", message, "Flip it open before the next patch is laid.", patch, patch.area),)
    wrong = worth_mention(
        shapely.intersection(
            trial.region, united(s.region for s in trial.shown if s.sheet == patch.label and not s.right)
        )
    )
    if wrong.is_empty:
        return ()
    way = "right side UP" if patch.seam is None else "right side DOWN"
    return (trial.blocks("HW512", f"{_capital(name)} shows its wrong side", f"Lay it {way}.", patch, wrong),)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def covers_its_area(trial: Trial) -> tuple[Finding, ...]:
    """HW513, HW514: a patch falls short of its area, or lies covered where it should show."""
    return tuple(f for patch in trial.patches if trial.end.of(patch.label) for f in _covers(trial, patch))


def _covers(trial: Trial, patch: Patch) -> tuple[Finding, ...]:
    cloth = united(layer.region for layer in trial.end.of(patch.label))
    wanted = _opens_flat(patch)
    short = worth_mention(shapely.difference(wanted, cloth))
    shown = united(s.region for s in trial.shown if s.sheet == patch.label)
    hidden = worth_mention(shapely.difference(shapely.intersection(wanted, cloth), shown))
    found = []
    if not short.is_empty:
        found.append(_falls_short(trial, patch, short))
    if not hidden.is_empty:
        found.append(_lies_covered(trial, patch, hidden))
    return tuple(found)


def _opens_flat(patch: Patch) -> BaseGeometry:
    """Return the area less what lies behind its own seam line, which piecing tells about by itself."""
    behind = None if patch.seam is None else beyond_seam(patch.area, seam_frame(patch.seam))
    return patch.area if behind is None else shapely.difference(patch.area, behind)


def _falls_short(trial: Trial, patch: Patch, short: Region) -> Finding:
    return trial.blocks(
        "HW513",
        f"The cloth of {trial.name(patch.label)} leaves {short.area:.1f} mm2 of its area bare, up to "
        f"{trial.length(_depth(short))} wide",
        "Lay it as the picture shows, or cut it larger.",
        patch,
        short,
    )


def _depth(shape: BaseGeometry) -> float:
    """Return about how wide a region is at its widest."""
    return 2.0 * float(shapely.maximum_inscribed_circle(max(shapely.get_parts(shape), key=lambda p: p.area)).length)


def _lies_covered(trial: Trial, patch: Patch, hidden: Region) -> Finding:
    over = dict.fromkeys(
        s.sheet for s in trial.shown if worth_mention(shapely.intersection(s.region, hidden)).area > 0.0
    )
    names = listed(tuple(trial.name(sheet) for sheet in over)) or "other cloth"
    return trial.blocks(
        "HW514",
        f"{_capital(trial.name(patch.label))} is covered by {names} where it should show, over {hidden.area:.1f} mm2",
        "Sew the patches in the order of their numbers, and trim allowances where the template is marked.",
        patch,
        hidden,
    )


def cloth_to_spare(trial: Trial) -> tuple[Finding, ...]:
    """HW515: a patch covers its area, yet has too little allowance for its own or a later seam to hold."""
    return tuple(f for patch in trial.patches for f in _spare(trial, patch))


def _spare(trial: Trial, patch: Patch) -> tuple[Finding, ...]:
    sewing = trial.holding(patch)
    laid = () if sewing is None else sewing[1].of(patch.label)
    if not laid:
        return ()
    cloth: BaseGeometry = united(layer.region for layer in laid)
    if patch.seam is not None:
        cloth = mirror(patch.seam.start, patch.seam.end).shape(cloth)
    if not worth_mention(shapely.difference(patch.area, cloth)).is_empty:
        return ()
    wanted = needed_cloth(corners_of(patch.area), trial.panel.outline, trial.project.piecing.allowance).region()
    lacking = worth_mention(shapely.difference(wanted, cloth.buffer(COVER)))
    return (
        () if lacking.is_empty else (_no_allowance(trial, patch, cloth, lacking, sewing[0].index if sewing else None),)
    )


def _no_allowance(trial: Trial, patch: Patch, cloth: BaseGeometry, lacking: Region, step: int | None) -> Finding:
    least = patch.area.exterior.distance(shapely.difference(cloth.boundary, Polygon()))
    return trial.blocks(
        "HW515",
        f"The cloth of {trial.name(patch.label)} reaches only {trial.length(least)} past its area somewhere, too little for "
        "a seam to hold",
        f"Cut it by its template, with {trial.length(trial.project.piecing.allowance)} all round, and lay its raw edge "
        "that far past the seam.",
        patch,
        lacking,
        step,
    )


def no_raw_edge_shows(trial: Trial) -> tuple[Finding, ...]:
    """HW516: a cut edge lies open inside the outline."""
    inside = trial.region.buffer(-BEHIND)
    by_label = {p.label: p for p in trial.patches}
    found = []
    for edge in raw_edges(trial.end):
        line = shapely.intersection(edge.open_above, inside)
        if line.length > BEHIND and edge.sheet in by_label:
            patch = by_label[edge.sheet]
            message = f"A cut edge of {trial.name(edge.sheet)} lies open over {trial.length(line.length)}"
            found.append(trial.blocks("HW516", message, "Let later cloth cover it, or fold it under.", patch, line))
    return tuple(found)
