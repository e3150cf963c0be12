"""Rows of seam stitches for tests, and what is measured on them."""

from __future__ import annotations

from typing import Literal, TypeAlias

import numpy as np
from scipy.spatial import KDTree
from shapely.geometry import LineString

from hoopwright.core.types import Points
from hoopwright.needle.seam_stitches import SEAM_STITCHES, sew_seam_stitch
from hoopwright.operations.vocabulary import OrnamentStyle

DISC = 13
"""Four holes a square millimetre, evenly spread, put at most so many into a disc of 1 mm radius (calculated)."""


def straight(length: float) -> LineString:
    """Return a seam from (0, 0) along the x axis."""
    return LineString([(0.0, 0.0), (length, 0.0)])


Weight: TypeAlias = Literal["fine", "bold", "corded"]


def style_of(name: str, weight: Weight = "bold", **more: object) -> OrnamentStyle:
    """Return a stitch in its usual width."""
    width = more.pop("width", SEAM_STITCHES[name].usual(weight))
    return OrnamentStyle(name, width, weight=weight, **more)  # type: ignore[arg-type]


def sew(path: LineString, style: OrnamentStyle, shortest: float = 1.0, longest: float = 7.0) -> Points:
    """Return the stitches of a row that is one run."""
    (points,) = sew_seam_stitch(path, style, shortest, longest)
    return points


def gaps(points: Points) -> Points:
    """Return the lengths of all stitches."""
    return np.asarray(np.hypot(*np.diff(points, axis=0).T), dtype=np.float64)


def holes_of(*rows: Points) -> Points:
    """Return the different holes, on the machine's grid of a tenth of a millimetre."""
    return np.asarray(np.unique(np.round(np.concatenate(rows) / 0.1), axis=0) * 0.1, dtype=np.float64)


def most_in_a_disc(*rows: Points) -> int:
    """Return the most holes in a disc of 1 mm radius about any place of a grid of half a millimetre; 0 without rows."""
    if not rows:
        return 0
    holes = holes_of(*rows)
    steps = np.arange(-1.0, 1.01, 0.5)
    around = np.array([(x, y) for x in steps for y in steps])
    places = np.unique((np.round(holes / 0.5)[:, None] * 0.5 + around[None]).reshape(-1, 2), axis=0)
    return int(np.max(KDTree(holes).query_ball_point(places, 1.0 - 1e-9, return_length=True)))


def thickest(*rows: Points) -> float:
    """Return the most thread, mm a square millimetre, in any square of 2 mm on a grid of 1 mm."""
    marks = (np.arange(28) + 0.5) / 28
    first, last = np.concatenate([r[:-1] for r in rows]), np.concatenate([r[1:] for r in rows])
    lengths = np.repeat(np.hypot(*(last - first).T) / 28, 28)
    places = (first[:, None] + (last - first)[:, None] * marks[None, :, None]).reshape(-1, 2)
    most = 0.0
    for shift in ((0.0, 0.0), (0.0, 1.0), (1.0, 0.0), (1.0, 1.0)):
        _, index = np.unique(np.floor((places + shift) / 2.0).astype(int), axis=0, return_inverse=True)
        most = max(most, float(np.bincount(index.ravel(), lengths).max()) / 4.0)
    return most


def farthest(points: Points, others: Points) -> float:
    """Return how far the farthest of some places lies from the nearest of others."""
    off, _ = KDTree(others).query(points)
    return float(np.max(off))
