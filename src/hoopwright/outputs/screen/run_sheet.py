"""The whole run sheet as a screen plays it: what the hands do and what is sewn, with the cloth as it lies after each.

Words: a *moment* is one piece of handwork or one block of stitches, in the order of the work; the *view* after it is what
shows of the cloth from above and from under the hoop. Stitches travel apart from it, as whole hundredths of a mm: see
``needles``.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from hoopwright.build import Build
from hoopwright.cloth.columns import Columns, columns, thickness_map, visible
from hoopwright.cloth.replay import Bench, bench_of, carry_out, sewn
from hoopwright.cloth.shapes import Stack
from hoopwright.core.errors import GeometryError
from hoopwright.items.plan import Plan
from hoopwright.needle.maps import hole_map
from hoopwright.needle.shapes import Hooping, Step
from hoopwright.operations.vocabulary import HandWork, Hoop, Side
from hoopwright.outputs.pictures.inks import cloth_paint, thread_paint
from hoopwright.outputs.screen.draft import rings

UNIT: Final = 100.0
"""Steps to the mm in which needle positions travel: 16 bits then reach 327 mm to each side, more than any field sold."""


def run_sheet(build: Build, key: str) -> dict[str, Any]:
    """Return the moments of the hooping ``key``, as plain data. Raises KeyError for one that the build does not have."""
    plan = build.plan
    hooping = hooping_of(plan, key)
    times = {s.index: s for s in build.estimate.steps if s.hooping == key}
    bench, stack = bench_of(plan.project), Stack()
    moments: list[dict[str, Any]] = []
    first = 0
    for step in hooping.steps:
        for at, hand in enumerate(step.hands):
            stack = _done(stack, hand, bench, step.hands[at + 1 :])
            moments.append(_by_hand(plan, hand, step.index, stack))
        stack = sewn(stack, step)
        moments.append(_sewn(plan, step, stack, first, times[step.index].machine if step.index in times else 0.0))
        first += step.count
    for at, hand in enumerate(hooping.after):
        stack = _done(stack, hand, bench, hooping.after[at + 1 :])
        moments.append(_by_hand(plan, hand, len(hooping.steps) + 1, stack))
    return {
        "key": key,
        "title": hooping.title,
        "field": plan.field,
        "speed": plan.project.machine.speed,
        "moments": moments,
        "stitches": first,
    }


def needles(build: Build, key: str) -> bytes:
    """Return the needle positions of a hooping: for each run its length as two 16-bit words (low, high), then x, y, … in
    hundredths of a mm, all little-endian 16 bits. Raises KeyError like ``run_sheet``."""
    words: list[np.ndarray[Any, np.dtype[np.int16]]] = []
    for step in hooping_of(build.plan, key).steps:
        words.append(np.array([len(step.runs) & 0xFFFF, len(step.runs) >> 16], dtype="<u2").view("<i2"))
        for run in step.runs:
            words.append(np.array([run.count & 0xFFFF, run.count >> 16], dtype="<u2").view("<i2"))
            words.append(np.clip(np.round(run.points * UNIT), -32768, 32767).astype("<i2").ravel())
    return np.concatenate(words).tobytes() if words else b""


def thickness(build: Build, key: str, moment: int) -> list[dict[str, Any]]:
    """Return the regions of equal thickness after a moment (from 0), thinnest first: mm and rings."""
    return [
        {"mm": round(mm, 2), "rings": rings(region)} for mm, region in thickness_map(_columns_after(build, key, moment))
    ]


def holes(build: Build, key: str) -> dict[str, Any]:
    """Return how many needle holes there are to the square mm, on a grid: its corner, the distance of its places, columns from the left, each from below up."""
    found = hole_map(hooping_of(build.plan, key))
    return {"corner": found.origin, "cell": found.cell, "columns": np.round(found.density, 1).tolist()}


def hooping_of(plan: Plan, key: str) -> Hooping:
    """Return a hooping by its key. Raises KeyError for an unknown one."""
    found = next((h for h in plan.hoopings if h.key == key), None)
    if found is None:
        raise KeyError(key)
    return found


def _columns_after(build: Build, key: str, moment: int) -> Columns:
    """Return the columns of the stack after a moment, without the foundation's own reach."""
    hooping, bench, stack = hooping_of(build.plan, key), bench_of(build.plan.project), Stack()
    at = 0
    for step in hooping.steps:
        for k, hand in enumerate(step.hands):
            stack = _done(stack, hand, bench, step.hands[k + 1 :])
            at += 1
            if at > moment:
                return columns(stack)
        stack = sewn(stack, step)
        at += 1
        if at > moment:
            break
    return columns(stack)


def _done(stack: Stack, hand: HandWork, bench: Bench, following: tuple[HandWork, ...]) -> Stack:
    try:
        return carry_out(stack, hand, bench, following)
    except GeometryError:
        return stack


def _by_hand(plan: Plan, hand: HandWork, step: int, stack: Stack) -> dict[str, Any]:
    return {
        "kind": "hand",
        "work": type(hand).__name__.lower(),
        "step": step,
        "piece": getattr(hand, "piece", None),
        "sentence": hand.sentence,
        "halt": not isinstance(hand, Hoop),
        **_views(plan, stack),
    }


def _sewn(plan: Plan, step: Step, stack: Stack, first: int, minutes: float) -> dict[str, Any]:
    sewing = step.stitch
    return {
        "kind": "sew",
        "role": sewing.role.value,
        "step": step.index,
        "title": sewing.title,
        "sentence": sewing.sentence,
        "thread": sewing.thread,
        "colour": thread_paint(plan, sewing.thread),
        "first": first,
        "count": step.count,
        "runs": len(step.runs),
        "minutes": round(minutes, 3),
        "catches": sorted(_caught(stack, step)),
    }


def _caught(stack: Stack, step: Step) -> set[str]:
    """Return the names of the sheets that a block goes through."""
    return {name for join in stack.joins if join.step == step.index for name in (h.sheet for h in join.held)}


def _views(plan: Plan, stack: Stack) -> dict[str, Any]:
    table = columns(stack)
    return {"top": _view(plan, stack, table, Side.TOP), "under": _view(plan, stack, table, Side.UNDER)}


def _view(plan: Plan, stack: Stack, table: Columns, side: Side) -> list[dict[str, Any]]:
    rows = []
    for shown in visible(stack, side, table):
        layer = table.layers[shown.layer]
        rows.append(
            {
                "piece": shown.sheet,
                "colour": "" if layer.foundation else cloth_paint(plan, layer.cloth),
                "right": shown.right,
                "rings": rings(shown.region),
            }
        )
    return rows
