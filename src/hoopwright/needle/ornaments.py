"""Which decorative stitch runs along which seam, how wide, how far, and in which order.

Words: a seam *ends on* another when its end lies inside the other's length (a T junction); the other is the
*through* seam, and its ornament covers the end of the first. The *clip* of an ornament is the region its stitches
must stay in: the patches that border the seam, less a margin at the outline and at seams of other patches.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from statistics import median

import shapely
from shapely.geometry import LineString, Polygon

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.types import Mm
from hoopwright.needle.seam_stitches import SEAM_STITCHES, SeamStitch, has_room, offer
from hoopwright.operations.vocabulary import OrnamentStyle
from hoopwright.piecing.shapes import PatchMap, SeamLine
from hoopwright.plane.subdivision import OUTSIDE
from hoopwright.project.lengths import Units, show_measure
from hoopwright.project.schema import PanelModel, SeamStitchModel

INSIDE_OUTLINE: Mm = 1.0
"""Ornaments stay this far inside the outline, where the panel is trimmed (common practice, no source)."""

OFF_NEIGHBOURS: Mm = 0.5
"""Ornaments stay this far off the seams of patches that do not border theirs; half a thread lies beyond the needle."""

COVERED = 0.25
"""An ornament that ends on a decorated seam stops this part of the other's width short of it: the other's arms still
cover its end, and the two do not tangle."""

PART_OF_PATCH = 0.5
"""A proposed width is at most this part of the smallest patch's inscribed diameter (common practice, no source)."""

LEAST_OF_MEDIAN = 0.7
"""A proposed width is at least this part of the middle one of the panel's proposed widths of the same stitch, so that
neighbouring seams look alike; a patch that has no room for it keeps its smaller one (by eye)."""

MOST_OF_PATCH = 0.75
"""To look like its neighbours a stitch may take this part of the smallest patch's inscribed diameter (by eye)."""

WIDTH_STEP: Mm = 0.5
"""Proposed widths are rounded down to this."""

INSCRIBED_PRECISION: Mm = 0.1
"""How precisely the inscribed diameter of a patch is found."""

PLAIN = "none"
"""The stitch name that leaves a seam plain."""


@dataclass(frozen=True, slots=True)
class Ornament:
    """A decorative stitch on one seam: seam number, straight path, style, thread key (None: the project's first thread).

    ``after`` are the seams whose ornaments end on this one and are sewn before it.
    """

    seam: int
    path: LineString
    style: OrnamentStyle
    thread: str | None
    title: str
    after: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class _Site:
    """A seam with what was asked for it, its thread, the stitch found, and the patches beside it."""

    line: SeamLine
    wish: SeamStitchModel
    thread: str | None
    stitch: SeamStitch
    path: str
    faces: tuple[int, ...]


def plan_ornaments(
    map: PatchMap,  # noqa: A002 - the word of the piecing room
    panel: PanelModel,
    outline: Polygon,
    units: Units = "mm",
) -> tuple[tuple[Ornament, ...], tuple[Finding, ...]]:
    """Return the ornaments of a panel in sewing order, and what the maker should know.

    A seam takes its stitch from ``panel.seams`` by its number, else from ``panel.seam_stitch``; "none" leaves it plain.
    A seam with an entry of its own that names no thread takes the thread of ``panel.seam_stitch``.
    Where one seam ends on another, the ending one comes first; otherwise the order is that of the numbers.
    ``outline`` is the panel's outline in the frame of the map, ``units`` those of the sentences.
    """
    findings = [*_missing_seams(map, panel), *_unknown_stitches(map, panel)]
    sites = tuple(_sites(map, panel))
    across = _inscribed(map, sites)
    field = outline.buffer(-INSIDE_OUTLINE, join_style="mitre")
    widths: dict[int, Mm] = {}
    for site in sites:
        width, said = _width(map, site, across, units)
        findings += said
        if width is not None:
            widths[site.line.number] = width
    widths |= _levelled(sites, widths, across)
    through = _ends_on(map, set(widths))
    planned: dict[int, Ornament] = {}
    for site in (s for s in sites if s.line.number in widths):
        covers = [
            (t.line.line, COVERED * widths[t.line.number]) for t in sites if t.line.number in through[site.line.number]
        ]
        ornament = _ornament(map, site, widths[site.line.number], covers, field, units)
        if isinstance(ornament, Ornament):
            planned[site.line.number] = ornament
        else:
            findings.append(ornament)
    order, cycles = sewing_order(map, tuple(planned))
    findings += [_cycle(n) for n in cycles]
    ending = {n: tuple(m for m in sorted(planned) if n in through[m]) for n in order}
    return tuple(replace(planned[n], after=ending[n]) for n in order), tuple(findings)


def sewing_order(patches: PatchMap, seams: tuple[int, ...]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Return seam numbers so that a seam comes before the one it ends on, lowest number first where it is free.

    The second row holds the seams at which a ring of seams, each ending on the next, had to be broken.
    """
    before = _ends_on(patches, set(seams))
    waiting = {n: sum(n in later for later in before.values()) for n in seams}
    free = [n for n in seams if waiting[n] == 0]
    heapq.heapify(free)
    order: list[int] = []
    broken: list[int] = []
    while len(order) < len(seams):
        if not free:
            free.append(min(set(seams) - set(order)))
            broken.append(free[0])
        number = heapq.heappop(free)
        order.append(number)
        for through in sorted(before[number]):
            waiting[through] -= 1
            if waiting[through] == 0 and through not in order:
                heapq.heappush(free, through)
    return tuple(order), tuple(broken)


def _ends_on(patches: PatchMap, wanted: set[int]) -> dict[int, set[int]]:
    """Return for each wanted seam the wanted seams on which it ends."""
    chains = patches.plane.chains
    through: dict[int, set[int]] = {}
    for seam in patches.seams:
        for vertex in chains[seam.chain].vertices[1:-1]:
            through.setdefault(vertex, set()).add(seam.number)
    ends: dict[int, set[int]] = {}
    for seam in patches.seams:
        if seam.number in wanted:
            tips = (chains[seam.chain].vertices[0], chains[seam.chain].vertices[-1])
            ends[seam.number] = {n for tip in tips for n in through.get(tip, ())} & wanted - {seam.number}
    return ends


def _wishes(patches: PatchMap, panel: PanelModel) -> Iterator[tuple[SeamLine, SeamStitchModel, str]]:
    """Return each seam with what is asked for it and where in the project file that stands."""
    own = {int(key): (key, model) for key, model in panel.seams.items()}
    for line in patches.seams:
        key, model = own.get(line.number, (None, panel.seam_stitch))
        yield line, model, "panel.seam_stitch" if key is None else f"panel.seams.{key}"


def _sites(patches: PatchMap, panel: PanelModel) -> Iterator[_Site]:
    plane = patches.plane
    for line, wish, path in _wishes(patches, panel):
        if wish.stitch in SEAM_STITCHES:
            edges = [plane.edges[e] for e in plane.chains[line.chain].edges]
            faces = {f for e in edges for f in (e.left, e.right) if f != OUTSIDE}
            thread = wish.thread or panel.seam_stitch.thread
            yield _Site(line, wish, thread, SEAM_STITCHES[wish.stitch], path, tuple(sorted(faces)))


def _inscribed(patches: PatchMap, sites: tuple[_Site, ...]) -> dict[int, Mm]:
    """Return the inscribed diameter of every patch beside a site."""
    faces = sorted({f for site in sites for f in site.faces})
    circles = shapely.maximum_inscribed_circle([patches.plane.faces[f] for f in faces], INSCRIBED_PRECISION)
    return {f: 2.0 * float(r) for f, r in zip(faces, shapely.length(circles), strict=True)}


def _width(patches: PatchMap, site: _Site, across: Mapping[int, Mm], units: Units) -> tuple[Mm | None, list[Finding]]:
    """Return the width to sew: the maker's, or the widest sensible one up to the stitch's own; None: no room."""
    small = min(site.faces, key=lambda f: (across[f], f))
    letter, room = patches.letters[small], across[small]
    stitch, fits = site.stitch, _stepped(PART_OF_PATCH * room)
    if site.wish.width is not None:
        return site.wish.width, list(_about_width(site, letter, room, fits, units))
    if stitch.least_width >= room:
        return None, [_no_room(site, letter, room, units)]
    return max(stitch.least_width, min(stitch.width, fits)), []


def _levelled(sites: tuple[_Site, ...], widths: Mapping[int, Mm], across: Mapping[int, Mm]) -> dict[int, Mm]:
    """Return the proposed widths that fall far behind those of the same stitch, made wider as far as their patches allow."""
    free: dict[str, list[_Site]] = {}
    for site in sites:
        if site.wish.width is None and site.line.number in widths:
            free.setdefault(site.stitch.name, []).append(site)
    wider: dict[int, Mm] = {}
    for row in free.values():
        least = _stepped(LEAST_OF_MEDIAN * median(widths[s.line.number] for s in row))
        for site in row:
            room = _stepped(MOST_OF_PATCH * min(across[f] for f in site.faces))
            wider[site.line.number] = max(widths[site.line.number], min(least, room))
    return wider


def _stepped(width: Mm) -> Mm:
    return max(0.0, width // WIDTH_STEP * WIDTH_STEP)


def _ornament(
    patches: PatchMap, site: _Site, width: Mm, covers: list[tuple[LineString, Mm]], field: Polygon, units: Units
) -> Ornament | Finding:
    """Return the ornament of one seam, or why the seam stays plain."""
    clip, path = _clip_and_path(patches, site, covers, field)
    wish, stitch, number = site.wish, site.stitch, site.line.number
    if clip is None or path is None or not has_room(path.length, stitch.wished_repeat(width, wish.repeat)):
        return _too_short(site, 0.0 if path is None else path.length, units)
    style = OrnamentStyle(stitch.name, width, wish.repeat, wish.mirror, wish.turn, clip)
    return Ornament(number, path, style, site.thread, f"{stitch.title} on seam {number}")


def _about_width(site: _Site, letter: str, across: Mm, fits: Mm, units: Units) -> Iterator[Finding]:
    """Say when the maker's own width is too wide for the patches or too narrow for the stitch."""
    width = site.wish.width or 0.0
    where = Where(path=f"{site.path}.width", patch=letter)
    title, number, least = site.stitch.title, site.line.number, site.stitch.least_width
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
        yield Finding(
            "HW344",
            Severity.WARNS,
            f"{title} on seam {number} is {show_measure(width, units)} wide; narrower than {show_measure(least, units)} "
            "its arms are shorter than a stitch and it can't be recognised",
            f"Make it at least {show_measure(least, units)} wide or choose a smaller stitch, such as coral or chain",
            where,
        )


def _clip_and_path(
    patches: PatchMap, site: _Site, covers: list[tuple[LineString, Mm]], field: Polygon
) -> tuple[Polygon | None, LineString | None]:
    """Return the region an ornament must stay in and the longest part of its seam inside.

    ``covers`` are the decorated seams it ends on, with how far it stays off each.
    """
    beside = shapely.union_all([patches.plane.faces[f] for f in site.faces])
    region = shapely.intersection(beside.buffer(-OFF_NEIGHBOURS, join_style="mitre"), field)
    for line, off in covers:
        if off > OFF_NEIGHBOURS:
            region = region.difference(line.buffer(off, join_style="mitre"))
    best: tuple[Polygon | None, LineString | None] = (None, None)
    longest = 0.0
    for part in shapely.get_parts(region):
        if not isinstance(part, Polygon):
            continue
        for piece in shapely.get_parts(part.intersection(site.line.line)):
            if isinstance(piece, LineString) and piece.length > longest:
                best, longest = (part, piece), piece.length
    return best


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
    asked = {path: wish.stitch for _, wish, path in _wishes(patches, panel)}
    for path, name in asked.items():
        if name != PLAIN and name not in SEAM_STITCHES:
            yield Finding(
                "HW342",
                Severity.BLOCKS,
                f'There is no seam stitch called "{name}"',
                f'{offer(name)} "{PLAIN}" leaves the seam plain; docs/seam-stitches.md shows them all',
                Where(path=f"{path}.stitch"),
            )


def _no_room(site: _Site, letter: str, across: Mm, units: Units) -> Finding:
    return Finding(
        "HW345",
        Severity.NOTES,
        f"Seam {site.line.number} is left plain: patch {letter} beside it is only {show_measure(across, units)} across, and "
        f"{site.stitch.title.lower()} needs {show_measure(site.stitch.least_width, units)}",
        "Give this seam a smaller stitch, such as coral or chain, or make the patch larger",
        Where(path=site.path, patch=letter),
    )


def _too_short(site: _Site, length: Mm, units: Units) -> Finding:
    return Finding(
        "HW346",
        Severity.NOTES,
        f"Seam {site.line.number} is left plain: only {show_measure(length, units)} of it can be decorated, too short for one "
        f"repeat of {site.stitch.title.lower()}",
        "Give this seam a stitch with a shorter repeat, or leave it plain",
        Where(path=site.path),
    )


def _cycle(number: int) -> Finding:
    return Finding(
        "HW347",
        Severity.NOTES,
        f"Seam {number} belongs to a ring of seams that each end on the next, so its ornament is sewn first of them "
        "and the one that ends on it lies over it",
        "Nothing needs doing; look at that junction in the picture of the finished panel",
        Where(path="panel.seams"),
    )
