"""Are columns of satin neither too narrow nor too wide? Measured from the stitches, whatever they were meant to be.

Words: a *column* is a stretch of stitches that go to and fro, each coming back beside the one before; its *axis* is the way
it grows; a *swing* is two stitches, over and back.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from hoopwright.checks.sites import where
from hoopwright.core.findings import Finding, Severity
from hoopwright.core.tolerances import MACHINE_STEP, SAME_PLACE
from hoopwright.core.types import Mm, Points
from hoopwright.items.plan import Plan
from hoopwright.needle.needlework import Needlework, needlework
from hoopwright.operations.vocabulary import Role

BACK: Final = -0.5
"""Cosine of the turn from which a stitch comes back beside the one before."""
LEAST_GROWTH: Final[Mm] = 0.05
"""A swing that grows by less is one stitch sewn over and over, as in a bean stitch."""
MOST_GROWTH: Final[Mm] = 1.0
"""A swing that grows by more is an open zigzag: no satin, and what it crosses shows through."""
LEAST_SWINGS: Final = 8
"""Fewer swings are no column."""
LEAST_TRAVEL: Final[Mm] = 1.2
"""A knot is no column: it is sewn to and fro across a spot 1 to 2 mm wide, and its swings go round in it."""
SMOOTHED: Final = (0.5, 1.0, 1.0, 1.0, 0.5)
"""The axis at a swing is the way of the swings round it, so weighed that every second or fourth stitch may end short."""
NARROWEST: Final[Mm] = 1.0
WIDEST: Final[Mm] = 7.0
"""Widths of satin that sew well, 1 to 7 mm (common practice, no source)."""
PUSH: Final[Mm] = 0.3
"""How far a column is pushed out at its open ends: stitches that pull its sides together make it longer (common practice, no
source)."""


@dataclass(frozen=True, slots=True, eq=False)
class Column:
    """The needle positions of one column in order, (n,), and the width of each of its swings, (n - 2,), mm."""

    positions: NDArray[np.intp]
    widths: NDArray[np.float64]

    @property
    def width(self) -> Mm:
        """The usual width."""
        return float(np.median(self.widths))


def satin(work: Needlework) -> NDArray[np.bool_]:
    """Return for each needle position of a hooping whether it belongs to a swing of satin."""
    start, _, _ = _swings(work)
    of_satin = np.zeros(len(work.at), dtype=bool)
    for further in (0, 1, 2):
        of_satin[start + further] = True
    return of_satin


def _swings(work: Needlework) -> tuple[NDArray[np.intp], Points, Points]:
    """Return where each swing of satin begins, its first stitch, and how it grows."""
    pairs = np.flatnonzero(np.diff(work.first) == 1)
    start = work.first[pairs]
    over, back = work.at[start + 1] - work.at[start], work.at[start + 2] - work.at[start + 1]
    grown = over + back
    growth = np.hypot(grown[:, 0], grown[:, 1])
    product = work.lengths[pairs] * work.lengths[pairs + 1]
    swings = (over * back).sum(axis=1) <= BACK * product
    swings &= (growth >= LEAST_GROWTH) & (growth <= MOST_GROWTH) & (product > SAME_PLACE)
    return start[swings], over[swings], grown[swings]


def columns_of(work: Needlework) -> tuple[Column, ...]:
    """Return every column of a hooping, in sewing order."""
    start, over, grown = _swings(work)
    if not len(start):
        return ()
    parts = np.split(np.arange(len(start)), np.flatnonzero(np.diff(start) != 1) + 1)
    return tuple(
        Column(np.arange(start[part[0]], start[part[-1]] + 3), _widths(over[part], grown[part]))
        for part in parts
        if len(part) >= LEAST_SWINGS
        and _travels(work.at[start[part]] + work.at[start[part] + 1] * 2.0 + work.at[start[part] + 2])
    )


def _travels(middles: Points) -> bool:
    """Whether swings, given by four times the places of their middles, go anywhere: those of a knot stay on one spot."""
    return float(np.hypot(*np.ptp(middles / 4.0, axis=0))) > LEAST_TRAVEL


def _widths(over: Points, grown: Points) -> NDArray[np.float64]:
    """Return how far each stitch goes square to the axis, which is that of a few swings, for single stitches may end short."""
    x, y = np.convolve(grown[:, 0], SMOOTHED, "same"), np.convolve(grown[:, 1], SMOOTHED, "same")
    return np.asarray(np.abs(over[:, 0] * y - over[:, 1] * x) / np.maximum(np.hypot(x, y), SAME_PLACE))


def columns_sew_well(plan: Plan) -> tuple[Finding, ...]:
    """HW614 a column narrower than NARROWEST, HW615 one wider than WIDEST, HW618 one whose end is pushed over the outline.

    One of each a step, the worst.
    """
    outlines = {panel.key: panel.outline for panel in plan.panels}
    found: list[Finding] = []
    for hooping in plan.hoopings:
        work = needlework(hooping)
        columns = columns_of(work)
        for number in np.unique([work.step[c.positions[0]] for c in columns]).astype(int).tolist():
            of_step = [c for c in columns if work.step[c.positions[0]] == number]
            found += [*_narrow(work, of_step), *_wide(work, of_step)]
            if hooping.panel in outlines and hooping.steps[number].stitch.role is not Role.EDGE:
                found += _pushed_out(work, of_step, outlines[hooping.panel])
    return tuple(found)


def _narrow(work: Needlework, columns: list[Column]) -> Iterator[Finding]:
    worst = min(columns, key=lambda c: c.width)
    if worst.width >= NARROWEST - MACHINE_STEP / 2.0:
        return
    middle = len(worst.widths) // 2
    site, role = where(work, worst.positions, work.place(int(worst.positions[middle])))
    message = f"A column of satin is only {worst.width:.1f} mm wide: under {NARROWEST:g} mm its holes lie so close that they cut"
    cure = "Make it wider, or sew a line of bean stitches in its place."
    if role is Role.LETTERING:
        cure = "Make the letters larger, choose a font with broader strokes, or leave the font out: single lines are then sewn."
    yield Finding("HW614", Severity.WARNS, message, cure, site)


def _wide(work: Needlework, columns: list[Column]) -> Iterator[Finding]:
    worst = max(columns, key=lambda c: float(c.widths.max()))
    most = int(np.argmax(worst.widths))
    if worst.widths[most] <= WIDEST + MACHINE_STEP:
        return
    site, _ = where(work, worst.positions, work.place(int(worst.positions[most])))
    message = f"A column of satin is {worst.widths[most]:.1f} mm wide: threads over {WIDEST:g} mm lie loose and catch on things"
    cure = "Make it narrower, or divide its stitches, so that each is held once on its way across."
    yield Finding("HW615", Severity.WARNS, message, cure, site)


def _pushed_out(work: Needlework, columns: list[Column], outline: Polygon) -> Iterator[Finding]:
    ends = [end for column in columns for end in (column.positions, column.positions[::-1])]
    last = np.concatenate([work.at[end[-2:]] for end in ends])
    pushed = last + np.repeat([_axis(work.at[end[-6:]]) * PUSH for end in ends], 2, axis=0)
    inside, stays = (shapely.contains_xy(outline, p[:, 0], p[:, 1]).reshape(-1, 2).all(axis=1) for p in (last, pushed))
    over = np.flatnonzero(inside & ~stays)
    if not len(over):
        return
    end = ends[int(over[0])]
    site, _ = where(work, end, work.place(int(end[-1])))
    message = f"The end of a column of satin lies less than {PUSH:g} mm inside the outline: sewing pushes it out, over the edge"
    yield Finding("HW618", Severity.WARNS, message, f"End it at least {PUSH:g} mm further inside.", site)


def _axis(end: Points) -> Points:
    """Return the direction in which a column grows at its end, (2,)."""
    middles = (end[:-1] + end[1:]) / 2.0
    way = middles[-1] - middles[0]
    return np.asarray(way / max(float(np.hypot(*way)), SAME_PLACE), dtype=np.float64)
