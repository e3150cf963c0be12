"""Do needle holes stand in a row like those of a stamp, along which the cloth tears?

Words: a *row* is a chain of different holes, each at most PITCH from the next; a *ring* is a row that closes on itself
round a piece of cloth.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components, minimum_spanning_tree, shortest_path
from scipy.spatial import cKDTree

from hoopwright.checks.sites import on_cloth, where
from hoopwright.core.findings import Finding, Severity
from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Mm, Mm2, Points
from hoopwright.items.plan import Plan
from hoopwright.needle.needlework import Needlework, needlework

PITCH: Final[Mm] = 0.25
"""Holes nearer than this run into each other: a third of the blade of a needle 75. Satin stands at 0.4 +-0.05 (docs/sources.md),
on the inside of bends a little closer; the limit itself is from experience, no source."""
LONGEST: Final[Mm] = 5.0
"""A longer row tears (common practice, no source)."""
THIN: Final = 1.6
"""A row's links are together at most so many times as long as its way from end to end; what is broader is no row: its holes
lie dense, which HW604 tells."""
LEAST_PIECE: Final[Mm2] = 1.0
"""A ring round less is one hole."""


def rows_do_not_tear(plan: Plan) -> tuple[Finding, ...]:
    """HW609: a row of holes longer than LONGEST; HW610: a ring of holes. One of each a hooping, the longest."""
    return tuple(f for h in on_cloth(plan) for f in _of_hooping(needlework(h)))


def _of_hooping(work: Needlework) -> Iterator[Finding]:
    holes = work.at[work.holes]
    rows = [(row, _punched(holes[row])) for row in _chains(holes)]
    rings = [(area, row) for row, area in rows if area >= LEAST_PIECE]
    if rings:
        area, row = max(rings, key=lambda r: (r[0], -int(r[1][0])))
        yield _ring(work, work.holes[row], area)
    open_rows = [(_length(holes[row]), row) for row, area in rows if area < LEAST_PIECE]
    long_rows = [(length, row) for length, row in open_rows if length > LONGEST]
    if long_rows:
        length, row = max(long_rows, key=lambda r: (r[0], -int(r[1][0])))
        yield _row(work, work.holes[row], length)


def _chains(holes: Points) -> Iterator[NDArray[np.intp]]:
    """Yield the holes of every chain that may be long enough to matter."""
    pairs = _pairs(holes)
    least = int(min(LONGEST, 2.0 * np.sqrt(np.pi * LEAST_PIECE)) / PITCH)
    if len(pairs) < least:
        return
    links = coo_array((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(len(holes), len(holes)))
    _, chain = connected_components(links, directed=False)
    for number in np.flatnonzero(np.bincount(chain) >= least):
        yield np.flatnonzero(chain == number)


def _pairs(holes: Points) -> NDArray[np.intp]:
    if len(holes) < 2:
        return np.empty((0, 2), dtype=np.intp)
    return np.asarray(cKDTree(holes).query_pairs(PITCH + SAME_PLACE, output_type="ndarray"))


def _length(row: Points) -> Mm:
    """Return the way from end to end of a row, mm; 0 when the holes are no row but a patch."""
    pairs = _pairs(row)
    ways = np.hypot(*(row[pairs[:, 0]] - row[pairs[:, 1]]).T)
    links = coo_array((ways, (pairs[:, 0], pairs[:, 1])), shape=(len(row), len(row))).tocsr()
    tree = minimum_spanning_tree(links)
    end = int(np.argmax(shortest_path(tree, directed=False, indices=0)))
    length = float(shortest_path(tree, directed=False, indices=end).max())
    return length if float(tree.sum()) <= THIN * length else 0.0


def _punched(row: Points) -> Mm2:
    """Return the area of the largest piece of cloth that a chain of holes runs round, mm2."""
    if np.ptp(row, axis=0).min() <= PITCH:
        return 0.0
    whole = shapely.union_all(shapely.buffer(shapely.points(row), PITCH / 2.0 + SAME_PLACE, quad_segs=2))
    return max((shapely.Polygon(hole).area for p in shapely.get_parts(whole) for hole in p.interiors), default=0.0)


def _row(work: Needlework, row: NDArray[np.intp], length: Mm) -> Finding:
    site, _ = where(work, row, work.place(int(row[len(row) // 2])))
    message = f"A row of needle holes {length:.0f} mm long, none more than {PITCH:g} mm from the next, tears like the edge of a stamp"
    cure = "Sew this line fewer times, with longer stitches, or set its spacing wider; lines that run over each other: move one."
    return Finding("HW609", Severity.WARNS, message, cure, site)


def _ring(work: Needlework, row: NDArray[np.intp], area: Mm2) -> Finding:
    site, _ = where(work, row, work.place(int(row[0])))
    message = (
        f"A ring of needle holes, none more than {PITCH:g} mm from the next, runs round {area:.0f} square millimetres of cloth: "
        "they would drop out"
    )
    cure = "Make the ring larger or its stitches longer, set its spacing wider, or sew it fewer times."
    return Finding("HW610", Severity.WARNS, message, cure, site)
