"""Proofs of the opening: that there is one, wide enough, and straight."""

from __future__ import annotations

from typing import Final

import numpy as np
import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from hoopwright.cloth.course import Course, Turning
from hoopwright.cloth.replay import Undone
from hoopwright.cloth.shapes import united
from hoopwright.cloth.sheet_error import in_words
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.tolerances import MERGE
from hoopwright.core.types import Mm
from hoopwright.items.parts.opening import ROLL_RADIUS, half_girth_of_box, half_girth_rolled
from hoopwright.operations.vocabulary import Turn

BENT: Final[Mm] = 0.5
"""An opening that leaves its chord by more than this lies on a curve, mm: folded edges along it pucker (from memory)."""


def handwork_can_be_done(course: Course) -> tuple[Finding, ...]:
    """HW550: the work cannot be turned. HW530: other handwork that cannot be done."""
    return tuple(_not_done(course, undone) for undone in course.undone)


def _not_done(course: Course, undone: Undone) -> Finding:
    hand = undone.hand
    if isinstance(hand, Turn):
        message = f"The work cannot be turned: {in_words(undone.error, course.name)}"
        return course.finding("HW550", message, f"{undone.error.cure}.", at=hand.line)
    told = hand.sentence.rstrip(".")
    where = Where(operation=min(undone.step, len(course.hooping.steps)), hooping=course.hooping.key)
    message = f"What the hands are told cannot be done (“{told}”): {in_words(undone.error, course.name)}"
    return Finding("HW530", Severity.BLOCKS, message, f"{undone.error.cure}.", where)


def openings_are_fit(course: Course) -> tuple[Finding, ...]:
    """HW551: an opening too narrow for what must pass. HW552: an opening on a curve that is closed afterwards."""
    return tuple(f for turning in course.turnings for f in (*_narrow(course, turning), *_bent(course, turning)))


def _narrow(course: Course, turning: Turning) -> tuple[Finding, ...]:
    wide, least = turning.turn.line.length, least_width(course, turning)
    if wide >= least - MERGE:
        return ()
    message = f"An opening of {course.length(wide)} is too narrow: what must pass through it, rolled up, needs {course.length(least)}"
    cure = "Make the opening wider, or choose a thinner stiffener."
    return (course.finding("HW551", message, cure, at=turning.turn.line),)


def least_width(course: Course, turning: Turning) -> Mm:
    """Return half the girth of what must pass: the work rolled up along its narrow side, or flat if that is less, mm."""
    layers = turning.stack.layers
    whole, stiff = united(p.region for p in layers), [p for p in layers if course.kind(p) == "stiffener"]
    if whole.is_empty:
        return 0.0
    thick = sum(p.region.area * p.thickness for p in layers) / whole.area
    core = ROLL_RADIUS * max((p.thickness for p in stiff), default=0.0)
    width = _narrow_side([p.region for p in stiff] or [_turned_part(course, turning, whole)])
    return min(half_girth_rolled(width, thick, core), half_girth_of_box(width, thick))


def _turned_part(course: Course, turning: Turning, whole: BaseGeometry) -> BaseGeometry:
    """Return the one of several works of a hooping that the opening belongs to; ``whole`` where nothing is told of them."""
    parts = shapely.get_parts(course.look.area) if course.look is not None else [whole]
    return min(parts, key=lambda part: float(part.distance(turning.turn.line)), default=whole)


def _narrow_side(regions: list[BaseGeometry]) -> Mm:
    left, low, right, high = shapely.total_bounds(regions)
    return float(min(right - left, high - low))


def _bent(course: Course, turning: Turning) -> tuple[Finding, ...]:
    line = turning.turn.line
    closed = any(c.line.hausdorff_distance(line) <= 1.0 for c in course.closes)
    off = line.hausdorff_distance(LineString([line.coords[0], line.coords[-1]]))
    turns = shapely.get_coordinates(line)
    if not closed or off <= BENT or not np.isfinite(turns).all():
        return ()
    message = f"The opening lies on a curve: it leaves the straight line by {course.length(off)}"
    cure = "Put it on a straight stretch of the seam."
    return (course.finding("HW552", message, cure, at=line),)
