"""Whether lines from somebody else's file are too tangled: untangling takes time and room for every crossing."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

import numpy as np
import shapely
from shapely.geometry import LineString

from hoopwright.core.types import Points

AT_ONCE: Final = 500
"""Pieces that are looked at together, so that the look itself takes little room."""


def is_tangled(rows: Iterable[Points], most: int, most_crossings: int | None = None) -> bool:
    """Whether more than ``most`` pairs of straight pieces of rows of points lie near each other, each pair counted twice and each piece
    with itself, or more than ``most_crossings`` pairs cross.

    Near are pieces whose boxes meet: of a plain drawing some three times as many as it has points.
    """
    ends = [np.stack([row[:-1], row[1:]], axis=1) for row in rows if len(row) > 1]
    if not ends:
        return False
    pieces = np.array([LineString(piece) for piece in np.concatenate(ends)])
    tree, near, crossings = shapely.STRtree(pieces), 0, 0
    for first in range(0, len(pieces), AT_ONCE):
        some = pieces[first : first + AT_ONCE]
        near += tree.query(some).shape[1]
        if near <= most and most_crossings is not None:
            crossings += tree.query(some, predicate="crosses").shape[1]
        if near > most or (most_crossings is not None and crossings > 2 * most_crossings):
            return True
    return False
