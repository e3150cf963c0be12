"""Accents as the maker asks for them: is there such a motif, can it be made so small, has it a place on its panel?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import combinations

from shapely.geometry import Polygon

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm
from hoopwright.needle.accents.placing import placed_accent, size_of
from hoopwright.needle.accents.shapes import AccentWish, Planned
from hoopwright.needle.accents.table import MOTIFS
from hoopwright.piecing.shapes import Frame
from hoopwright.project.fields import field_of
from hoopwright.project.lengths import Units, show_length, show_measure, show_size
from hoopwright.project.problems import offer
from hoopwright.project.schema import AccentModel, PanelModel, Project

INSIDE: Mm = 2.0
"""An accent on a panel stays this far inside its outline, where the closing seam runs (common practice, no source)."""


def wish_of(model: AccentModel) -> AccentWish:
    """Return the wish of an accent of the project file."""
    return AccentWish(model.motif, model.size, model.lobes, model.fullness, model.seed)


def wish_faults(wish: AccentWish, path: str, units: Units) -> tuple[Finding, ...]:
    """Return why an accent cannot be made as it is wished at ``path`` of the project file.

    HW370 there is no such motif, HW371 it is too small or too large, HW372 it cannot have so many lobes. All block.
    """
    if wish.motif not in MOTIFS:
        cure = offer(wish.motif, tuple(MOTIFS), "Choose one of docs/recipes/accent.md.")
        return (_fault("HW370", f'There is no motif called "{wish.motif}"', cure, f"{path}.motif"),)
    motif = MOTIFS[wish.motif]
    found = []
    if not motif.least <= wish.size <= motif.most:
        least, most = show_length(motif.least, units), show_length(motif.most, units)
        why = (
            "in less, its columns run into each other and its net has no room to hold them"
            if wish.size < motif.least
            else "in more, its net sags when the base is gone"
        )
        message = f"A {wish.motif} of {show_measure(wish.size, units)} cannot be made: {why}"
        found.append(_fault("HW371", message, f"Make it {least} to {most}", f"{path}.size"))
    low, _, high = motif.lobes
    if wish.lobes is not None and not low <= wish.lobes <= high:
        message = f"A {wish.motif} with {wish.lobes} {motif.what} cannot be made"
        found.append(_fault("HW372", message, f"Give it {low} to {high}", f"{path}.lobes"))
    elif wish.lobes is not None and not found and wish.size < least_size(wish):
        message = f"A {wish.motif} of {show_measure(wish.size, units)} has no room for {wish.lobes} {motif.what}"
        cure = f"Make it at least {show_length(least_size(wish), units)}, or give it fewer"
        found.append(_fault("HW371", message, cure, f"{path}.size"))
    return tuple(found)


def least_size(wish: AccentWish) -> Mm:
    """Return the size from which a motif has room for its lobes, mm: more than the usual number need more room."""
    motif = MOTIFS[wish.motif]
    lobes = wish.lobes or motif.lobes[1]
    return motif.least * max(1.0, lobes / motif.lobes[1])


def plan_accents(
    panel: PanelModel, frame: Frame, outline: Polygon, project: Project
) -> tuple[tuple[Planned, ...], tuple[Finding, ...]]:
    """Return the accents of a panel with their places in its hoop, and what is wrong with them.

    Besides what ``wish_faults`` says: HW373 an accent reaches over the outline, HW374 two accents lie on each other (both block); HW375 it does not fit the hoop it would be made in.
    """
    findings: list[Finding] = []
    planned: list[Planned] = []
    sound: list[tuple[int, AccentModel]] = []
    for number, model in enumerate(panel.accents, start=1):
        found = wish_faults(wish_of(model), f"panel.accents[{number}]", project.units)
        found = found or too_large(wish_of(model), "HW375", f"panel.accents[{number}].size", project)
        findings += found
        if not found:
            sound.append((number, model))
    names = titles([m.motif for _, m in sound])
    for (number, model), title in zip(sound, names, strict=True):
        thread = model.thread or next(iter(project.threads))
        key = title.replace(" ", "-")
        one = Planned(key, title, wish_of(model), thread, frame.place(model.at), model.turn + frame.turn, model.base)
        findings += _beyond(one, outline, number, project.units)
        planned.append(one)
    return tuple(planned), (*findings, *_overlapping(planned, [n for n, _ in sound]))


def too_large(wish: AccentWish, code: str, path: str, project: Project) -> tuple[Finding, ...]:
    """Return a blocking finding with this code when an accent does not fit the hoop it would be made in."""
    room, size = room_of(project), size_of(wish)
    if all(a <= r + MERGE for a, r in zip(size, room, strict=True)):
        return ()
    shown, most = (show_size(*pair, project.units) for pair in (size, room))
    message = f"A {wish.motif} of {shown} does not fit the hoop, which has room for {most}"
    return (_fault(code, message, "Make it smaller, or choose a larger field", path),)


def room_of(project: Project) -> tuple[Mm, Mm]:
    """Return width and height that accents may take in their hooping: the field less its margin."""
    width, height = field_of(project.hoop)
    return width - 2.0 * project.hoop.margin, height - 2.0 * project.hoop.margin


def titles(motifs: Sequence[str]) -> tuple[str, ...]:
    """Return names for accents: their motifs, numbered where there are several of one."""
    often, seen = Counter(motifs), Counter[str]()
    found = []
    for motif in motifs:
        seen[motif] += 1
        found.append(f"{motif} {seen[motif]}" if often[motif] > 1 else motif)
    return tuple(found)


def place_of(one: Planned) -> Polygon:
    """Return what an accent covers of its panel."""
    return placed_accent(one.wish, one.at or (0.0, 0.0), one.turn).outline


def _beyond(one: Planned, outline: Polygon, number: int, units: Units) -> tuple[Finding, ...]:
    inner = outline.buffer(-INSIDE, join_style="mitre")
    over = place_of(one).difference(inner)
    if over.is_empty:
        return ()
    message = f"The {one.title} reaches over the outline, or lies nearer to it than {show_measure(INSIDE, units)}"
    cure = "Move it inwards, or make it smaller"
    at = over.representative_point()
    where = Where(path=f"panel.accents[{number}].at", point=(round(at.x, 1), round(at.y, 1)))
    return (Finding("HW373", Severity.BLOCKS, message, cure, where),)


def _overlapping(planned: Sequence[Planned], numbers: Sequence[int]) -> tuple[Finding, ...]:
    shapes = [place_of(p) for p in planned]
    found = []
    for (i, a), (k, b) in combinations(enumerate(planned), 2):
        both = shapes[i].intersection(shapes[k])
        if both.area > 0.0:
            at = both.representative_point()
            where = Where(path=f"panel.accents[{numbers[k]}].at", point=(round(at.x, 1), round(at.y, 1)))
            message = f"The {a.title} and the {b.title} lie on each other"
            found.append(Finding("HW374", Severity.BLOCKS, message, "Move one of them", where))
    return tuple(found)


def _fault(code: str, message: str, cure: str, path: str) -> Finding:
    return Finding(code, Severity.BLOCKS, message, cure, Where(path=path))
