"""The lines of a motif of the maker's own, read from an SVG drawing."""

from __future__ import annotations

from functools import lru_cache

from shapely.geometry import LineString

from hoopwright.core.tolerances import MERGE
from hoopwright.plane.drawing import read_drawing


@lru_cache(maxsize=16)
def motif_lines(data: bytes, name: str) -> tuple[LineString, ...]:
    """Return the lines of a drawing, mm, y up. Raises GeometryError, with a cure, for a file that cannot be used."""
    rows = [(*p.points, p.points[0]) if p.closed else p.points for p in read_drawing(data, name).paths]
    return tuple(line for row in rows if len(row) > 1 and (line := LineString(row)).length > MERGE)
