"""Proofs of what shows at the end: every patch right side up, all of it, with cloth to spare, and no cut edge."""

from __future__ import annotations

import shapely
from shapely.geometry import MultiPoint, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.edges import raw_edges
from hoopwright.cloth.placing import mirror
from hoopwright.cloth.shapes import Region, united
from hoopwright.cloth.trial import Fault, Trial, following, is_flipped, worth_mention
from hoopwright.core.tolerances import BEHIND, COVER
from hoopwright.core.words import listed
from hoopwright.needle.shapes import Step
from hoopwright.piecing.allowances import Needed, beyond_seam, needed_cloth
from hoopwright.piecing.laying import seam_frame
from hoopwright.piecing.shapes import Patch
from hoopwright.piecing.templates import corners_of, is_convex


def right_side_up(trial: Trial) -> tuple[Fault, ...]:
    """HW511, HW512: a patch that is sewn on yet not flipped open, or shows its wrong side."""
    return tuple(f for patch in trial.patches for f in _right_side(trial, patch))


def _right_side(trial: Trial, patch: Patch) -> tuple[Fault, ...]:
    name = _capital(trial.name(patch.label))
    if patch.seam is not None and not is_flipped(trial.end, patch.label):
        message = f"{name} is never flipped open over its seam"
        held = _is_held(trial, patch)
        return (trial.fault("HW511", message, "Flip it open before the next patch is laid.", patch),) if held else ()
    wrong = worth_mention(
        shapely.intersection(
            trial.region, united(s.region for s in trial.shown if s.sheet == patch.label and not s.right)
        )
    )
    if wrong.is_empty:
        return ()
    way = "right side UP" if patch.seam is None else "right side DOWN"
    return (trial.fault("HW512", f"{name} shows its wrong side", f"Lay it {way}.", patch, wrong),)


def _is_held(trial: Trial, patch: Patch) -> bool:
    """Whether the line that should hold a patch holds it at all; HW501 to HW504 tell when it does not."""
    sewing = trial.holding(patch)
    return sewing is not None and sewing[2].length_of(patch.label) > 0.0


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def covers_its_area(trial: Trial) -> tuple[Fault, ...]:
    """HW513, HW514: a patch falls short of its area, or lies covered where it should show."""
    return tuple(f for patch in trial.patches if trial.end.of(patch.label) for f in _covers(trial, patch))


def _covers(trial: Trial, patch: Patch) -> tuple[Fault, ...]:
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


def _falls_short(trial: Trial, patch: Patch, short: Region) -> Fault:
    fault = trial.fault(
        "HW513",
        f"The cloth of {trial.name(patch.label)} leaves {short.area:.1f} mm² of its area bare, up to "
        f"{trial.length(_depth(short))} wide",
        "Lay it as the picture shows, or cut it larger.",
        patch,
        short,
    )
    return following(fault)


def _depth(shape: BaseGeometry) -> float:
    """Return about how wide a region is at its widest."""
    return 2.0 * float(shapely.maximum_inscribed_circle(max(shapely.get_parts(shape), key=lambda p: p.area)).length)


def _lies_covered(trial: Trial, patch: Patch, hidden: Region) -> Fault:
    over = dict.fromkeys(
        s.sheet for s in trial.shown if worth_mention(shapely.intersection(s.region, hidden)).area > 0.0
    )
    names = listed(tuple(trial.name(sheet) for sheet in over)) or "other cloth"
    fault = trial.fault(
        "HW514",
        f"{_capital(trial.name(patch.label))} is covered by {names} where it should show, over {hidden.area:.1f} mm²",
        "Sew the patches in the order of their numbers, and trim allowances where the template is marked.",
        patch,
        hidden,
    )
    return following(fault, *over)


def cloth_to_spare(trial: Trial) -> tuple[Fault, ...]:
    """HW515: a patch covers its area, yet has too little allowance for its own or a later seam to hold."""
    return tuple(f for patch in trial.patches for f in _spare(trial, patch))


def _spare(trial: Trial, patch: Patch) -> tuple[Fault, ...]:
    sewing = trial.holding(patch)
    if sewing is None or not sewing[1].of(patch.label):
        return ()
    cloth: BaseGeometry = united(layer.region for layer in sewing[1].of(patch.label))
    if patch.seam is not None:
        cloth = mirror(patch.seam.start, patch.seam.end).shape(cloth)
    needed = needed_cloth(corners_of(patch.area), trial.panel.outline, trial.project.piecing.allowance)
    if _spans(cloth, needed) or not worth_mention(shapely.difference(patch.area, cloth)).is_empty:
        return ()
    lacking = worth_mention(shapely.difference(needed.region(), cloth.buffer(COVER)))
    return () if lacking.is_empty else (_no_allowance(trial, patch, cloth, lacking, sewing[0]),)


def _spans(cloth: BaseGeometry, needed: Needed) -> bool:
    """Whether a cloth without dents holds every outermost place needed, and with them all that is needed."""
    return isinstance(cloth, Polygon) and is_convex(cloth) and bool(cloth.buffer(COVER).covers(MultiPoint(needed.hull)))


def _no_allowance(trial: Trial, patch: Patch, cloth: BaseGeometry, lacking: Region, step: Step) -> Fault:
    least = patch.area.exterior.distance(cloth.boundary)
    return trial.fault(
        "HW515",
        f"The cloth of {trial.name(patch.label)} reaches only {trial.length(least)} past its area somewhere, too little for "
        "a seam to hold",
        f"Cut it by its template, with {trial.length(trial.project.piecing.allowance)} all round, and lay its raw edge "
        "that far past the seam.",
        patch,
        lacking,
        step,
    )


def no_raw_edge_shows(trial: Trial) -> tuple[Fault, ...]:
    """HW516: a cut edge lies open inside the outline."""
    inside = trial.region.buffer(-BEHIND)
    by_label = {p.label: p for p in trial.patches}
    found = []
    for edge in raw_edges(trial.end, inside):
        line = edge.open_above
        if line.length > BEHIND and edge.sheet in by_label:
            patch = by_label[edge.sheet]
            message = f"A cut edge of {trial.name(edge.sheet)} lies open over {trial.length(line.length)}"
            fault = trial.fault("HW516", message, "Let later cloth cover it, or fold it under.", patch, line)
            found.append(following(fault))
    return tuple(found)
