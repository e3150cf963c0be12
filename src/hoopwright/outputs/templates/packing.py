"""Putting rectangles on pages: a skyline that is filled from the top left, largest first, always the same way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.core.types import Mm


@dataclass(frozen=True, slots=True)
class Spot:
    """Where rectangle ``index`` lies: page from 0, its left and top edge in mm."""

    index: int
    page: int
    x: Mm
    y: Mm


@dataclass(frozen=True, slots=True)
class _Step:
    """One step of the skyline: from ``x`` on, ``width`` wide, used down to ``y``."""

    x: Mm
    width: Mm
    y: Mm


def pack(sizes: Sequence[tuple[Mm, Mm]], page: tuple[Mm, Mm], gap: Mm) -> tuple[Spot, ...]:
    """Return a place for every rectangle (width, height), all at least ``gap`` apart, in the order given.

    Largest area goes first, ties by number; a rectangle goes on the first page that still has room for it.
    Raises ValueError when one is larger than the page.
    """
    width, height = page[0] + gap, page[1] + gap
    skylines: list[list[_Step]] = []
    spots: dict[int, Spot] = {}
    for index in sorted(range(len(sizes)), key=lambda i: (-sizes[i][0] * sizes[i][1], i)):
        w, h = sizes[index][0] + gap, sizes[index][1] + gap
        if w > width or h > height:
            raise ValueError(f"a piece of {w - gap:.1f} x {h - gap:.1f} mm is larger than the page")
        spots[index] = _put(index, w, h, skylines, (width, height))
    return tuple(spots[i] for i in range(len(sizes)))


def _put(index: int, w: Mm, h: Mm, skylines: list[list[_Step]], page: tuple[Mm, Mm]) -> Spot:
    for number in range(len(skylines) + 1):
        if number == len(skylines):
            skylines.append([_Step(0.0, page[0], 0.0)])
        place = _lowest(skylines[number], w, h, page)
        if place is not None:
            skylines[number] = _raised(skylines[number], place, w, h)
            return Spot(index, number, *place)
    raise AssertionError("an empty page holds every piece that is not larger than it")


def _lowest(skyline: Sequence[_Step], w: Mm, h: Mm, page: tuple[Mm, Mm]) -> tuple[Mm, Mm] | None:
    """Return the highest free place on the paper, the leftmost of equals."""
    places = []
    for step in skyline:
        if step.x + w <= page[0]:
            under = [s.y for s in skyline if s.x < step.x + w and s.x + s.width > step.x]
            if max(under) + h <= page[1]:
                places.append((max(under), step.x))
    return min(places)[::-1] if places else None


def _raised(skyline: Sequence[_Step], place: tuple[Mm, Mm], w: Mm, h: Mm) -> list[_Step]:
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
