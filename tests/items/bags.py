"""Projects and stacks for tests of bags."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import shapely

from hoopwright.cloth.columns import visible
from hoopwright.cloth.replay import after_hands, bench_of, replay
from hoopwright.cloth.shapes import Stack
from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import HandWork, Lay, Side
from hoopwright.project.schema import Project

CLOTHS = {
    "indigo": {"name": "indigo twill", "colour": "#2f4468"},
    "reed": {"name": "reed green linen", "colour": "#7d8a52"},
    "madder": {"name": "madder red cotton", "colour": "#a2412f"},
    "sailcloth": {"name": "unbleached sailcloth", "colour": "#d9ccae", "kind": "lining"},
    "felt": {"name": "firm felt", "colour": "#b9b6ad", "thickness": 1.2, "kind": "stiffener"},
    "tape": {"name": "herringbone tape", "colour": "#e7dfc8", "thickness": 0.5, "kind": "ribbon"},
}


def project(item: str, make: Mapping[str, object] | None = None, **more: object) -> Project:
    """Return a project of this item with these settings; ``more`` are further tables of the project file."""
    base: dict[str, object] = {
        "title": "Ferry bag",
        "item": item,
        "make": dict(make or {}),
        "cloths": CLOTHS,
        "threads": {
            "slate": {"name": "slate", "colour": "#56606b"},
            "chalk": {"name": "chalk white", "colour": "#f4f1e6"},
        },
        "guides": {"layout": "slate", "seam": "chalk", "hold": "chalk", "outline": "slate"},
    }
    return Project.model_validate({**base, **more})


def stacks(plan: Plan, hooping: Hooping | None = None) -> tuple[Stack, ...]:
    """Return the stacks of a hooping (the last one): after every step, and when everything in the hoop is done."""
    return replay(hooping or plan.hoopings[-1], bench_of(plan.project))


def finished(plan: Plan, hooping: Hooping | None = None, assembly: Sequence[HandWork] | None = None) -> Stack:
    """Return the stack when the assembly is done, too."""
    hands = plan.making.assembly if assembly is None else assembly
    return after_hands(stacks(plan, hooping)[-1], tuple(hands), bench_of(plan.project))


def shows(stack: Stack, side: Side) -> set[tuple[str, bool]]:
    """Return which sheets show on a side, and whether their right sides do; specks of less than a mm2 are left out."""
    return {(s.sheet, s.right) for s in visible(stack, side) if s.region.area > 1.0}


def caught(stack: Stack, sheet: str) -> float:
    """Return over what length the last line of stitches holds a sheet, layers counted one by one, mm."""
    return sum(h.length for h in stack.joins[-1].held if h.sheet == sheet)


def lays(hooping: Hooping) -> dict[str, Lay]:
    """Return the layings of a hooping by piece."""
    return {h.piece: h for s in hooping.steps for h in s.hands if isinstance(h, Lay)}


def size(shape: shapely.Polygon) -> tuple[float, float]:
    """Return width and height of a shape."""
    left, low, right, high = shape.bounds
    return right - left, high - low
