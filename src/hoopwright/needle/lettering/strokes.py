"""A letter taken apart into strokes, as a hand with a broad pen would write it: each a column with two rails.

Words: where middle lines meet, the two that run on straightest are one stroke, *through* the joint; the others *end on* it.
Where a line turns a sharp corner, one stroke runs on to the edge and the other ends on it. Near a joint the middle lines of an
area sag towards its corners; a through stroke is therefore drawn across the joint as a smooth *bridge*, and one that ends
there is drawn on straight, a little into the other.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Final, TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Points
from hoopwright.needle.columns.zigzag import Spokes
from hoopwright.needle.lettering.across import across, normals_of
from hoopwright.needle.lettering.corners import split_at_corners
from hoopwright.needle.lettering.middle import drawn_on, ends_cut, even, hermite, smooth, trimmed
from hoopwright.needle.lettering.skeleton import Branch, Floats, Joint, skeleton

STATION: Final = 0.012
"""Distance between the spokes of a stroke, in parts of the height of a capital."""

OVERLAP: Final = 0.03
"""How far a stroke that ends on another reaches into it, in parts of the height of a capital."""

REST: Final = 0.35
"""Where a stroke reaches slantwise into another, it ends when only this part of its width is left outside."""

OVERLAP_PART: Final = 0.3
"""It reaches into a thin one by this part of its width only, so that threads do not heap up."""

BENT: Final = math.radians(62.0)
"""Two lines that bend by more where they meet are not one stroke."""

UNLIKE: Final = 0.5
"""A difference of widths counts like a bend of so many radians for each natural logarithm of their ratio."""

FLARE: Final = 1.3
"""A free end may be wider than its stroke by this factor."""

LEAN: Final = 1.4
"""The border lies at most so many radii from the middle line, seen square to it."""

FAR: Final = 1.0
"""Longest half width looked for, in parts of the height of a capital."""

End: TypeAlias = tuple[int, int]
"""A branch and which of its ends: 0 its start, 1 its end."""


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where a stroke ends on another: its own end (0 start, -1 end), the other's number, and the other's spoke there."""

    end: int
    other: int
    at: int


@dataclass(frozen=True, slots=True, eq=False)
class Stroke:
    """A column: its spokes in order, whether it closes on itself, and the strokes it ends on."""

    spokes: Spokes
    closed: bool
    meets: tuple[Meeting, ...] = ()

    @property
    def middle(self) -> Points:
        """The middle of every spoke."""
        return np.asarray(self.spokes.mean(axis=1), dtype=np.float64)

    @property
    def width(self) -> float:
        """The middle one of the widths."""
        return float(np.median(np.hypot(*(self.spokes[:, 1] - self.spokes[:, 0]).T)))


@dataclass(frozen=True, slots=True, eq=False)
class _Chain:
    """Branches that form one stroke: (branch, forward), in order; the joints inside it; whether it closes on itself."""

    parts: tuple[tuple[int, bool], ...]
    closed: bool


@dataclass(frozen=True, slots=True, eq=False)
class _Line:
    """A middle line with, for each place, the radius of its disc and how wide it may be: 0 as the area has it, 1 as its
    neighbours (a bridge), 2 as they at an end that is drawn on.
    """

    points: Points
    radii: Floats
    zone: Floats
    closed: bool
    ends: tuple[str, str]
    joints: tuple[int | None, int | None]


def strokes_of(area: Polygon) -> tuple[Stroke, ...]:
    """Return the strokes of one connected area, capitals 1 high."""
    branches, joints = skeleton(area)
    whole = sum(b.length for b in branches)
    if not branches or (not joints and not branches[0].closed and whole < 1.2 * branches[0].radii.max()):
        return (_blob(area),)
    branches, joints, corners = split_at_corners(area, branches, joints)
    pairs = {j: _pair(branches, joints[j], _ends_at(branches, j)) for j in joints if j not in corners}
    chains = _chains(branches, {k: v for k, v in pairs.items() if v is not None})
    owners = _owners(branches, joints, chains, pairs)
    lines = [_line(branches, joints, c, owners, k) for k, c in enumerate(chains)]
    raw = [_raw(area, line) for line in lines]
    areas = [band(s) for s in raw]
    drawn = [_finished(area, line, raw, areas, owners, k) for k, line in enumerate(lines)]
    return tuple(
        Stroke(s, line.closed, _meetings(line, drawn, owners, k))
        for k, (s, line) in enumerate(zip(drawn, lines, strict=True))
    )


def band(spokes: Spokes) -> BaseGeometry:
    """Return the area between the rails of a row of spokes."""
    quads = np.concatenate([spokes[:-1], spokes[1:, ::-1]], axis=1)
    return shapely.union_all(shapely.convex_hull(shapely.multipoints(quads)))


def _blob(area: Polygon) -> Stroke:
    """Return a dot or other compact area as one column along its longer side."""
    box = shapely.get_coordinates(shapely.oriented_envelope(area))
    sides = [box[1] - box[0], box[2] - box[1]]
    way = max(sides, key=lambda s: (round(float(np.hypot(*s)), 3), abs(float(s[0]))))
    middle = box[:4].mean(axis=0)
    points = np.linspace(middle - way * 0.499, middle + way * 0.499, max(8, int(np.hypot(*way) / STATION)))
    return Stroke(across(points, np.full(len(points), FAR), np.full(len(points), FAR), area), False)


def _ends_at(branches: tuple[Branch, ...], joint: int) -> list[End]:
    return [(k, e) for k, b in enumerate(branches) for e, j in ((0, b.start), (1, b.end)) if j == joint]


def _outward(branch: Branch, joint: Joint, end: int) -> tuple[Points, float]:
    """Return the direction in which a branch leaves a joint, and its width there, both past the joint's disc."""
    points = branch.points if end == 0 else branch.points[::-1]
    radii = branch.radii if end == 0 else branch.radii[::-1]
    off = np.hypot(*(points - joint.at).T)
    beyond = np.flatnonzero(off > joint.radius)
    first = int(beyond[0]) if len(beyond) else len(points) // 2
    last = np.flatnonzero(off > 2.2 * joint.radius)
    far = int(last[0]) if len(last) else len(points) - 1
    way = points[far] - points[min(first, max(far - 1, 0))]
    if np.hypot(*way) < 0.3 * joint.radius:
        way = points[far] - np.asarray(joint.at)
    stretch = radii[min(first, len(radii) - 1) : far + 1]
    return way / max(float(np.hypot(*way)), SAME_PLACE), float(np.median(stretch)) if len(stretch) else float(radii[-1])


def _pair(branches: tuple[Branch, ...], joint: Joint, ends: list[End]) -> tuple[End, End] | None:
    """Return the two ends at a joint that are one stroke, None when none run straight enough."""
    ways = {e: _outward(branches[e[0]], joint, e[1]) for e in ends}

    def cost(pair: tuple[End, End]) -> float:
        (one, w1), (other, w2) = (ways[e] for e in pair)
        bend = math.pi - math.acos(max(-1.0, min(1.0, float(one @ other))))
        return bend + UNLIKE * abs(math.log(w1 / w2)) if bend < BENT else math.inf

    best = min(combinations(sorted(ends), 2), key=cost, default=None)
    return best if best is not None and cost(best) < math.inf else None


def _chains(branches: tuple[Branch, ...], pairs: dict[int, tuple[End, End]]) -> tuple[_Chain, ...]:
    """Return the strokes as rows of branches."""
    mate: dict[End, End] = {}
    for a, b in pairs.values():
        mate[a], mate[b] = b, a
    left = set(range(len(branches)))
    chains = []
    starts = [e for k in range(len(branches)) for e in ((k, 0), (k, 1)) if e not in mate]
    for start in [*starts, *((k, 0) for k in range(len(branches)))]:
        if start[0] not in left:
            continue
        parts: list[tuple[int, bool]] = []
        end: End | None = start
        while end is not None and end[0] in left:
            left.remove(end[0])
            parts.append((end[0], end[1] == 0))
            end = mate.get((end[0], 1 - end[1]))
        chains.append(_Chain(tuple(parts), end is not None or branches[start[0]].closed))
    return tuple(chains)


def _owners(
    branches: tuple[Branch, ...],
    joints: dict[int, Joint],
    chains: tuple[_Chain, ...],
    pairs: dict[int, tuple[End, End] | None],
) -> dict[int, int]:
    """Return the stroke that runs through each joint, or on past it to the edge."""
    of = {k: c for c, chain in enumerate(chains) for k, _ in chain.parts}
    owners = {}
    for j, joint in joints.items():
        pair = pairs.get(j)
        if pair is not None:
            owners[j] = of[pair[0][0]]
            continue

        def rank(end: End, joint: Joint = joint) -> tuple[float, float, float]:
            way, width = _outward(branches[end[0]], joint, end[1])
            return (round(width, 2), round(abs(float(way[1])), 1), branches[end[0]].length)

        owners[j] = of[max(_ends_at(branches, j), key=rank)[0]]
    return owners


def _line(
    branches: tuple[Branch, ...], joints: dict[int, Joint], chain: _Chain, owners: dict[int, int], number: int
) -> _Line:
    """Return the middle line of a stroke: its branches clear of joints, with bridges between them, drawn on at both ends."""
    pieces, at = [], []
    for k, forward in chain.parts:
        branch = branches[k]
        points, radii = (branch.points, branch.radii) if forward else (branch.points[::-1], branch.radii[::-1])
        start, end = (branch.start, branch.end) if forward else (branch.end, branch.start)
        at.append((start, end))
        points, radii = ends_cut(points, radii, *(joints.get(j) if j is not None else None for j in (start, end)))
        if not branch.closed:
            points, radii = trimmed(points, radii, start is None, end is None)
        pieces.append((smooth(points, radii, branch.closed), radii))
    rows, zones, discs = [even(pieces[0][0], STATION)], [0.0], [pieces[0][1]]
    for (one, _), (other, radii) in pairwise(pieces):
        rows += [even(hermite(one, other), STATION), even(other, STATION)]
        zones += [1.0, 0.0]
        discs += [radii, radii]
    if chain.closed:
        if len(chain.parts) > 1 or not branches[chain.parts[0][0]].closed:
            rows.append(even(hermite(pieces[-1][0], pieces[0][0]), STATION))
            zones.append(1.0)
            discs.append(pieces[0][1])
        return _joined(rows, discs, zones, True, ("closed", "closed"), (None, None))
    first, last = at[0][0], at[-1][1]
    kinds = []
    for joint, end in ((first, 0), (last, -1)):
        kind = "free" if joint is None else ("runs on" if owners[joint] == number else "ends on")
        radius = float(pieces[end][1].max())
        reach = 3.5 * radius if joint is None else 3.2 * joints[joint].radius
        more = drawn_on(pieces[end][0], end, reach, radius, STATION)
        rows.insert(0, more[::-1]) if end == 0 else rows.append(more)
        zones.insert(0, 2.0) if end == 0 else zones.append(2.0)
        discs.insert(0, pieces[end][1]) if end == 0 else discs.append(pieces[end][1])
        kinds.append(kind)
    return _joined(rows, discs, zones, False, (kinds[0], kinds[1]), (first, last))


def _joined(
    rows: list[Points],
    discs: list[Floats],
    zones: list[float],
    closed: bool,
    ends: tuple[str, str],
    joints: tuple[int | None, int | None],
) -> _Line:
    points = np.vstack(rows)
    radii = np.concatenate([_spread(d, len(r)) for d, r in zip(discs, rows, strict=True)])
    zone = np.concatenate([np.full(len(r), z) for r, z in zip(rows, zones, strict=True)])
    steps = np.hypot(*np.diff(points, axis=0).T)
    kept = np.concatenate([[True], steps > STATION / 10.0])
    return _Line(points[kept], radii[kept], zone[kept], closed, ends, joints)


def _spread(row: Floats, count: int) -> Floats:
    """Return a row of values stretched over ``count`` places."""
    return np.asarray(np.interp(np.linspace(0, len(row) - 1, count), np.arange(len(row)), row), dtype=np.float64)


def _raw(area: Polygon, line: _Line) -> Spokes:
    """Return the spokes of a stroke where nothing of another is in the way; ends on others are left off."""
    left, right = _half_widths(area, line)
    spokes = across(line.points, left, right, area, line.closed)
    kept = np.ones(len(spokes), dtype=bool)
    for end in (0, 1):
        rows = _end_rows(line, end)
        if line.ends[end] == "ends on":
            kept[rows] = False
        elif line.ends[end] != "closed":
            kept[rows] = _until_gone(spokes[rows])
    return spokes[kept]


def _end_rows(line: _Line, end: int) -> NDArray[np.intp]:
    """Return the rows of the stretch drawn on at an end, from within outwards."""
    if line.closed:
        return np.arange(0)
    inner = np.flatnonzero(line.zone < 2.0)
    return np.arange(inner[0])[::-1] if end == 0 else np.arange(inner[-1] + 1, len(line.points))


def _until_gone(spokes: Spokes, least: float = SAME_PLACE) -> NDArray[np.bool_]:
    """Return which spokes come before the first that is shorter than ``least``, or lies apart from the one before."""
    there = np.hypot(*(spokes[:, 1] - spokes[:, 0]).T) > least
    if len(spokes) > 1:
        pieces = np.asarray(shapely.linestrings(spokes))
        there[1:] &= np.asarray(shapely.distance(pieces[1:], pieces[:-1])) < 2.0 * STATION
    return np.asarray(np.cumprod(there), dtype=bool)


def _half_widths(area: Polygon, line: _Line) -> tuple[Floats, Floats]:
    """Return how far the stroke reaches to its left and right at every place."""
    normals = normals_of(line.points, line.closed)
    border = area.boundary
    found = []
    for side in (1.0, -1.0):
        rays = shapely.linestrings(np.stack([line.points, line.points + side * FAR * normals], axis=1))
        hits = shapely.intersection(rays, border)
        off = np.asarray(shapely.distance(shapely.points(line.points), hits))
        inner = line.zone < 1.0
        off = np.where(inner, np.minimum(np.nan_to_num(off, nan=FAR), LEAN * line.radii), off)
        known = np.flatnonzero(inner)
        between = np.interp(np.arange(len(off)), known, _calm(off[known]))
        factor = np.where(line.zone == 2.0, FLARE if "free" in line.ends else 1.05, 1.02)
        limit = np.where(inner, off, factor * between)
        found.append(np.where(np.isfinite(off) & (line.zone < 2.0), np.minimum(off, limit), limit))
    return found[0], found[1]


def _calm(row: Floats) -> Floats:
    """Return a row with single values that stand out replaced by the middle one of their neighbourhood."""
    if len(row) < 5:
        return row
    padded = np.concatenate([row[:1], row[:1], row, row[-1:], row[-1:]])
    return np.asarray(np.median(np.stack([padded[k : k + len(row)] for k in range(5)]), axis=0), dtype=np.float64)


def _finished(
    area: Polygon, line: _Line, raw: list[Spokes], areas: list[BaseGeometry], owners: dict[int, int], number: int
) -> Spokes:
    """Return the spokes of a stroke drawn on into the strokes it ends on."""
    spokes = raw[number]
    left, right = _half_widths(area, line)
    for end in (0, 1):
        joint = line.joints[end]
        if line.ends[end] != "ends on" or joint is None:
            continue
        other = owners[joint]
        free = area if other == number else shapely.difference(area, _deep(areas[other], raw[other]))
        rows = np.sort(_end_rows(line, end))
        more = across(line.points[rows], left[rows], right[rows], free)
        more = more[::-1] if end == 0 else more
        more = more[_until_gone(more, REST * float(np.hypot(*(spokes[end and -1, 1] - spokes[end and -1, 0]))))]
        spokes = np.concatenate([more[::-1], spokes] if end == 0 else [spokes, more])
    return spokes


def _deep(other: BaseGeometry, spokes: Spokes) -> BaseGeometry:
    """Return the part of a stroke that those ending on it keep out of."""
    width = float(np.median(np.hypot(*(spokes[:, 1] - spokes[:, 0]).T)))
    return other.buffer(-min(OVERLAP, OVERLAP_PART * width))


def _meetings(line: _Line, drawn: list[Spokes], owners: dict[int, int], number: int) -> tuple[Meeting, ...]:
    """Return where a stroke ends on others."""
    found = []
    for end, joint in zip((0, -1), line.joints, strict=True):
        if joint is not None and line.ends[end] == "ends on" and owners[joint] != number:
            other = owners[joint]
            tip = drawn[number][end].mean(axis=0)
            at = int(np.argmin(np.hypot(*(drawn[other].mean(axis=1) - tip).T)))
            found.append(Meeting(end, other, at))
    return tuple(found)
