"""What is said about patches that need care: codes HW240 to HW244."""

from __future__ import annotations

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.types import Mm, Point
from hoopwright.core.words import listed
from hoopwright.piecing.shapes import Cut, Patch
from hoopwright.project.lengths import Units, show_measure
from hoopwright.project.schema import PiecingModel


def name_of(patch: Patch) -> str:
    """Return how a patch is called in a sentence."""
    return f"patch {patch.letters[0]}" if patch.made_of is None else f"section {patch.label}"


def _opening(patch: Patch) -> str:
    name = name_of(patch)
    return name[0].upper() + name[1:]


def _where(patch: Patch, point: Point | None = None) -> Where:
    middle = patch.area.representative_point()
    return Where(patch=patch.label, point=point or (middle.x, middle.y))


def hidden_finding(patch: Patch, allowance: Mm, units: Units = "mm") -> Finding:
    """HW240: the allowance of a patch would lie on patches that must stay visible."""
    spot = patch.clips[0].representative_point()
    others = listed(patch.clip_covers)
    return Finding(
        "HW240",
        Severity.WARNS,
        f"Flipped open, the allowance of {show_measure(allowance, units)} of {name_of(patch)} would lie on patch {others}, which is to stay visible",
        f"After flipping and pressing {name_of(patch)}, trim the part marked on its template back to the edge of patch {others}; "
        f"or draw them at least {show_measure(allowance, units)} apart.",
        _where(patch, (spot.x, spot.y)),
    )


def snip_finding(patch: Patch) -> Finding:
    """HW241: a patch reaches back behind its own seam line."""
    return Finding(
        "HW241",
        Severity.WARNS,
        f"Part of {name_of(patch)} lies behind its own seam line, so the cloth cannot open flat",
        f"When the seam of {name_of(patch)} is sewn, snip its allowance from the raw edge to the end of the seam, then flip; or divide "
        "the patch by a cut in line with the seam.",
        _where(patch),
    )


def narrow_finding(patch: Patch, width: Mm, allowance: Mm, units: Units = "mm") -> Finding:
    """HW242: a patch is narrower than the allowance."""
    return Finding(
        "HW242",
        Severity.WARNS,
        f"{_opening(patch)} is only {show_measure(width, units)} wide, less than the allowance of {show_measure(allowance, units)}, so the allowances under it "
        "reach beyond it and make a ridge",
        f"Trim the allowances under it to less than {show_measure(width, units)}, make the patch wider, or choose a smaller allowance.",
        _where(patch),
    )


def bare_findings(patch: Patch, piecing: PiecingModel, units: Units = "mm") -> tuple[Finding, ...]:
    """HW243 and HW244: a template or a rough cut fails to cover too often."""
    found = []
    if piecing.cut != "rough" and patch.exact.cover.chance >= piecing.chance:
        helps = patch.made_of is None and patch.rough.cover.chance < piecing.chance
        rough = ", or lay a roughly cut piece instead, which has more to spare" if helps else ""
        cure = f"Lay it with more care, or choose a wider allowance{rough}."
        found.append(_bare("HW243", "cut by its template", patch, patch.exact, piecing, units, cure))
    if piecing.cut != "templates" and patch.made_of is None and patch.rough.cover.chance >= piecing.chance:
        cure = "A larger piece does not help, because its raw edge slips off the seam: lay that edge with more care, or choose a wider allowance."
        found.append(_bare("HW244", "cut roughly", patch, patch.rough, piecing, units, cure))
    return tuple(found)


def _bare(code: str, how: str, patch: Patch, cut: Cut, piecing: PiecingModel, units: Units, cure: str) -> Finding:
    cover = cut.cover
    return Finding(
        code,
        Severity.WARNS,
        f"Laid up to {show_measure(piecing.shift, units)} and {piecing.turn:g} degrees off, {name_of(patch)} {how} leaves too little cloth at a seam or "
        f"the outline in {cover.chance:.1%} of {cover.trials} simulated layings, by at most {show_measure(cover.worst, units)}; accepted are {piecing.chance:.1%}",
        cure,
        _where(patch),
    )
