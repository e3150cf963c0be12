"""Which decorative stitch runs along which seam, how wide, how far, and in which order.

Words: a seam *ends on* another when its end lies inside the other's length (a T junction); the other is the
*through* seam, and its ornament covers the end of the first. The *clip* of an ornament is the region its stitches
must stay in: the patches that border the seam, less a margin at the outline and at seams of other patches.
"""

from __future__ import annotations

import heapq
from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from statistics import median

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.findings import Finding
from hoopwright.core.tolerances import DIGITS, MERGE
from hoopwright.core.types import Mm
from hoopwright.needle.edge_ornament import edge_ornament
from hoopwright.needle.junctions import drawn_back
from hoopwright.needle.ornament_findings import (
    about_rows,
    about_width,
    cycle,
    no_room,
    no_row_over,
    sides_of,
    too_short,
)
from hoopwright.needle.ornament_site import EDGE, PLAIN, Ornament, Site, sites_of
from hoopwright.needle.seam_stitches import SEAM_STITCHES, has_room
from hoopwright.needle.seam_stitches.stitch import SeamStitch
from hoopwright.operations.vocabulary import OrnamentStyle
from hoopwright.piecing.shapes import PatchMap
from hoopwright.project.lengths import Units
from hoopwright.project.schema import PanelModel, SeamStitchModel, Weight

__all__ = ["EDGE", "PLAIN", "Ornament", "plan_ornaments", "sewing_order"]

INSIDE_OUTLINE: Mm = 1.0
"""Ornaments stay this far inside the outline, where the panel is trimmed (common practice, no source)."""

INSIDE_CORD: Mm = 2.5
"""Corded ones stay farther inside: the outline is sewn twice, or in satin, and its holes lie close already."""

OFF_NEIGHBOURS: Mm = 0.5
"""Ornaments stay this far off the seams of patches that do not border theirs; half a thread lies beyond the needle."""

COVERED = 0.25
"""An ornament that ends on a decorated seam stops this part of the other's width short of it: the other's arms still
cover its end, and the two do not tangle."""

COVERED_CORD = 0.55
"""The same where one of them is corded: cords do not lie over each other."""

CLEAR: Mm = 2.0
"""Where several seams end near one point, the ends of their rows stand this far apart (by eye)."""

CLEAR_CORD: Mm = 4.0
"""The same for corded rows."""

OVER = 0.65
"""The proposed width of a row over another is this part of that one's."""

PART_OF_PATCH = 0.5
"""A proposed width is at most this part of the smallest patch's inscribed diameter (common practice, no source)."""

LEAST_OF_MEDIAN = 0.7
"""A proposed width is at least this part of the middle one of the panel's proposed widths of the same stitch, so that
neighbouring seams look alike; a patch that has no room for it keeps its smaller one (by eye)."""

MOST_OF_PATCH = 0.75
"""To look like its neighbours a stitch may take this part of the smallest patch's inscribed diameter (by eye)."""

WIDTH_STEP: Mm = 0.5
"""Proposed widths are rounded down to this."""

KEPT = 1024
"""So many shapes of rows and patches are remembered from plan to plan."""

INSCRIBED_PRECISION: Mm = 0.1
"""How precisely the inscribed diameter of a patch is found."""


def plan_ornaments(
    map: PatchMap,  # noqa: A002 - the word of the piecing room
    panel: PanelModel,
    outline: Polygon,
    units: Units = "mm",
) -> tuple[tuple[Ornament, ...], tuple[Finding, ...]]:
    """Return the ornaments of a panel in sewing order, and what the maker should know.

    A seam takes its stitch from ``panel.seams`` by its number, else from ``panel.seam_stitch``; "none" leaves it plain.
    A seam with an entry of its own that names no thread takes the thread of ``panel.seam_stitch``.
    Where one seam ends on another, the ending one comes first; otherwise the order is that of the numbers. A row over another
    follows it at once; the row along the outline comes last and covers the ends of the seams.
    ``outline`` is the panel's outline in the frame of the map, ``units`` those of the sentences.
    """
    findings = [*about_rows(map, panel)]
    edge, said = edge_ornament(panel.edge_stitch, outline, panel.seam_stitch.thread, units)
    findings += said
    fields = {weight: _field(outline, edge, corded=weight == "corded") for weight in ("fine", "bold", "corded")}
    sites = tuple(sites_of(map, panel))
    widths, said_of_widths = _widths(map, sites, units)
    findings += said_of_widths
    through = _ends_on(map, set(widths))
    planned: dict[int, Ornament] = {}
    decorated = [s for s in sites if s.line.number in widths]
    for site in decorated:
        covers = [
            (t.line.line, _covered(site, t) * widths[t.line.number])
            for t in decorated
            if t.line.number in through[site.line.number]
        ]
        ornament = _ornament(map, site, widths[site.line.number], covers, fields[site.wish.weight], units)
        if isinstance(ornament, Ornament):
            planned[site.line.number] = ornament
        else:
            findings.append(ornament)
    planned = _clear_of_each_other(planned)
    order, cycles = sewing_order(map, tuple(planned))
    findings += [cycle(n) for n in cycles]
    wishes = {s.line.number: (s.wish, s.path) for s in sites}
    rows, more = _in_order(planned, order, _ending(map, tuple(planned)), wishes, units)
    if edge is not None and panel.edge_stitch is not None:
        last = replace(edge, after=tuple(sorted(planned)))
        over, told = _row_over(last, panel.edge_stitch, "panel.edge_stitch", units)
        rows, more = (*rows, last, *over), (*more, *told)
    return rows, (*findings, *more)


def _field(outline: Polygon, edge: Ornament | None, *, corded: bool) -> Polygon:
    """Return where the rows on seams may lie: inside the outline, and short of the middle of a row along it."""
    if edge is None:
        return outline.buffer(-(INSIDE_CORD if corded else INSIDE_OUTLINE), join_style="mitre")
    part = COVERED_CORD if corded else _part(edge.style)
    return Polygon(edge.path).buffer(-part * edge.style.width, join_style="mitre")


def _part(*styles: OrnamentStyle | SeamStitchModel) -> float:
    """Return the part of a through row's width that an ending one stays off it."""
    return COVERED_CORD if any(s.weight == "corded" for s in styles) else COVERED


def _covered(ending: Site, through: Site) -> float:
    return _part(ending.wish, through.wish)


def _clear_of_each_other(planned: dict[int, Ornament]) -> dict[int, Ornament]:
    """Return the ornaments with their paths drawn back where several end near one point."""
    clear = {n: CLEAR_CORD if o.style.weight == "corded" else CLEAR for n, o in planned.items()}
    paths = drawn_back({n: o.path for n, o in planned.items()}, clear)
    return {n: replace(o, path=paths[n]) if _still_fits(o, paths[n]) else o for n, o in planned.items()}


def _still_fits(ornament: Ornament, path: LineString) -> bool:
    """Whether a shortened path differs and still has room for one repeat."""
    style = ornament.style
    wish = SEAM_STITCHES[style.stitch].wished_repeat(style.width, style.repeat)
    return path is not ornament.path and has_room(path.length, wish)


def _in_order(
    planned: Mapping[int, Ornament],
    order: tuple[int, ...],
    ending: Mapping[int, tuple[int, ...]],
    wishes: Mapping[int, tuple[SeamStitchModel, str]],
    units: Units,
) -> tuple[tuple[Ornament, ...], tuple[Finding, ...]]:
    """Return the rows in sewing order, each with the seams that come before it and followed by the row over it."""
    rows: list[Ornament] = []
    findings: list[Finding] = []
    done: set[int] = set()
    for number in order:
        base = replace(planned[number], after=tuple(n for n in ending[number] if n in done))
        over, told = _row_over(base, *wishes[number], units)
        rows += [base, *over]
        findings += told
        done.add(number)
    return tuple(rows), tuple(findings)


def row_over_width(stitch: SeamStitch, weight: Weight, below: Mm) -> Mm:
    """Return the width that is proposed for a row over another, which is ``below`` mm wide."""
    return max(stitch.least(weight), min(stitch.usual(weight), OVER * below))


def _row_over(
    base: Ornament, wish: SeamStitchModel, path: str, units: Units
) -> tuple[tuple[Ornament, ...], tuple[Finding, ...]]:
    """Return the row over another, if one is asked for and has room."""
    over = wish.over
    stitch = SEAM_STITCHES.get(PLAIN if over is None else over.stitch)
    if over is None or stitch is None:
        return (), ()
    below, least = base.style.width, stitch.least(over.weight)
    if over.width is None and below < least:
        return (), (no_row_over(base.seam, stitch, below, least, f"{path}.over", units),)
    width = over.width or row_over_width(stitch, over.weight, below)
    style = OrnamentStyle(
        stitch.name,
        width,
        over.repeat,
        over.mirror,
        over.turn,
        base.style.clip,
        sides_of(stitch, over.sides),
        over.spacing,
        taper=base.style.taper,
        weight=over.weight,
        under=base.style,
    )
    where = "along the outline" if base.seam == EDGE else f"over seam {base.seam}"
    return (replace(base, style=style, thread=over.thread or base.thread, title=f"{stitch.title} {where}"),), ()


def _widths(patches: PatchMap, sites: tuple[Site, ...], units: Units) -> tuple[dict[int, Mm], list[Finding]]:
    """Return the width of each row that has room, by the number of its seam."""
    across = _inscribed(patches, sites)
    widths: dict[int, Mm] = {}
    findings: list[Finding] = []
    for site in sites:
        width, said = _width(patches, site, across, units)
        findings += said
        if width is not None:
            widths[site.line.number] = width
    return widths | _levelled(sites, widths, across), findings


def _ending(patches: PatchMap, seams: tuple[int, ...]) -> dict[int, tuple[int, ...]]:
    """Return for each seam those that end on it."""
    through = _ends_on(patches, set(seams))
    return {n: tuple(m for m in sorted(through) if n in through[m]) for n in seams}


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


def _inscribed(patches: PatchMap, sites: tuple[Site, ...]) -> dict[int, Mm]:
    """Return the inscribed diameter of every patch beside a site."""
    return {f: _across(patches.plane.faces[f].wkb) for f in sorted({f for site in sites for f in site.faces})}


@lru_cache(maxsize=KEPT)
def _across(area: bytes) -> Mm:
    """Return the inscribed diameter of an area, given as WKB; most stay while one line is moved."""
    shape = shapely.from_wkb(area)
    assert isinstance(shape, Polygon)  # it was written as one
    return 2.0 * shapely.maximum_inscribed_circle(shape, INSCRIBED_PRECISION).length


def _width(patches: PatchMap, site: Site, across: Mapping[int, Mm], units: Units) -> tuple[Mm | None, list[Finding]]:
    """Return the width to sew: the maker's, or the widest sensible one up to the stitch's own; None: no room."""
    small = min(site.faces, key=lambda f: (across[f], f))
    letter, room = patches.letters[small], across[small]
    stitch, fits = site.stitch, _stepped(PART_OF_PATCH * room)
    if site.wish.width is not None:
        return site.wish.width, list(about_width(site, letter, room, fits, units))
    least = stitch.least(site.wish.weight)
    if least >= room:
        return None, [no_room(site, letter, room, units)]
    return max(least, min(stitch.usual(site.wish.weight), fits)), []


def _levelled(sites: tuple[Site, ...], widths: Mapping[int, Mm], across: Mapping[int, Mm]) -> dict[int, Mm]:
    """Return the proposed widths that fall far behind those of the same stitch, made wider as far as their patches allow."""
    free: dict[tuple[str, str], list[Site]] = {}
    for site in sites:
        if site.wish.width is None and site.line.number in widths:
            free.setdefault((site.stitch.name, site.wish.weight), []).append(site)
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
    patches: PatchMap, site: Site, width: Mm, covers: list[tuple[LineString, Mm]], field: Polygon, units: Units
) -> Ornament | Finding:
    """Return the ornament of one seam, or why the seam stays plain."""
    wish, stitch, number = site.wish, site.stitch, site.line.number
    clip, path = _clip_and_path(
        tuple(patches.plane.faces[f].wkb for f in site.faces),
        site.line.line.wkb,
        tuple((line.wkb, off) for line, off in covers if off > OFF_NEIGHBOURS),
        field.wkb,
        max(width, 0.0 if wish.over is None else wish.over.width or 0.0),
    )
    if clip is None or path is None or not has_room(path.length, stitch.wished_repeat(width, wish.repeat)):
        return too_short(site, 0.0 if path is None else path.length, units)
    style = OrnamentStyle(
        stitch.name,
        width,
        wish.repeat,
        wish.mirror,
        wish.turn,
        clip,
        sides_of(stitch, wish.sides),
        wish.spacing,
        wish.ease,
        wish.taper,
        wish.weight,
    )
    return Ornament(number, path, style, site.thread, f"{stitch.title} on seam {number}")


@lru_cache(maxsize=KEPT)
def _clip_and_path(
    faces: tuple[bytes, ...], seam: bytes, covers: tuple[tuple[bytes, Mm], ...], field: bytes, width: Mm
) -> tuple[Polygon | None, LineString | None]:
    """Return the region that a row of this width must stay in, and the longest part of its seam inside.

    ``faces`` are the patches beside the seam, ``covers`` the decorated seams it ends on, with how far it stays off each; all
    shapes are given as WKB. Kept, so that planning again after a small change looks only at what changed. The corner of a patch
    that comes near a seam without bordering it must not part the row there: its margin is rounded, or at last left out.
    """
    beside = shapely.union_all(shapely.from_wkb(faces))
    along = shapely.from_wkb(seam)
    free = _free(beside.buffer(-OFF_NEIGHBOURS, join_style="mitre"), covers, field)
    if len(_pieces(free, along)) > 1:
        free = _free(beside.buffer(-OFF_NEIGHBOURS), covers, field)
    if len(_pieces(free, along)) > 1:
        free = _free(beside, covers, field)
    best = max(_pieces(free, along), key=lambda piece: piece[1].length, default=None)
    return (None, None) if best is None else _near(*best, width)


def _free(room: BaseGeometry, covers: tuple[tuple[bytes, Mm], ...], field: bytes) -> BaseGeometry:
    """Return what is left of a room inside the field and off the seams that a row ends on."""
    region: BaseGeometry = shapely.intersection(room, shapely.from_wkb(field))
    for line, off in covers:
        region = region.difference(shapely.from_wkb(line).buffer(off, join_style="mitre"))
    return region


def _pieces(region: BaseGeometry, along: BaseGeometry) -> list[tuple[Polygon, LineString]]:
    """Return the parts of a seam inside a region, each with the part of the region round it."""
    parts = [part for part in shapely.get_parts(region) if isinstance(part, Polygon)]
    inside = [(part, piece) for part in parts for piece in shapely.get_parts(part.intersection(along))]
    return [(part, piece) for part, piece in inside if isinstance(piece, LineString) and piece.length > MERGE]


def _near(clip: Polygon, path: LineString, width: Mm) -> tuple[Polygon, LineString]:
    """Return the part of a clip that a row of this width can reach, with room to spare, and the row's path.

    Both are free of rounding noise: what is changed far away leaves a row as it was, and it need not be sewn anew.
    """
    beside = clip.intersection(path.buffer(width, cap_style="square", join_style="mitre"))
    parts = [p for p in shapely.get_parts(beside) if isinstance(p, Polygon)]
    part = parts[0] if len(parts) == 1 else max(parts, key=lambda p: p.intersection(path).length)
    near, line = shapely.transform([part, path], lambda places: np.round(places, DIGITS))
    return near, line
