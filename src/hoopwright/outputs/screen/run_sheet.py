"""The whole run sheet as a screen plays it: what the hands do and what is sewn, with the cloth as it lies after each.

The views of the cloth are sent once each and named by their number (see hoopwright.outputs.screen.views); stitches travel apart,
in whole hundredths of a mm: see hoopwright.outputs.screen.needles.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from hoopwright.build import Build
from hoopwright.cloth.columns import columns, thickness_map
from hoopwright.cloth.materials import THICKNESS_LIMIT
from hoopwright.cloth.placing import AS_LAID
from hoopwright.cloth.shapes import Stack, united
from hoopwright.estimate.time import MachineTime
from hoopwright.items.plan import Plan
from hoopwright.needle.maps import AREA, hole_map
from hoopwright.operations.vocabulary import Flip, Fold, Hoop, Lay, Side, Trim
from hoopwright.outputs.naming import SheetName, hooping_title, name_of, sheet_names
from hoopwright.outputs.pictures.inks import thread_paint
from hoopwright.outputs.screen.frames import came_about, cloth_frame
from hoopwright.outputs.screen.moments import Moment, hooping_of, moments
from hoopwright.outputs.screen.places import hundredths, rings
from hoopwright.outputs.screen.views import Views

MOST_HOLES = 255
"""Holes at one place that are told apart; more are sent as this many."""


def run_sheet(build: Build, key: str, cuts: int | None = None) -> dict[str, Any]:
    """Return the moments of the hooping ``key``, as plain data. ``cuts`` is how many holes within the disc of the hole map cut the cloth (None: there is no cloth to cut).

    Raises KeyError for a hooping that the build does not have.
    """
    plan = build.plan
    hooping, views = hooping_of(plan, key), seen(plan, key)
    minutes = {s.index: s.machine for s in build.estimate.steps if s.hooping == key}
    shapes = _Shapes()
    rows: list[dict[str, Any]] = []
    first = run = 0
    for moment in moments(plan, key):
        rows.append({"number": moment.number, "lies": views.of(moment.after), "hooped": moment.after.hooped})
        if moment.step is None:
            rows[-1].update(_by_hand(moment, views, shapes))
            continue
        rows[-1].update(_sewn(plan, moment, shapes), first=first, run=run, minutes=round(minutes[moment.number], 4))
        first, run = first + moment.step.count, run + len(moment.step.runs)
    pace, holes = MachineTime(), hole_map(hooping)
    return {
        "key": key,
        "title": hooping_title(plan, hooping),
        "field": plan.field,
        "pace": {"speed": plan.project.machine.speed, "full": pace.full_speed, "trim": pace.trim},
        "stitches": first,
        "runs": run,
        "names": _names(plan, key, views),
        "surfaces": views.surfaces,
        "views": views.rows,
        "shapes": shapes.rows,
        "frames": dict(_frames(plan, key, views)),
        "pieced": dict(_pieced_before(plan, key, views)),
        "laces": {piece: hundredths(np.array(lace.row)) for piece, lace in views.laces.items()},
        "moments": rows,
        "holes": {"corner": holes.origin, "cell": holes.cell, "size": holes.counts.shape, "area": AREA, "cuts": cuts},
        "foot": THICKNESS_LIMIT,
    }


def thickness(build: Build, key: str, moment: int) -> list[dict[str, Any]]:
    """Return the regions of equal thickness after a moment (from 0), thinnest first: mm and rings.

    Raises KeyError for an unknown hooping, IndexError for an unknown moment.
    """
    found = moments(build.plan, key)
    if not 0 <= moment < len(found):
        raise IndexError(f"hooping {key} has moments 0 to {len(found) - 1}, but not {moment}")
    rows = thickness_map(columns(found[moment].after))
    return [{"mm": round(mm, 2), "rings": rings(region)} for mm, region in rows]


def holes(build: Build, key: str) -> bytes:
    """Return how many needle holes lie within the disc round each place of the grid that the run sheet describes: a byte each,
    columns from the left, each from below up. Raises KeyError for an unknown hooping."""
    counts = hole_map(hooping_of(build.plan, key)).counts
    return np.minimum(counts, MOST_HOLES).astype(np.uint8).tobytes()


@lru_cache(maxsize=8)
def seen(plan: Plan, key: str) -> Views:
    """Return the views of all moments of a hooping; kept while a screen looks at it."""
    views = Views(plan, hooping_of(plan, key))
    for moment in moments(plan, key):
        views.of(moment.after)
    return views


class _Shapes:
    """Collects shapes, each different one once."""

    def __init__(self) -> None:
        self.rows: list[list[list[list[float]]]] = []
        self._known: dict[bytes, int] = {}

    def of(self, shape: BaseGeometry) -> int:
        known = shapely.to_wkb(shape)
        if known not in self._known:
            self._known[known] = len(self.rows)
            self.rows.append(rings(shape))
        return self._known[known]


def _by_hand(moment: Moment, views: Views, shapes: _Shapes) -> dict[str, Any]:
    hand = moment.hand
    row: dict[str, Any] = {
        "kind": "hand",
        "work": type(hand).__name__.lower(),
        "piece": getattr(hand, "piece", None),
        "sentence": hand.sentence if hand is not None else "",
        "halt": not isinstance(hand, Hoop),
        "done": moment.done,
    }
    if isinstance(hand, Lay):
        row["laid"] = {"side": hand.side.value, "shape": shapes.of(hand.pose)}
    if isinstance(hand, Trim):
        row["cut"] = [shapes.of(s) for s in _cut(moment)]
    if isinstance(hand, Flip | Fold) and moment.done:
        row["fold"] = _fold(moment, hand, views)
    return row


def _cut(moment: Moment) -> list[BaseGeometry]:
    """Return what was cut off each sheet."""
    found: list[BaseGeometry] = []
    for sheet in moment.before.sheets:
        was, now = (united(p.region for p in s.of(sheet)) for s in (moment.before, moment.after))
        away = united([was.difference(now)])
        if not away.is_empty:
            found.append(away)
    return found


def _fold(moment: Moment, hand: Flip | Fold, views: Views) -> dict[str, Any] | None:
    """Return what goes over a line and what stays; None when nothing moves in the plane, as after turning."""
    moved = _moved(moment.before, moment.after)
    if not moved.any():
        return None
    stack = moment.after
    return {
        "line": [*hand.line[0], *hand.line[1]],
        "onto": hand.onto.value if isinstance(hand, Fold) else Side.TOP.value,
        "rest": views.without(stack, moved),
        **{side.value: views.alone(stack, moved, side) for side in Side},
    }


def _moved(before: Stack, after: Stack) -> NDArray[np.bool_]:
    """Return which layers of ``after`` lie in a way in which none of their sheet lay before."""
    return np.array([not any(p.placing.like(q.placing) for q in before.of(p.sheet)) for p in after.layers], dtype=bool)


def _sewn(plan: Plan, moment: Moment, shapes: _Shapes) -> dict[str, Any]:
    step = moment.step
    assert step is not None
    sewing, stack = step.stitch, moment.before
    caught = [s for s in stack.sheets if s in moment.caught]
    return {
        "kind": "sew",
        "role": sewing.role.value,
        "title": sewing.title,
        "sentence": sewing.sentence,
        "thread": plan.project.threads[sewing.thread].name if sewing.thread in plan.project.threads else sewing.thread,
        "colour": thread_paint(plan, sewing.thread),
        "count": step.count,
        "runs": len(step.runs),
        "catches": [[sheet, shapes.of(united(p.region for p in stack.of(sheet)))] for sheet in caught],
    }


def _names(plan: Plan, key: str, views: Views) -> dict[str, dict[str, Any]]:
    """Return what the sheets are called."""
    names = sheet_names(plan, hooping_of(plan, key))
    sheets = {s["piece"] for s in views.surfaces} | {s for m in moments(plan, key) for s in m.after.sheets}
    hooped = {p.sheet for m in moments(plan, key) for p in m.after.layers if p.foundation}
    return {sheet: _name(name_of(names, sheet), sheet in hooped) for sheet in sorted(sheets)}


def _name(name: SheetName, foundation: bool) -> dict[str, Any]:
    return {"words": name.words, "sign": name.sign, "patch": name.patch, "foundation": foundation}


def _frames(plan: Plan, key: str, views: Views) -> Iterator[tuple[str, list[float]]]:
    """Yield how the cloth of each sheet lay when it was laid, where it did not lie as the hoop does."""
    hooping = hooping_of(plan, key)
    for piece in dict.fromkeys(s["piece"] for s in views.surfaces):
        at = cloth_frame(plan, hooping, piece)
        if at != AS_LAID:
            yield piece, [at.a, at.b, at.c, at.d, at.x0, at.y0]


def _pieced_before(plan: Plan, key: str, views: Views) -> Iterator[tuple[str, str]]:
    """Yield the sections and pieced panels that are laid here, with the hooping in which each was sewn last."""
    hooping = hooping_of(plan, key)
    for piece in dict.fromkeys(s["piece"] for s in views.surfaces):
        before = came_about(plan, hooping, piece)
        if before is not None:
            yield piece, before
