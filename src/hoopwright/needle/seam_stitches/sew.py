"""Sewing a seam stitch along a straight seam."""

from __future__ import annotations

import math

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon

from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm, Point, Points, frozen_points
from hoopwright.needle.seam_stitches.holes import FINEST, Holes
from hoopwright.needle.seam_stitches.names import offer
from hoopwright.needle.seam_stitches.pen import Pen
from hoopwright.needle.seam_stitches.room import Room, free_room, local_polygon, room_inside
from hoopwright.needle.seam_stitches.row import Row, has_room, whole_repeats
from hoopwright.needle.seam_stitches.table import SEAM_STITCHES, SeamStitch
from hoopwright.needle.seam_stitches.whole_ends import insets
from hoopwright.operations.vocabulary import OrnamentStyle

DRAWING_IN_ROUNDS = 12
"""How often the room is narrowed where a stitch would still leave the clip."""

NARROWING = 0.7
"""How much of the reach is left at such a place after each round."""


def stitch_named(name: str) -> SeamStitch:
    """Return the seam stitch of this name. Raises GeometryError, with the nearest names, for an unknown one."""
    if name not in SEAM_STITCHES:
        raise GeometryError(f'there is no seam stitch "{name}"', offer(name))
    return SEAM_STITCHES[name]


def sew_seam_stitch(path: LineString, style: OrnamentStyle, shortest: Mm, longest: Mm) -> tuple[Points, ...]:
    """Return the needle positions of a seam stitch along a straight path, without locks.

    One continuous line, shape (n, 2) in mm, or nothing where the seam has no room for one repeat. Every stitch is
    between ``shortest`` and ``longest``; a ``shortest`` above half of ``longest`` counts as that half, and one below
    0.6 mm as 0.6 (holes nearer than that would cut the cloth). Where ``style.clip`` is given, arms that would leave it
    are drawn in; a seam that runs out of it is followed on its longest part inside. ``turn`` sews from the other end,
    which turns the picture half round; ``mirror`` reflects it over the seam.
    Raises GeometryError for an unknown stitch.
    """
    stitch = stitch_named(style.stitch)
    line = _inside(path, style.clip)
    if line is None:
        return ()
    start, end = (line[1], line[0]) if style.turn else line
    start, end = _with_whole_ends(stitch, start, end, style)
    return _along(stitch, start, end, style, max(FINEST, min(shortest, longest / 2.0)), longest)


def _with_whole_ends(stitch: SeamStitch, start: Point, end: Point, style: OrnamentStyle) -> tuple[Point, Point]:
    """Return the ends of the row, moved in where a stitch that needs its width there would be squashed.

    A seam that would then be too short for one repeat keeps its ends.
    """
    length = math.dist(start, end)
    wish = stitch.wished_repeat(style.width, style.repeat)
    if style.clip is None or not stitch.whole_ends or not has_room(length, wish):
        return start, end
    ex, ey = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    clip = local_polygon(style.clip, start, (ex, ey), (-ey, ex))
    first, last = insets(room_inside(clip, length, style.width / 2.0), wish)
    if not has_room(length - first - last, wish):
        return start, end
    return (start[0] + ex * first, start[1] + ey * first), (end[0] - ex * last, end[1] - ey * last)


def _inside(path: LineString, clip: Polygon | None) -> tuple[Point, Point] | None:
    """Return the ends of the longest part of the path in the clip."""
    line = LineString([path.coords[0][:2], path.coords[-1][:2]])
    if clip is not None and not clip.covers(line):
        met = shapely.get_parts(clip.intersection(line))
        parts = [p for p in met if isinstance(p, LineString) and not p.is_empty]
        if not parts:
            return None
        line = max(parts, key=lambda p: p.length)
    (x0, y0), (x1, y1) = line.coords[0][:2], line.coords[-1][:2]
    return (x0, y0), (x1, y1)


def _along(
    stitch: SeamStitch, start: Point, end: Point, style: OrnamentStyle, shortest: Mm, longest: Mm
) -> tuple[Points, ...]:
    """Sew in seam coordinates, narrow the room until all lies in the clip, and carry it to the seam."""
    length = math.dist(start, end)
    wish = stitch.wished_repeat(style.width, style.repeat)
    if not has_room(length, wish) or length < 2.0 * shortest:
        return ()
    row = Row(whole_repeats(length, wish), length, style.width / 2.0)
    ex, ey = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    side = -1.0 if style.mirror else 1.0
    along, across = (ex, ey), (-ey * side, ex * side)
    clip = None if style.clip is None else local_polygon(style.clip, start, along, across)
    room = free_room(length, row.half) if clip is None else room_inside(clip, length, row.half)
    local = _sewn(stitch, row, room, shortest, longest)
    if clip is not None:
        local = _kept_inside(stitch, row, room, local, clip, shortest, longest)
    if len(local) < 2:
        return ()
    return (frozen_points(np.array(start) + local[:, :1] * np.array(along) + local[:, 1:] * np.array(across)),)


def _sewn(stitch: SeamStitch, row: Row, room: Room, shortest: Mm, longest: Mm) -> Points:
    """Return the ornament in seam coordinates."""
    holes = Holes(shortest, longest)
    stitch.draw(Pen(room, holes), row)
    return np.array(holes.row)


def _kept_inside(
    stitch: SeamStitch, row: Row, room: Room, local: Points, clip: Polygon, shortest: Mm, longest: Mm
) -> Points:
    """Sew again with less room wherever a stitch leaves the clip (at inward corners, between two holes).

    When that does not end, the seam is followed by a plain line, which lies inside.
    """
    clip = clip.buffer(MERGE, join_style="mitre")
    shapely.prepare(clip)
    for _ in range(DRAWING_IN_ROUNDS):
        stitches = shapely.linestrings(np.stack([local[:-1], local[1:]], axis=1))
        outside = ~shapely.covers(clip, stitches)
        if not outside.any():
            return local
        places = {p for i in np.flatnonzero(outside) for p in _between(local[i], local[i + 1])}
        room = room.narrowed(sorted(places), NARROWING)
        local = _sewn(stitch, row, room, shortest, longest)
    return _sewn(stitch, row, room.closed(), shortest, longest)


def _between(a: Points, b: Points) -> list[Point]:
    """Return places along a stitch, half a millimetre apart."""
    count = max(1, math.ceil(float(np.hypot(*(b - a))) / 0.5))
    return [tuple(a + (b - a) * i / count) for i in range(count + 1)]
