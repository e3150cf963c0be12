"""Putting rectangles on pages: a skyline that is filled from the top left, largest first, always the same way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.core.types import Mm


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a rectangle lies: page from 0, left and top edge in mm, and which of its sizes was taken."""

    page: int
    x: Mm
    y: Mm
    choice: int


@dataclass(frozen=True, slots=True)
class _Step:
    """One step of the skyline: from ``x`` on, ``width`` wide, used down to ``y``."""

    x: Mm
    width: Mm
    y: Mm


def pack(choices: Sequence[Sequence[tuple[Mm, Mm]]], page: tuple[Mm, Mm], gap: Mm) -> tuple[Spot, ...]:
    """Return a place for every rectangle, all at least ``gap`` apart, in the order given.

    Each rectangle has one or more sizes (width, height): the first that fits on the first page with room is taken.
    Largest area goes first, ties by number. Raises ValueError when no size of a rectangle fits an empty page.
    """
    order = sorted(range(len(choices)), key=lambda i: (-choices[i][0][0] * choices[i][0][1], i))
    skylines: list[list[_Step]] = []
    spots: dict[int, Spot] = {}
    for index in order:
        grown = [(w + gap, h + gap) for w, h in choices[index]]
        spots[index] = _put(grown, skylines, (page[0] + gap, page[1] + gap))
    return tuple(spots[i] for i in range(len(choices)))


def _put(sizes: Sequence[tuple[Mm, Mm]], skylines: list[list[_Step]], page: tuple[Mm, Mm]) -> Spot:
    empty = [_Step(0.0, page[0], 0.0)]
    for number, skyline in enumerate([*skylines, empty]):
        for choice, (w, h) in enumerate(sizes):
            place = _highest(skyline, w, h, page)
            if place is not None:
                skylines[number : number + 1] = [_filled(skyline, place, w, h)]
                return Spot(number, *place, choice)
    raise ValueError(f"a piece of {sizes[0][0]:.1f} x {sizes[0][1]:.1f} mm with its gap is larger than the page")


def _highest(skyline: Sequence[_Step], w: Mm, h: Mm, page: tuple[Mm, Mm]) -> tuple[Mm, Mm] | None:
    """Return the free place nearest to the top of the paper, the leftmost of equals."""
    places = []
    for step in skyline:
        if step.x + w <= page[0]:
            y = max(s.y for s in skyline if s.x < step.x + w and s.x + s.width > step.x)
            if y + h <= page[1]:
                places.append((y, step.x))
    return min(places)[::-1] if places else None


def _filled(skyline: Sequence[_Step], place: tuple[Mm, Mm], w: Mm, h: Mm) -> list[_Step]:
    """Return the skyline with a rectangle added at ``place``."""
    left, right = place[0], place[0] + w
    rest = [_Step(left, w, place[1] + h)]
    for s in skyline:
        if s.x < left:
            rest.append(_Step(s.x, min(s.width, left - s.x), s.y))
        if s.x + s.width > right:
            start = max(s.x, right)
            rest.append(_Step(start, s.x + s.width - start, s.y))
    return sorted(rest, key=lambda s: s.x)
