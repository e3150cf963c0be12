"""The needle positions of a hooping as a screen plays them, as bytes.

All words are little-endian. First four of 32 bits: FORM, the number of runs, the number of positions, 0. Then, for every run and once
more at the end, the number of its first position (32 bits); x, y of every position in hundredths of a mm (16 bits, with sign); the surface on
which the stitch to each position lies, seen from the top, then the same for the underside (16 bits each; NOWHERE: on none).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from hoopwright.build import Build
from hoopwright.cloth.columns import Shown
from hoopwright.cloth.placing import Placing
from hoopwright.cloth.shapes import Layer, united
from hoopwright.core.types import Points
from hoopwright.needle.shapes import Step
from hoopwright.operations.vocabulary import Trim
from hoopwright.outputs.screen.moments import Moment, moments
from hoopwright.outputs.screen.run_sheet import seen
from hoopwright.outputs.screen.views import Views

UNIT: Final = 100.0
"""Steps to the mm: 16 bits then reach 327 mm to each side, more than any field sold."""
FORM: Final = 1
"""The form of these bytes."""
NOWHERE: Final = 0xFFFF
NEVER: Final = 0xFFFF

Numbers = NDArray[np.intp]


def needles(build: Build, key: str) -> bytes:
    """Return the needle positions of a hooping. Raises KeyError for an unknown one."""
    views = seen(build.plan, key)
    blocks = [(m.step, m.before.layers, views.of(m.before)) for m in moments(build.plan, key) if m.step is not None]
    counts = [run.count for step, _, _ in blocks for run in step.runs]
    starts = np.concatenate([[0], np.cumsum(counts)]).astype("<u4")
    at = np.concatenate([np.empty((0, 2)), *(run.points for step, _, _ in blocks for run in step.runs)])
    owners = [_owners(step, layers, views, view) for step, layers, view in blocks]
    sides = [np.concatenate([np.empty(0, dtype=np.intp), *(o[k] for o in owners)]) for k in (0, 1)]
    gone = [_gone(moments(build.plan, key), views, starts, at, side) for side in sides]
    return b"".join(
        (
            np.array([FORM, len(counts), len(at), 0], dtype="<u4").tobytes(),
            starts.tobytes(),
            np.clip(np.round(at * UNIT), -32768, 32767).astype("<i2").tobytes(),
            *(side.astype("<u2").tobytes() for side in (*sides, *gone)),
        )
    )


def _owners(step: Step, layers: tuple[Layer, ...], views: Views, view: int) -> tuple[Numbers, Numbers]:
    """Return the surfaces on which the stitches of a block lie, from the top and from the underside."""
    runs = [r.points for r in step.runs if r.count]
    if not runs:
        return np.empty(0, dtype=np.intp), np.empty(0, dtype=np.intp)
    at = np.concatenate(runs)
    begins = np.cumsum([0, *(len(r) for r in runs[:-1])])
    top, under = views.shown[view]
    return (
        _numbered(_outer(_rows_at(top, at), begins, highest=True), top, layers, views),
        _numbered(_outer(_rows_at(under, at), begins, highest=False), under, layers, views),
    )


def _rows_at(shown: tuple[Shown, ...], at: Points) -> Numbers:
    """Return the row that shows at each position, -1 for none."""
    found = np.full(len(at), -1, dtype=np.intp)
    for number, row in enumerate(shown):
        left, below, right, above = row.region.bounds
        near = np.flatnonzero(
            (at[:, 0] >= left) & (at[:, 0] <= right) & (at[:, 1] >= below) & (at[:, 1] <= above) & (found < 0)
        )
        if len(near):
            shapely.prepare(row.region)
            found[near[shapely.intersects_xy(row.region, at[near, 0], at[near, 1])]] = number
    return found


def _outer(rows: Numbers, begins: Numbers, *, highest: bool) -> Numbers:
    """Return on which row each stitch lies: the outermost of the two under its ends, so that satin over an edge lies on the cloth."""
    before = np.concatenate([rows[:1], rows[:-1]])
    before[begins] = rows[begins]
    if highest:
        return np.asarray(np.maximum(rows, before))
    lowest = np.minimum(rows, before)
    return np.asarray(np.where(lowest < 0, np.maximum(rows, before), lowest))


def _numbered(rows: Numbers, shown: tuple[Shown, ...], layers: tuple[Layer, ...], views: Views) -> Numbers:
    table = np.array([*(views.surface(layers[s.layer], s.right) for s in shown), NOWHERE], dtype=np.intp)
    return table[rows]


def _gone(found: Sequence[Moment], views: Views, starts: NDArray[np.uint32], at: Points, owners: Numbers) -> Numbers:
    """Return the moment at which each stitch is cut off: when cloth with a part of it goes, and its middle does not lie on what stays."""
    gone = np.full(len(at), NEVER, dtype=np.intp)
    own = _own_parts(views, starts, at, owners)
    pieces = np.array([*(s["piece"] for s in views.surfaces), ""], dtype=object)[
        np.minimum(owners, len(views.surfaces))
    ]
    sewn = 0
    for number, moment in enumerate(found):
        sewn += moment.step.count if moment.step is not None else 0
        for sheet, away, stays in _cut(moment):
            there = np.flatnonzero((pieces[:sewn] == sheet) & (gone[:sewn] == NEVER))
            hit = np.any([_within(away, part[there]) for part in own], axis=0) & ~_within(stays, own[1][there])
            gone[there[hit]] = number
    return gone


def _within(region: BaseGeometry, places: Points) -> NDArray[np.bool_]:
    shapely.prepare(region)
    return np.asarray(shapely.contains_xy(region, places[:, 0], places[:, 1]))


def _own_parts(views: Views, starts: NDArray[np.uint32], at: Points, owners: Numbers) -> tuple[Points, Points, Points]:
    """Return beginnings, middles and ends of the stitches to each position, in the frames of the sheets they lie on."""
    before = np.concatenate([at[:1], at[:-1]])
    opens = starts[:-1][starts[:-1] < len(at)]
    before[opens] = at[opens]
    parts = before, (before + at) / 2.0, at.copy()
    for number in np.unique(owners[owners < len(views.surfaces)]).tolist():
        there = owners == number
        back = Placing(*views.surfaces[number]["placing"]).undone()
        for part in parts:
            part[there] = back.points(part[there])
    return parts


def _cut(moment: Moment) -> Iterator[tuple[str, BaseGeometry, BaseGeometry]]:
    """Yield the sheets that are cut at a moment, each with what is cut off and what stays in its own frame."""
    if not isinstance(moment.hand, Trim):
        return
    for sheet in moment.before.sheets:
        was, now = (
            united(p.placing.undone().shape(p.region) for p in s.of(sheet)) for s in (moment.before, moment.after)
        )
        away = shapely.difference(was, now)
        if not away.is_empty:
            yield sheet, away, now
