"""What stands in a corner between two rows: three loops (short cords: straight stitches) that point outwards, joined to both rows where these end on the line."""

from __future__ import annotations

import math
from typing import Final

import numpy as np
import shapely
from shapely.geometry import LineString

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Degrees, Mm, Points, frozen_points
from hoopwright.needle.seam_stitches.cord import CordPen, cord_width
from hoopwright.needle.seam_stitches.corners import Corner
from hoopwright.needle.seam_stitches.fit import Fit
from hoopwright.needle.seam_stitches.holes import Holes
from hoopwright.needle.seam_stitches.pen import Pen
from hoopwright.needle.seam_stitches.room import free_room
from hoopwright.needle.seam_stitches.track import Straight
from hoopwright.operations.vocabulary import OrnamentStyle

TURNS: Final[tuple[Degrees, ...]] = (-50.0, 0.0, 50.0)
"""How far the loops lean."""

LONG: Final = 1.05
"""Length of the middle loop in half widths of the row; the leaning ones are SHORT of that."""

SHORT: Final = 0.8

ROUND: Final = 0.48
"""Width of a loop as a part of its length."""

OPEN_CORD: Final[Mm] = 6.5
"""Loops of cord shorter than this would close: straight stitches stand there instead."""

ON_LINE: Final = 0.35
"""A row is joined to the motif when its last place lies within this part of its half width of the line."""

JOIN: Final[Mm] = 2.5
"""Longest stitch of the line that joins a row to the motif."""


def joined(rows: list[tuple[Fit, Points]], style: OrnamentStyle, shortest: Mm, longest: Mm) -> tuple[Points, ...]:
    """Return the rows of a line with corners and the motifs between them, as few runs as can be."""
    runs: list[list[Points]] = []
    for k, (fit, row) in enumerate(rows):
        before = rows[k - 1] if k else None
        if before is not None and runs and _meets(before, (fit, row), style):
            runs[-1] += [_way(runs[-1][-1][-1], row[0], style, shortest)[1:], row]
        else:
            runs.append([row])
        if fit.leg.corner is not None:
            motif = _motif(fit.leg.corner, style, shortest, longest)
            if len(motif) > 1 and _leads(fit, row, motif, style):
                runs[-1] += [_way(row[-1], motif[0], style, shortest)[1:-1], motif]
            elif len(motif) > 1:
                runs.append([motif])
    if _meets(rows[-1], rows[0], style):
        runs[-1].append(_way(runs[-1][-1][-1], rows[0][1][0], style, shortest)[1:])
    return tuple(frozen_points(_spaced(np.concatenate(run), shortest)) for run in runs)


def _leads(fit: Fit, row: Points, motif: Points, style: OrnamentStyle) -> bool:
    """Whether a row ends on its line, so that a line can lead from there to the motif."""
    end = fit.track.carry((fit.track.length, 0.0))
    return style.weight != "corded" and math.dist(end, row[-1]) <= ON_LINE * style.width / 2.0 and len(motif) > 1


def _meets(before: tuple[Fit, Points], after: tuple[Fit, Points], style: OrnamentStyle) -> bool:
    """Whether the motif after one row can lead on to the next."""
    fit, row = after
    if before[0].leg.corner is None or not _leads(*before, before[1], style):
        return False
    return math.dist(fit.track.carry((0.0, 0.0)), row[0]) <= ON_LINE * style.width / 2.0


def _motif(corner: Corner, style: OrnamentStyle, shortest: Mm, longest: Mm) -> Points:
    """Return the stitches of the loops in a corner; nothing where they would leave the clip."""
    (x, y), (ox, oy) = corner.at, corner.outward
    half = style.width / 2.0
    track = Straight((x - oy * 2.0 * half, y + ox * 2.0 * half), (x + oy * 2.0 * half, y - ox * 2.0 * half))
    room, holes = free_room(track.length, 2.0 * half), Holes(shortest, longest)
    thick = cord_width(shortest) if style.weight == "corded" else 0.0
    pen = CordPen(room, holes) if thick else Pen(room, holes, 1)
    pen.start((2.0 * half, 0.0))
    long = LONG * half - thick / 2.0
    for turn in TURNS:
        angle, part = math.radians(turn), long * (1.0 if turn == 0.0 else SHORT)
        tip = (2.0 * half + part * math.sin(angle), part * math.cos(angle))
        if thick and long < OPEN_CORD:
            pen.arm(tip)
        else:
            pen.petal(tip, ROUND * part)
    pen.finish()
    placed = frozen_points([track.carry(p) for p in holes.row])
    if len(placed) > 1 and style.clip is not None and not shapely.covers(style.clip, LineString(placed)):
        return frozen_points(np.empty((0, 2)))
    return placed


def _way(a: Points, b: Points, style: OrnamentStyle, shortest: Mm) -> Points:
    """Return a straight way from a to b in even stitches, as often as lines are drawn."""
    count = max(1, min(math.ceil(float(np.hypot(*(b - a))) / JOIN), int(float(np.hypot(*(b - a))) / shortest)))
    way = a + (b - a) * (np.arange(count + 1) / count)[:, None]
    if style.weight == "fine" or count == 0:
        return np.asarray(way, dtype=np.float64)
    return np.concatenate([way, way[-2::-1], way[1:]])


def _spaced(points: Points, shortest: Mm) -> Points:
    """Return a run without the places that lie too near the one before."""
    kept = [points[0]]
    for place in points[1:]:
        if float(np.hypot(*(place - kept[-1]))) >= shortest - SAME_PLACE:
            kept.append(place)
    return np.array(kept)
