"""Satin letters: the strokes of a letter as columns with underlay, in one thread as far as they hang together."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final

import numpy as np
from shapely.geometry import LineString

from hoopwright.core.types import Mm, Points
from hoopwright.needle.columns.rails import evenly, widened
from hoopwright.needle.columns.underlay import RUN, fitting_underlay, underlay
from hoopwright.needle.columns.zigzag import Spokes, apart, joined, within, zigzag
from hoopwright.needle.lettering.font import read_font
from hoopwright.needle.lettering.strokes import Stroke, strokes_of
from hoopwright.needle.lettering.tour import Leg, Satin, Travel, tours
from hoopwright.needle.lines import even_stitches
from hoopwright.operations.vocabulary import LetteringStyle

LEAST: Final[Mm] = 1.02
"""Narrower satin does not lie well (HANDBOOK: 1 to 7 mm); somewhat narrower strokes are sewn this wide."""

THIN: Final[Mm] = 0.5
"""A stroke drawn narrower than this is sewn as a line three times over instead."""

TIP: Final[Mm] = 0.75
"""A tip is sewn to where it is this wide; the thread itself rounds off the rest."""

TIP_PART: Final = 0.7
"""A stroke thinner than that all along ends where it falls below this part of its own width."""

CLOSE: Final[Mm] = 0.5
"""From one column to the next a stitch may be this short, so that each begins where it should."""

WIDEST: Final[Mm] = 7.0
"""Wider stitches are divided."""

ALONG: Final = 0.5
"""Sine of the angle to its stroke below which a spoke at an end lies along it (30 degrees)."""

PAST: Final = 3
"""A closed column is sewn on past its start over so many of its spokes."""

Letter = tuple[tuple[Stroke, ...], ...]


@lru_cache(maxsize=512)
def letter(font: bytes, sign: str) -> Letter:
    """Return the strokes of a character, part by part from left to right, capitals 1 high."""
    areas = sorted(read_font(font).area(sign).geoms, key=lambda p: (p.bounds[0], p.bounds[1]))
    return tuple(strokes_of(area) for area in areas)


def thread_of(strokes: Sequence[Stroke], style: LetteringStyle, shortest: Mm) -> Iterator[Points]:
    """Return the needle positions of strokes given in mm, one row for each part that hangs together."""
    for legs in tours(strokes):
        row: list[Points] = []
        path: list[Points] = []
        for leg in _moving(legs):
            if isinstance(leg, Travel):
                path.append(_way(strokes[leg.stroke], leg))
                continue
            satin = _satin(strokes[leg.stroke], leg, style, shortest)
            if len(satin):
                row.extend(_giving_way(_run(path, shortest), row[-1] if row else None, satin[0], shortest))
                row.extend(_giving_way(satin, row[-1] if row else None, None, min(shortest, CLOSE)))
                path = []
        yield within(np.array(row), WIDEST)


def _giving_way(run: Points, before: Points | None, after: Points | None, shortest: Mm) -> Points:
    """Return needle positions without the first and last of them that lie too near those before and after."""
    while len(run) and before is not None and math.dist(before, run[0]) < shortest:
        run = run[1:]
    while len(run) and after is not None and math.dist(run[-1], after) < shortest:
        run = run[:-1]
    return run


def _moving(legs: Sequence[Leg]) -> Iterator[Leg]:
    return (leg for leg in legs if not (isinstance(leg, Travel) and leg.start == leg.stop))


def _way(stroke: Stroke, leg: Travel) -> Points:
    middle = stroke.middle
    if not stroke.closed:
        return middle[leg.start : leg.stop + 1] if leg.start <= leg.stop else middle[leg.stop : leg.start + 1][::-1]
    count = len(middle)
    return middle[np.arange(leg.start, leg.stop + (count if leg.stop <= leg.start else 0) + 1) % count]


def _run(path: list[Points], shortest: Mm) -> Points:
    if not path:
        return np.empty((0, 2))
    line = LineString(np.vstack(path))
    if line.length < shortest:
        return np.empty((0, 2))
    return apart(even_stitches(line, RUN, shortest), shortest)


def _stretch(stroke: Stroke, leg: Satin) -> Spokes:
    if stroke.closed:
        count = len(stroke.spokes)
        return stroke.spokes[np.arange(leg.start, leg.start + count + PAST) % count]
    if leg.start <= leg.stop:
        return stroke.spokes[leg.start : leg.stop + 1]
    return stroke.spokes[leg.stop : leg.start + 1][::-1]


def _satin(stroke: Stroke, leg: Satin, style: LetteringStyle, shortest: Mm) -> Points:
    """Return the satin of a stretch; as a line sewn back and forth where the stroke is too thin for it."""
    spokes = _stretch(stroke, leg)
    if len(spokes) < 2:
        return np.empty((0, 2))
    width = stroke.width
    if width < THIN:
        line = even_stitches(LineString(spokes.mean(axis=1)), RUN, shortest)
        return np.vstack([line, line[-2::-1], line[1:]])
    spokes = _across(evenly(_fattened(spokes, style.pull), style.spacing))
    kind = fitting_underlay(width) if style.underlay != "none" else "none"
    below = underlay(spokes, kind, shortest) if kind in ("edges", "zigzag") else np.empty((0, 2))
    return joined([below, zigzag(spokes, style.spacing, shortest, WIDEST)], shortest)


def _fattened(spokes: Spokes, pull: Mm) -> Spokes:
    """Return spokes with the pull added, none narrower than satin must be but those of tips that run out to a point."""
    size = np.hypot(*(spokes[:, 1] - spokes[:, 0]).T)
    sewn = np.flatnonzero(size >= min(TIP, TIP_PART * float(np.median(size))))
    return widened(spokes[sewn[0] : sewn[-1] + 1], pull, LEAST)


def _across(spokes: Spokes) -> Spokes:
    """Return spokes without those at either end that lie along the stroke: there a rail bends round its end, and they would only
    pile up thread beside each other.
    """
    middle = spokes.mean(axis=1)
    way, size = np.gradient(middle, axis=0), spokes[:, 1] - spokes[:, 0]
    sines = np.abs(way[:, 0] * size[:, 1] - way[:, 1] * size[:, 0])
    across = np.flatnonzero(sines >= ALONG * np.hypot(*way.T) * np.hypot(*size.T))
    return spokes[across[0] : across[-1] + 1] if len(across) > 1 else spokes
