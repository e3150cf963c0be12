"""From spokes to needle positions: side to side, short stitches where one rail is crowded, long stitches divided.

Words: a *spoke* is a straight line across a column, from its left rail to its right one; the needle comes down on one
end of every spoke, left and right in turn. Where a column bends, the holes of its inner rail crowd: some stitches are
then *short*, ending before the rail, in depths that alternate so that no second row of holes comes to lie beside the
first. A stitch wider than the machine sews well is *divided*; the places of the divisions are spread over the column
from stitch to stitch, so that no ridge shows.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Point, Points, frozen_points

Spoke: TypeAlias = tuple[Point, Point]
Spokes: TypeAlias = NDArray[np.float64]
"""Shape (n, 2, 2): for each spoke its left and its right end, mm."""

CROWDED: Final = 0.55
"""Holes of one rail nearer than this part of the spacing are crowded (by eye)."""

AROUND: Final = 7
"""A rail is crowded for a while if more than half of so many holes about a place are."""

DEPTHS: Final = (0.28, 0.14)
"""Short stitches end these parts of the spoke before the rail, in turn (common practice, no source)."""

SPREAD: Final = 0.4
"""Divisions of a stitch are spread over this part of the length between two of them."""

GOLDEN: Final = (math.sqrt(5.0) - 1.0) / 2.0
"""Steps of this part of the spread, taken round, fill it evenly and never form a row."""


def zigzag(
    spokes: Sequence[Spoke] | Spokes, spacing: Mm, shortest: Mm, split: Mm, turns: Collection[int] = ()
) -> Points:
    """Return the needle positions over ``spokes``, shape (n, 2), mm, beginning at the left end of the first.

    ``turns`` are the numbers of the spokes that begin a new leg past a mitred corner: holes on the two sides of a mitre do not
    crowd each other.

    Spokes shorter than ``shortest`` are passed over, and no stitch is shorter; none is longer than ``split``, if the
    spokes are not so far apart that one stitch between them is.
    """
    row: list[Point] = []
    for number, place in enumerate(_ends(spokes, spacing, shortest, turns)):
        if row and math.dist(row[-1], place) < shortest:
            continue
        if row:
            row.extend(divided(row[-1], place, split, number))
        row.append(place)
    return frozen_points(row)


def _ends(spokes: Sequence[Spoke] | Spokes, spacing: Mm, shortest: Mm, turns: Collection[int]) -> Iterator[Point]:
    """Return the needle's end of every spoke that is long enough, drawn back where its rail is crowded."""
    side = 0
    last: list[Point | None] = [None, None]
    crowd = [0, 0]
    bent = _bent(spokes, spacing)
    for number, spoke in enumerate(spokes):
        if number in turns:
            side, last, crowd = 0, [None, None], [0, 0]
        (ax, ay), (bx, by) = spoke
        here: Point = (float(ax), float(ay)) if side == 0 else (float(bx), float(by))
        other: Point = (float(bx), float(by)) if side == 0 else (float(ax), float(ay))
        across = math.dist(here, other)
        if across < shortest:
            continue
        before = last[side]
        if before is not None and bent[number, side] and math.dist(before, here) < CROWDED * spacing:
            depth = min(DEPTHS[crowd[side] % len(DEPTHS)], 1.0 - shortest / across)
            crowd[side] += 1
            yield here[0] + (other[0] - here[0]) * depth, here[1] + (other[1] - here[1]) * depth
        else:
            last[side], crowd[side] = here, 0
            yield here
        side = 1 - side


def _bent(spokes: Sequence[Spoke] | Spokes, spacing: Mm) -> NDArray[np.bool_]:
    """Return for both ends of every spoke whether its rail is crowded for a while there; one slow step is no bend."""
    rails = np.asarray(spokes, dtype=np.float64).reshape(-1, 2, 2)
    bent = np.zeros((len(rails), 2), dtype=bool)
    if len(rails) > AROUND + 1:
        steps = rails[2:] - rails[:-2]
        slow = np.hypot(steps[..., 0], steps[..., 1]) < CROWDED * spacing
        for side in (0, 1):
            bent[2:, side] = np.convolve(slow[:, side], np.ones(AROUND), "same") > AROUND / 2
    return bent


def joined(rows: Sequence[Points], shortest: Mm) -> Points:
    """Return rows of needle positions as one row; where one begins nearer than ``shortest`` to the end of the one
    before, that end is left out.
    """
    whole: list[Points] = []
    for row in rows:
        if not len(row):
            continue
        while whole and math.dist(whole[-1], row[0]) < shortest:
            whole.pop()
        whole.extend(row)
    return frozen_points(np.array(whole) if whole else np.empty((0, 2)))


def apart(points: Points, shortest: Mm) -> Points:
    """Return needle positions without those nearer than ``shortest`` to the one kept before them."""
    kept: list[Points] = []
    for place in points:
        if not kept or math.dist(kept[-1], place) >= shortest:
            kept.append(place)
    return frozen_points(np.array(kept) if kept else np.empty((0, 2)))


def within(points: Points, longest: Mm) -> Points:
    """Return needle positions with every stitch longer than ``longest`` divided."""
    row = [tuple(points[0].tolist())] if len(points) else []
    for number, place in enumerate(points[1:].tolist()):
        row.extend(divided(row[-1], (place[0], place[1]), longest, number))
        row.append((place[0], place[1]))
    return frozen_points(np.array(row) if row else np.empty((0, 2)))


def divided(a: Point, b: Point, longest: Mm, number: int) -> Iterator[Point]:
    """Return the needle positions between the ends of a stitch longer than ``longest``; ``number`` spreads them.

    A stitch is divided into the fewest parts that stay within ``longest`` wherever in their spread the divisions lie.
    """
    whole = math.dist(a, b)
    if whole <= longest + SAME_PLACE:
        return
    parts = max(2, math.ceil(whole * (1.0 + SPREAD / 2.0) / longest))
    shift = ((number * GOLDEN) % 1.0 - 0.5) * SPREAD
    for k in range(1, parts):
        t = (k + shift) / parts
        yield a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t
