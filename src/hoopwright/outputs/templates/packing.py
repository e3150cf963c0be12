"""Putting rectangles on pages, largest first, each as near to the top or the left as it goes, always the same way.

A page is known by its *gaps*: the largest empty rectangles, which may overlap each other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from hoopwright.core.types import Mm
from hoopwright.outputs.templates.marks import Box


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a rectangle lies: page from 0, left and top edge in mm, and which of its sizes was taken."""

    page: int
    x: Mm
    y: Mm
    choice: int


def pack(choices: Sequence[Sequence[tuple[Mm, Mm]]], page: tuple[Mm, Mm], gap: Mm) -> tuple[Spot, ...]:
    """Return a place for every rectangle, all at least ``gap`` apart, in the order given.

    Each rectangle has one or more sizes (width, height): the first that fits on the first page with room is taken.
    Several orders and corners are tried; the fewest pages win, then the least filled last page, then the first tried.
    Raises ValueError when no size of a rectangle fits an empty page.
    """
    grown = [[(w + gap, h + gap) for w, h in sizes] for sizes in choices]
    empty = (0.0, 0.0, page[0] + gap, page[1] + gap)
    tries = [_packed(grown, key, down, empty) for key in _LARGEST_FIRST for down in (True, False)]
    return min(tries, key=lambda spots: _paper(spots, grown))


_Key: TypeAlias = Callable[[Mm, Mm], Mm]

_LARGEST_FIRST: tuple[_Key, ...] = (lambda w, h: w * h, max, lambda w, h: w + h, lambda _, h: h, lambda w, _: w)
"""What the largest piece may mean; ties go by number."""


def _paper(spots: Sequence[Spot], sizes: Sequence[Sequence[tuple[Mm, Mm]]]) -> tuple[int, Mm]:
    """Return the number of pages and the area used of the last one."""
    last = max((s.page for s in spots), default=-1)
    used = [sizes[i][s.choice] for i, s in enumerate(spots) if s.page == last]
    return last + 1, round(sum(w * h for w, h in used), 3)


def _packed(sizes: Sequence[Sequence[tuple[Mm, Mm]]], key: _Key, down: bool, empty: Box) -> tuple[Spot, ...]:
    order = sorted(range(len(sizes)), key=lambda i: (-round(key(*sizes[i][0]), 6), i))
    pages: list[tuple[Box, ...]] = []
    spots = {index: _put(sizes[index], pages, down, empty) for index in order}
    return tuple(spots[i] for i in range(len(sizes)))


def _put(sizes: Sequence[tuple[Mm, Mm]], pages: list[tuple[Box, ...]], down: bool, empty: Box) -> Spot:
    for number, gaps in enumerate([*pages, (empty,)]):
        for choice, (w, h) in enumerate(sizes):
            places = [(g[0], g[1]) for g in gaps if g[0] + w <= g[2] and g[1] + h <= g[3]]
            if places:
                x, y = min(places, key=lambda p: (p[1], p[0]) if down else p)
                pages[number : number + 1] = [_without(gaps, (x, y, x + w, y + h))]
                return Spot(number, x, y, choice)
    raise ValueError(f"a piece of {sizes[0][0]:.1f} x {sizes[0][1]:.1f} mm with its gap is larger than the page")


def _without(gaps: Sequence[Box], taken: Box) -> tuple[Box, ...]:
    """Return the largest empty rectangles that remain when ``taken`` is filled."""
    parts = sorted({part for g in gaps for part in _remains(g, taken)})
    return tuple(p for p in parts if not any(_inside(p, q) for q in parts if q != p))


def _remains(gap: Box, taken: Box) -> Iterator[Box]:
    left, top, right, bottom = gap
    a, b, c, d = taken
    if a >= right or c <= left or b >= bottom or d <= top:
        yield gap
        return
    if a > left:
        yield left, top, a, bottom
    if c < right:
        yield c, top, right, bottom
    if b > top:
        yield left, top, right, b
    if d < bottom:
        yield left, d, right, bottom


def _inside(inner: Box, outer: Box) -> bool:
    return inner[0] >= outer[0] and inner[1] >= outer[1] and inner[2] <= outer[2] and inner[3] <= outer[3]
