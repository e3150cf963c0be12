"""Sewing a seam stitch along a straight seam or a curved line."""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import pairwise
from typing import Final

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon

from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm, Point, Points, frozen_points
from hoopwright.needle.seam_stitches.cord import CordPen
from hoopwright.needle.seam_stitches.corner_motif import joined
from hoopwright.needle.seam_stitches.fit import Fit, fits_of, thick
from hoopwright.needle.seam_stitches.holes import FINEST, Holes
from hoopwright.needle.seam_stitches.names import offer
from hoopwright.needle.seam_stitches.pen import Pen
from hoopwright.needle.seam_stitches.room import Room, local_polygon
from hoopwright.needle.seam_stitches.stitch import SeamStitch
from hoopwright.needle.seam_stitches.table import SEAM_STITCHES
from hoopwright.needle.seam_stitches.track import Straight
from hoopwright.operations.vocabulary import OrnamentStyle

DRAWING_IN_ROUNDS = 12
"""How often the room is narrowed where a stitch would still leave the clip."""

NARROWING = 0.7
"""How much of the reach is left at such a place after each round."""

TAPERED: Final = 0.3
"""How wide a row that tapers is at its very ends, as a part of its width."""

TIMES: Final = {"fine": 1, "bold": 3}
"""How often a line is drawn."""


def stitch_named(name: str) -> SeamStitch:
    """Return the seam stitch of this name. Raises GeometryError, with the nearest names, for an unknown one."""
    if name not in SEAM_STITCHES:
        raise GeometryError(f'there is no seam stitch "{name}"', offer(name))
    return SEAM_STITCHES[name]


def sew_seam_stitch(path: LineString, style: OrnamentStyle, shortest: Mm, longest: Mm) -> tuple[Points, ...]:
    """Return the needle positions of a seam stitch along a path, without locks.

    One continuous line, shape (n, 2) in mm, or nothing where there is no room for one repeat; a path with sharp corners may give
    several. Every stitch is between ``shortest`` and ``longest``; a ``shortest`` above half of ``longest`` counts as that
    half, and one below 0.6 mm as 0.6 (holes nearer than that would cut the cloth). Where ``style.clip`` is given, arms that
    would leave it are drawn in; a seam that runs out of it is followed on its longest part inside. ``turn`` sews from the
    other end, which turns the picture half round; ``mirror`` reflects it over the seam. A curved path is followed with
    all its repeats whole; at a sharp corner rows end, and a motif stands in it.
    Raises GeometryError for an unknown stitch.
    """
    for row in (style, style.under):
        if row is not None:
            stitch_named(row.stitch)
    if path.is_empty:
        return ()
    shortest = max(FINEST, min(shortest, longest / 2.0))
    rows = [row for row in _rows(path, style, shortest, longest) if len(row[1]) > 1]
    if len(rows) > 1 and style.under is None:
        return joined(rows, style, shortest, longest)
    return tuple(row for _, row in rows)


@lru_cache(maxsize=512)
def _rows(path: LineString, style: OrnamentStyle, shortest: Mm, longest: Mm) -> tuple[tuple[Fit, Points], ...]:
    """Return each row along a path with its stitches; kept, because a row over another asks for that one again."""
    below: tuple[Points, ...] = ()
    if style.under is not None:
        below = tuple(points for _, points in _rows(path, style.under, shortest, longest))
    return tuple((fit, _sewn(fit, style, shortest, longest, below)) for fit in fits_of(path, style, shortest))


def _sewn(fit: Fit, style: OrnamentStyle, shortest: Mm, longest: Mm, below: tuple[Points, ...]) -> Points:
    """Sew a row inside its clip and carry it to its line; where a cord finds no room, in plain thread."""
    for weight in dict.fromkeys((style.weight, "bold")):
        work = _Work(fit, style, weight, shortest, longest, below)
        holes = _kept_inside(work, _room(fit, style, weight, shortest))
        if holes is not None:
            return work.placed(holes)
    return work.placed(work.sewn(_room(fit, style, "bold", shortest).closed()))


def _room(fit: Fit, style: OrnamentStyle, weight: str, shortest: Mm) -> Room:
    """Return the room of a row for the middles of its lines."""
    half = style.width / 2.0
    room = fit.track.room(style.clip, half)
    room = room.mirrored() if fit.mirror else room
    thickness = thick(style, shortest) if weight == "corded" else 0.0
    return room.less(thickness).tapered(style.taper, TAPERED, half)


class _Work:
    """One row with the pen and the line it is sewn with."""

    def __init__(
        self, fit: Fit, style: OrnamentStyle, weight: str, shortest: Mm, longest: Mm, below: tuple[Points, ...]
    ) -> None:
        self.fit = fit
        self.style = style
        self.weight = weight
        self.shortest = shortest
        self.side = -1.0 if fit.mirror else 1.0
        self.longest = min(longest, max(2.0 * shortest, fit.track.longest_chord))
        self.below = self._below(below)

    def sewn(self, room: Room) -> Holes:
        """Draw the row in a room."""
        carry = None if isinstance(self.fit.track, Straight) else self._carried
        holes = Holes(self.shortest, self.longest, carry)
        holes.seed(self.below)
        pen = CordPen(room, holes) if self.weight == "corded" else Pen(room, holes, TIMES[self.weight])
        self.fit.stitch.draw(pen, self.fit.row)
        pen.finish()
        return holes

    def clip(self) -> Polygon | None:
        """Return the clip in the frame in which the holes are kept."""
        clip, track = self.style.clip, self.fit.track
        if clip is None or not isinstance(track, Straight):
            return clip
        ex, ey = track.along
        return local_polygon(clip, track.start, (ex, ey), (-ey * self.side, ex * self.side))

    def placed(self, holes: Holes) -> Points:
        """Return the needle positions on the cloth; none when there are too few for a stitch."""
        if len(holes.row) < 2:
            return frozen_points(np.empty((0, 2)))
        points = np.array(holes.row)
        if not isinstance(self.fit.track, Straight):
            return frozen_points(points)
        start, frame = self._frame()
        return frozen_points(start + points @ frame)

    def _frame(self) -> tuple[Points, Points]:
        """Return the start of a straight row and the directions along and across it, as rows."""
        track = self.fit.track
        assert isinstance(track, Straight)
        ex, ey = track.along
        return np.array(track.start), np.array([(ex, ey), (-ey * self.side, ex * self.side)])

    def _below(self, rows: tuple[Points, ...]) -> list[Point]:
        """Return the holes of the row below in the frame in which holes are kept."""
        if not rows:
            return []
        points = np.concatenate(rows)
        if isinstance(self.fit.track, Straight):
            start, frame = self._frame()
            points = (points - start) @ frame.T
        return [(x, y) for x, y in points.tolist()]

    def _carried(self, place: Point) -> Point:
        return self.fit.track.carry((place[0], place[1] * self.side))


def _kept_inside(work: _Work, room: Room) -> Holes | None:
    """Sew, and sew again with less room wherever a stitch leaves the clip (at inward corners, between two holes).

    None when that does not end.
    """
    holes, clip = work.sewn(room), work.clip()
    if clip is None or len(holes.row) < 2:
        return holes
    clip = clip.buffer(MERGE, join_style="mitre")
    shapely.prepare(clip)
    for _ in range(DRAWING_IN_ROUNDS):
        local = np.array(holes.row)
        stitches = shapely.linestrings(np.stack([local[:-1], local[1:]], axis=1))
        outside = ~shapely.covers(clip, stitches)
        if not outside.any():
            return holes
        flat = list(pairwise(holes.flat()))
        places = {p for i in np.flatnonzero(outside) for p in _between(*flat[i])}
        room = room.narrowed(sorted(places), NARROWING)
        holes = work.sewn(room)
    return None


def _between(a: Point, b: Point) -> list[Point]:
    """Return places along a stitch, half a millimetre apart."""
    count = max(1, math.ceil(math.dist(a, b) / 0.5))
    return [(a[0] + (b[0] - a[0]) * i / count, a[1] + (b[1] - a[1]) * i / count) for i in range(count + 1)]
