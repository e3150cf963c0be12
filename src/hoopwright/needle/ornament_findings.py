"""What the maker should know about the seam stitches of a panel."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.types import Mm
from hoopwright.core.words import listed
from hoopwright.needle.ornament_site import EDGE, PLAIN, Site, asked, stitch_of
from hoopwright.needle.seam_stitches import SEAM_STITCHES, SeamStitch, Sides, offer
from hoopwright.piecing.shapes import PatchMap
from hoopwright.project.lengths import Units, show_measure
from hoopwright.project.schema import PanelModel

SIDES: Final = {"both": "both sides", "left": "the left", "right": "the right", "alternate": "both sides in turn"}


def about_rows(patches: PatchMap, panel: PanelModel) -> tuple[Finding, ...]:
    """Return what is wrong with the rows that the project asks for, whatever the patches are like."""
    return (*_missing_seams(patches, panel), *_unknown_stitches(patches, panel), *_about_sides(patches, panel))


def place_of(seam: int) -> str:
    """Return where a row runs, in words."""
    return "along the outline" if seam == EDGE else f"on seam {seam}"


def about_width(site: Site, letter: str, across: Mm, fits: Mm, units: Units) -> Iterator[Finding]:
    """Say when the maker's own width is too wide for the patches or too narrow for the stitch."""
    width = site.wish.width or 0.0
    where = Where(path=f"{site.path}.width", patch=letter)
    title, number, least = site.stitch.title, site.line.number, site.stitch.least(site.wish.weight)
    if width >= across:
        yield Finding(
            "HW343",
            Severity.WARNS,
            f"{title} on seam {number} is {show_measure(width, units)} wide, but patch {letter} beside it is only "
            f"{show_measure(across, units)} across: the stitch would fill the patch and meet its other seams",
            f"Make it {show_measure(fits, units)} wide or less, or leave the width out",
            where,
        )
    if width < least:
        yield too_narrow(f"{title} on seam {number}", width, least, where, units)


def too_narrow(what: str, width: Mm, least: Mm, where: Where, units: Units) -> Finding:
    """Say that a row is narrower than its stitch can be recognised at."""
    return Finding(
        "HW344",
        Severity.WARNS,
        f"{what} is {show_measure(width, units)} wide; narrower than {show_measure(least, units)} "
        "its arms are shorter than a stitch and it can't be recognised",
        f"Make it at least {show_measure(least, units)} wide or choose a smaller stitch, such as coral or chain",
        where,
    )


def no_room(site: Site, letter: str, across: Mm, units: Units) -> Finding:
    """Say that a patch is too narrow for a stitch."""
    least = site.stitch.least(site.wish.weight)
    return Finding(
        "HW345",
        Severity.NOTES,
        f"Seam {site.line.number} is left plain: patch {letter} beside it is only {show_measure(across, units)} across, and "
        f"{site.stitch.title.lower()} needs {show_measure(least, units)}",
        "Give this seam a smaller stitch, such as coral or chain, or make the patch larger",
        Where(path=site.path, patch=letter),
    )


def too_short(site: Site, length: Mm, units: Units) -> Finding:
    """Say that a seam is too short for one repeat."""
    return Finding(
        "HW346",
        Severity.NOTES,
        f"Seam {site.line.number} is left plain: only {show_measure(length, units)} of it can be decorated, too short for one "
        f"repeat of {site.stitch.title.lower()}",
        "Give this seam a stitch with a shorter repeat, or leave it plain",
        Where(path=site.path),
    )


def cycle(number: int) -> Finding:
    """Say that seams end on each other in a ring."""
    return Finding(
        "HW347",
        Severity.NOTES,
        f"Seam {number} belongs to a ring of seams that each end on the next, so its ornament is sewn first of them "
        "and the one that ends on it lies over it",
        "Nothing needs doing; look at that junction in the picture of the finished panel",
        Where(path="panel.seams"),
    )


def no_row_over(seam: int, stitch: SeamStitch, width: Mm, least: Mm, path: str, units: Units) -> Finding:
    """Say that the row below is too narrow for the one over it."""
    return Finding(
        "HW349",
        Severity.NOTES,
        f"{stitch.title} is left out {place_of(seam)}: the row below it is {show_measure(width, units)} wide, and it needs "
        f"{show_measure(least, units)}",
        "Choose a smaller stitch for the row over it, such as coral, or give the row below a larger width",
        Where(path=path),
    )


def no_edge(stitch: SeamStitch, units: Units, inside: Mm) -> Finding:
    """Say that there is no room for a row along the outline."""
    return Finding(
        "HW355",
        Severity.NOTES,
        f"No {stitch.title.lower()} runs along the outline: {show_measure(inside, units)} inside it there is no room for the row",
        "Give it a smaller width or distance",
        Where(path="panel.edge_stitch"),
    )


def _missing_seams(patches: PatchMap, panel: PanelModel) -> Iterator[Finding]:
    """Name seams that the project speaks of and the patchwork does not have."""
    numbers = {s.number for s in patches.seams}
    there = ", ".join(str(n) for n in sorted(numbers)) if numbers else "none"
    for key in panel.seams:
        if int(key) not in numbers:
            yield Finding(
                "HW341",
                Severity.WARNS,
                f"A stitch is given for seam {key}, but the patchwork has no such seam",
                f"Use one of the seam numbers of the layout: {there}",
                Where(path=f"panel.seams.{key}"),
            )


def _unknown_stitches(patches: PatchMap, panel: PanelModel) -> Iterator[Finding]:
    """Name each stitch that is asked for and not in the table, once for each place in the project file."""
    for path, row in asked(patches, panel).items():
        name = stitch_of(row)
        if name != PLAIN and name not in SEAM_STITCHES:
            yield Finding(
                "HW342",
                Severity.BLOCKS,
                f'There is no seam stitch called "{name}"',
                f'{offer(name)} "{PLAIN}" leaves the seam plain; docs/seam-stitches.md shows them all',
                Where(path=f"{path}.stitch"),
            )


def _about_sides(patches: PatchMap, panel: PanelModel) -> Iterator[Finding]:
    """Name each row whose stitch cannot reach to the sides asked for."""
    for path, row in asked(patches, panel).items():
        stitch = SEAM_STITCHES.get(stitch_of(row))
        if stitch is not None and row.sides is not None and sides_of(stitch, row.sides) != row.sides:
            can = [f'"{s}"' for s in stitch.sides]
            cure = (
                f"Write {listed(can, 'or')}, or leave sides out" if can else "Leave sides out, or choose another stitch"
            )
            yield Finding(
                "HW348",
                Severity.WARNS,
                f"{stitch.title} cannot stand on {SIDES[row.sides]} of its line; it is sewn in its own way",
                cure,
                Where(path=f"{path}.sides"),
            )


def sides_of(stitch: SeamStitch, wish: Sides | None) -> Sides | None:
    """Return the sides to which a row is sewn: those wished for, or the stitch's own (None) where it cannot do that."""
    if wish is None or wish in stitch.sides:
        return wish
    return wish if not stitch.sides and wish == "both" else None
