"""How large an item comes out, and what it is made for."""

from __future__ import annotations

from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from hoopwright.core.types import Mm
from hoopwright.items.plan import Plan
from hoopwright.items.registry import recipe_named
from hoopwright.items.settings import read_settings
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import EdgeStyle, HandWork, Role, Turn
from hoopwright.project.lengths import Units, show_length, show_size

APART: Final[Mm] = 1.0
"""Seams nearer than this belong to one work, mm: less than any distance between two works, more than any rounding."""


def sewn_sizes(plan: Plan) -> tuple[str, ...]:
    """Return the sizes of the sewn works of an item in words; see ``sewn_extents``."""
    return tuple(dict.fromkeys(show_size(*s, plan.project.units) for s in sewn_extents(plan)))


def sewn_extents(plan: Plan) -> tuple[tuple[Mm, Mm], ...]:
    """Return width and height of the sewn works of an item, laid flat; nothing without a closing seam.

    They are those of the outline that the closing seam or the satin edge follows, in the hooping where it is largest.
    """
    largest = max((_outline(plan, h) for h in plan.hoopings), key=_spread, default=shapely.GeometryCollection())
    if _spread(largest) <= 0.0:
        return ()
    works = shapely.get_parts(largest.buffer(APART))
    return tuple(
        (right - left - 2 * APART, high - low - 2 * APART) for left, low, right, high in (w.bounds for w in works)
    )


def _spread(outline: BaseGeometry) -> float:
    return 0.0 if outline.is_empty else float(shapely.box(*outline.bounds).area)


def _outline(plan: Plan, hooping: Hooping) -> BaseGeometry:
    """Return the lines that bound the works of a hooping: closing seams with their openings, or the satin's outer edges."""
    seams = [s.stitch for s in hooping.steps if s.stitch.role is Role.CLOSING]
    work: tuple[HandWork, ...] = (*hooping.after, *(plan.making.assembly if plan.hoopings[-1] is hooping else ()))
    edges = [s.stitch for s in hooping.steps if s.stitch.role is Role.EDGE]
    satin = [p.buffer(s.style.width / 2.0) for s in edges if isinstance(s.style, EdgeStyle) for p in s.paths]
    paths = shapely.union_all([p for s in seams for p in s.paths])
    gaps = [h.line for h in work if isinstance(h, Turn) and seams and h.line.distance(paths) <= APART]
    return shapely.union_all([paths, *gaps, *satin])


def size_words(plan: Plan) -> str:
    """Return what an item measures and what it is made for, in sentences; nothing when neither is known."""
    sizes, contents = sewn_sizes(plan), _contents(plan)
    said = [f"The sewn body measures about {' and '.join(sizes)}, laid flat."] if sizes else []
    said += [f"It is made for contents of {contents} (width, length, thickness)."] if contents else []
    return " ".join(said)


def _contents(plan: Plan) -> str:
    recipe, _ = recipe_named(plan.project.item)
    settings, _ = read_settings(recipe, plan.project.make) if recipe else (None, ())
    inside = getattr(settings, "contents", None)
    units = plan.project.units
    shown = [show_length(mm, units).removesuffix(f" {units}") for mm in inside or ()]
    return f"{' × '.join(shown)} {units}" if shown else ""


def opening_words(hand: HandWork, units: Units) -> str:
    """Return how wide the opening is through which the work is turned; nothing for other hand work."""
    return f" The opening is {show_length(hand.line.length, units)} wide." if isinstance(hand, Turn) else ""
