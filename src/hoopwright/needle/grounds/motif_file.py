"""The lines of a motif of the maker's own, read from an SVG drawing."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

import numpy as np
from shapely.geometry import LineString

from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import MERGE
from hoopwright.plane.drawing import read_drawing
from hoopwright.plane.tangle import is_tangled

MOST_NEAR: Final = 300_000
MOST_CROSSINGS: Final = 1_000
"""A motif whose lines cross more often, or lie near each other more often, is no figure to be repeated."""


@lru_cache(maxsize=16)
def motif_lines(data: bytes, name: str) -> tuple[LineString, ...]:
    """Return the lines of a drawing, mm, y up. Raises GeometryError, with a cure, for a file that cannot be used."""
    rows = [(*p.points, p.points[0]) if p.closed else p.points for p in read_drawing(data, name).paths]
    if is_tangled((np.array(row) for row in rows), MOST_NEAR, MOST_CROSSINGS):
        raise GeometryError(
            f"The lines of the drawing {name} cross each other too often", "Draw the motif with fewer lines"
        )
    return tuple(line for row in rows if len(row) > 1 and (line := LineString(row)).length > MERGE)
