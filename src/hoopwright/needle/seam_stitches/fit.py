"""Fitting rows to a line: where each begins and ends, and how many repeats it has."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TypeAlias

import shapely
from shapely.geometry import LineString, Polygon

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm
from hoopwright.needle.seam_stitches.cord import cord_width
from hoopwright.needle.seam_stitches.corners import Leg, legs_of
from hoopwright.needle.seam_stitches.row import Beat, Row, has_room, opposite, whole_repeats
from hoopwright.needle.seam_stitches.stitch import SeamStitch
from hoopwright.needle.seam_stitches.table import SEAM_STITCHES
from hoopwright.needle.seam_stitches.track import Curved, Straight, track_of
from hoopwright.needle.seam_stitches.whole_ends import insets
from hoopwright.needle.working_lines import largest
from hoopwright.operations.vocabulary import OrnamentStyle

Line: TypeAlias = Straight | Curved


@dataclass(frozen=True, slots=True)
class Fit:
    """A row on its line: the track from its first to its last place, the row, and whether its sides are exchanged."""

    stitch: SeamStitch
    track: Line
    row: Row
    mirror: bool
    leg: Leg


def fits_of(path: LineString, style: OrnamentStyle, shortest: Mm) -> tuple[Fit, ...]:
    """Return the rows along a path: one, or one for each stretch between its corners; those without room are left out.

    A row over another keeps its ends and repeats.
    """
    if style.under is not None:
        below = fits_of(path, style.under, shortest)
        return tuple(fit for base in below if (fit := _over(base, style, shortest)) is not None)
    found = (_fitted(leg, style, shortest) for leg in _legs(path, style, shortest))
    return tuple(fit for fit in found if fit is not None)


def _legs(path: LineString, style: OrnamentStyle, shortest: Mm) -> Iterator[Leg]:
    """Return the stretches of the path between its corners, inside the clip: cords with all their width, if they can be."""
    path = path.reverse() if style.turn else path
    whole, cord = track_of(path), thick(style, shortest)
    clip = style.clip if style.clip is None or not cord else largest(style.clip.buffer(-cord, join_style="mitre"))
    if isinstance(whole, Straight):
        seam = LineString([whole.start, whole.end])
        line = _inside(seam, clip) or _inside(seam, style.clip)
        if line is not None:
            yield Leg(track_of(line))
        return
    line = _inside(path, clip) or _inside(path, style.clip)
    if line is not None:
        yield from legs_of(line, style.width / 2.0)


def _inside(line: LineString, clip: Polygon | None) -> LineString | None:
    """Return the longest part of a line in the clip."""
    if clip is None or clip.covers(line):
        return line
    met = shapely.get_parts(shapely.line_merge(clip.intersection(line)))
    parts = [p for p in met if isinstance(p, LineString) and not p.is_empty]
    return max(parts, key=lambda p: p.length, default=None)


def thick(style: OrnamentStyle, shortest: Mm) -> Mm:
    """Return half the width of a cord; nothing for lines of plain thread."""
    return cord_width(shortest) / 2.0 if style.weight == "corded" else 0.0


def _fitted(leg: Leg, style: OrnamentStyle, shortest: Mm) -> Fit | None:
    stitch = SEAM_STITCHES[style.stitch]
    wish, cord = stitch.wished_repeat(style.width, style.repeat), thick(style, shortest)
    length = leg.track.length
    if not has_room(length, wish) or length < 2.0 * shortest + 2.0 * cord:
        return None
    closed = _is_ring(leg, style)
    end = cord if not closed and (style.clip is None or leg.first or leg.last) else 0.0
    first, last = leg.first + end, leg.last + end
    for a, b in ((style.ease, style.ease), *_whole(stitch, leg, style, wish)):
        if has_room(length - first - last - a - b, wish):
            first, last = first + a, last + b
    if length - first - last < max(2.0 * shortest, wish * 0.3):
        return None
    track = leg.track.part(first, length - last)
    count = whole_repeats(track.length, wish, style.spacing)
    half = max(style.width / 2.0 - cord, 0.0)
    row = Row(count, track.length, half, style.spacing, style.sides, closed=closed)
    return Fit(stitch, track, row, style.mirror, leg)


def _is_ring(leg: Leg, style: OrnamentStyle) -> bool:
    """Whether a row runs all round a ring without corners and comes back to its start."""
    track = leg.track
    if isinstance(track, Straight) or leg.first or leg.last or style.ease:
        return False
    return math.dist(track.places[0], track.places[-1]) <= SAME_PLACE


def _whole(stitch: SeamStitch, leg: Leg, style: OrnamentStyle, wish: Mm) -> Iterator[tuple[Mm, Mm]]:
    """Return how far the row is moved in where a stitch that needs its width there would be squashed."""
    if style.clip is not None and stitch.whole_ends and isinstance(leg.track, Straight):
        yield insets(leg.track.room(style.clip, style.width / 2.0), wish)


def _over(base: Fit, style: OrnamentStyle, shortest: Mm) -> Fit | None:
    """Return the row over another: between the same ends, with as many repeats, or a whole number of times as many."""
    stitch, cord = SEAM_STITCHES[style.stitch], thick(style, shortest)
    track = base.track.part(cord, base.track.length - cord) if cord else base.track
    if track.length < 2.0 * shortest:
        return None
    track = track.reversed() if style.turn else track
    half = max(style.width / 2.0 - cord, 0.0)
    if style.repeat is not None:
        return Fit(stitch, track, _multiple(base.row, style, track.length, half), style.mirror, base.leg)
    bays = stitch_bays(base, shortest)
    given = tuple(_carried(b, base, cord, turned=style.turn) for b in (bays[::-1] if style.turn else bays))
    gap = style.spacing or base.row.gap
    row = Row(base.row.count, track.length, half, gap, style.sides, given, base.row.closed and not cord)
    return Fit(stitch, track, row, style.mirror, base.leg)


def stitch_bays(base: Fit, shortest: Mm) -> tuple[Beat, ...]:
    """Return the bays between the motifs of a row."""
    bays = base.stitch.bays
    return opposite(base.row) if bays is None else bays(base.row, shortest)


def _carried(bay: Beat, base: Fit, cord: Mm, *, turned: bool) -> Beat:
    """Return a bay as the row over it sees it: from the other end when it is turned, less what a cord takes at both."""
    side = -bay.side if base.mirror != turned else bay.side
    long = base.row.length
    marks = [long - bay.end, long - bay.middle, long - bay.begin] if turned else [bay.begin, bay.middle, bay.end]
    inner = long - 2.0 * cord
    begin, middle, end = (min(max(m - cord, 0.0), inner) for m in marks)
    return Beat(begin, middle, end, side)


def _multiple(below: Row, style: OrnamentStyle, length: Mm, half: Mm) -> Row:
    """Return a row with a whole number of repeats for each below, or the other way round."""
    wish = style.repeat if style.repeat is not None else below.repeat
    if wish <= below.repeat:
        count = below.count * max(1, round(below.repeat / wish))
    else:
        count = max(1, round(below.count / max(1, round(wish / below.repeat))))
    closed = below.closed and abs(length - below.length) <= SAME_PLACE
    return replace(Row(count, length, half), gap=style.spacing, sides=style.sides, closed=closed)
