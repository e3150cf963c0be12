"""Grounds as continuous lines."""

from __future__ import annotations

from typing import Final

import shapely
from shapely.geometry import LineString, MultiPolygon, Polygon

from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import LEAST_OUTLINE_AREA
from hoopwright.core.types import Mm
from hoopwright.needle.grounds.shapes import GroundWish
from hoopwright.needle.grounds.table import GROUNDS
from hoopwright.needle.routing import one_walk

CRUMB: Final = 1.0
"""A line shorter than so many spacings is a crumb: not worth its locks and the cut of its thread (by eye)."""


def ground_lines(region: Polygon | MultiPolygon, kind: str, margin: Mm, wish: GroundWish) -> tuple[LineString, ...]:
    """Return the lines of a ground, ``margin`` mm inside ``region``, each sewn without a break, in sewing order.

    A region that falls into parts gives the lines of each part after those of the one before; where a part has no more room
    than for a crumb of the pattern, it stays plain. Raises GeometryError for
    an unknown kind.
    """
    if kind not in GROUNDS:
        raise GeometryError(f'there is no ground "{kind}"', f"Use one of {', '.join(GROUNDS)}")
    ground = GROUNDS[kind]
    inner = region.buffer(-margin, join_style="mitre") if margin else region
    lines: list[LineString] = []
    for part in shapely.get_parts(inner):
        if isinstance(part, Polygon) and part.area >= LEAST_OUTLINE_AREA:
            drawn = ground.draw(part, wish)
            lines.extend(one_walk(drawn, ground.meeting) if ground.network and drawn else drawn)
    return tuple(line for line in lines if line.length >= CRUMB * wish.spacing)
