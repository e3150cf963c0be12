"""Does an accent hold together when its base is gone? Proved from its needle positions, whatever drew them.

Four things are asked of the net of threads: that it is one piece; that no single stretch of thread alone holds a part of it
(it is two-edge-connected), so that no line of the lattice ends in the air either; that every column is held at both its ends
by something else; and that columns close round everything. What is not asked: how strong a thread is.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import Final

import numpy as np
import shapely
from scipy.spatial import cKDTree
from shapely.geometry import LineString, Point

from hoopwright.core.tolerances import MACHINE_STEP, MERGE
from hoopwright.core.types import Mm, Points
from hoopwright.core.types import Point as Place
from hoopwright.needle.accents.columns_seen import Seen, across, closed_round, columns_seen
from hoopwright.needle.accents.thread_net import ThreadNet, bridges, thread_net

THREAD_END: Final[Mm] = 3.0
"""The two ends of a run may stand out of the net by so much: they are locked under or in a column, and cut off (by eye)."""

STANDS_OUT: Final[Mm] = 0.5
"""Any turn of the thread may stand out by so much past the last thread that crosses it: a thread's width (docs/sources.md)."""

END: Final[Mm] = 2.0
"""What counts as the end of a column, mm from its last stitch, or a third of its length."""

PAST_EDGE: Final = 0.6
"""A column is cut across by this part of its width to each side: the whole of it and a little beyond."""


class Flaw(StrEnum):
    """What keeps an accent from holding together."""

    PIECES = "falls into pieces"
    BRIDGE = "hangs by one thread"
    FREE_LINE = "a line ends in the air"
    FREE_COLUMN = "a column is held at one end only"
    OPEN_RIM = "no rim closes round everything"


@dataclass(frozen=True, slots=True)
class Fault:
    """A flaw, where it is worst (mm), and how many such there are."""

    flaw: Flaw
    at: Place
    count: int = 1


def faults_of(rows: tuple[Points, ...]) -> tuple[Fault, ...]:
    """Return why an accent sewn as these runs (shape (n, 2) each, without locks) does not hold together; empty when it does."""
    net = thread_net(rows)
    columns = tuple(c for row in rows for c in columns_seen(row))
    return (*_pieces(net), *_bridges(net, rows, columns), *_free_columns(net, columns), *_open_rim(rows))


@lru_cache(maxsize=256)
def faults_of_rows(rows: tuple[tuple[Place, ...], ...]) -> tuple[Fault, ...]:
    """Return the faults of runs given as rows of places; kept, for the same accent is proved again and again."""
    return faults_of(tuple(np.array(row, dtype=np.float64) for row in rows))


def _pieces(net: ThreadNet) -> tuple[Fault, ...]:
    parts = net.parts()
    count = int(parts.max()) + 1
    if count == 1:
        return ()
    smallest = int(np.argmin(np.bincount(parts)))
    return (Fault(Flaw.PIECES, _place(net.places[int(np.argmax(parts == smallest))]), count),)


def _bridges(net: ThreadNet, rows: tuple[Points, ...], columns: tuple[Seen, ...]) -> tuple[Fault, ...]:
    """Return what hangs by one thread: parts, and lines that end in the air.

    The ends of the runs may stand out by THREAD_END, and the thread turns in the holes of a column as it must.
    """
    turns = cKDTree(np.vstack([np.empty((0, 2)), *(c.points for c in columns)])) if columns else None
    ends = cKDTree(np.vstack([row[[0, -1]] for row in rows]))
    widest = max((c.width for c in columns), default=0.0)
    degrees = net.degrees()
    lines, parts = [], []
    for stretch in bridges(net):
        tips = net.places[[k for k in net.ends[stretch].tolist() if degrees[k] == 1]]
        line = net.stretches[stretch]
        if len(tips) and line.length <= STANDS_OUT:
            continue
        if not len(tips):
            parts.append(_place(line.interpolate(0.5, normalized=True).coords[0]))
        elif not (line.length <= THREAD_END and _all_near(ends, tips)) and not (
            turns is not None and line.length <= widest and _all_near(turns, tips)
        ):
            lines.append(_place(tips[0]))
    found = [Fault(Flaw.BRIDGE, parts[0], len(parts))] if parts else []
    return (*found, *((Fault(Flaw.FREE_LINE, lines[0], len(lines)),) if lines else ()))


def _all_near(tree: cKDTree, places: Points) -> bool:
    return bool(np.all(tree.query(places)[0] <= 2.0 * MERGE))


def _free_columns(net: ThreadNet, columns: tuple[Seen, ...]) -> tuple[Fault, ...]:
    """Return the columns of which an end comes off when the column is cut across a little before it."""
    tree = shapely.STRtree(net.stretches)
    free = [place for column in columns for place in _free_ends(net, tree, column)]
    return (Fault(Flaw.FREE_COLUMN, free[0], len(free)),) if free else ()


def _free_ends(net: ThreadNet, tree: shapely.STRtree, column: Seen) -> list[Place]:
    whole = column.middle.length
    end = min(max(END, column.width), whole / 3.0)
    free = []
    for at, hole in ((end, column.points[1]), (whole - end, column.points[-2])):
        kept = np.ones(len(net.stretches), dtype=bool)
        kept[tree.query(across(column.middle, at, PAST_EDGE * column.width), predicate="intersects")] = False
        parts = net.parts(kept)
        outer = net.ends[int(tree.nearest(Point(hole))), 0]
        if parts[outer] != np.argmax(np.bincount(parts)):
            free.append(_place(hole))
    return free


def _open_rim(rows: tuple[Points, ...]) -> tuple[Fault, ...]:
    """Return the place furthest outside what the columns close round."""
    whole = closed_round([c.place() for row in rows for c in columns_seen(row, parted=False)]).buffer(MACHINE_STEP)
    outside = shapely.union_all([LineString(row) for row in rows]).difference(whole)
    if outside.is_empty:
        return ()
    far = shapely.get_coordinates(outside)
    away = shapely.distance(shapely.points(far), whole)
    return (Fault(Flaw.OPEN_RIM, _place(far[int(np.argmax(away))])),)


def _place(place: Points | tuple[float, ...]) -> Place:
    return float(place[0]), float(place[1])
