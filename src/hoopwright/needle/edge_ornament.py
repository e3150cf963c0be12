"""The row of decorative stitches along the inside of a panel's outline."""

from __future__ import annotations

from typing import Final

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.polygon import orient

from hoopwright.core.findings import Finding, Where
from hoopwright.core.types import Mm
from hoopwright.needle.ornament_findings import no_edge, sides_of, too_narrow
from hoopwright.needle.ornament_site import EDGE, PLAIN, Ornament
from hoopwright.needle.seam_stitches import SEAM_STITCHES, SeamStitch, has_room
from hoopwright.needle.working_lines import largest
from hoopwright.operations.vocabulary import OrnamentStyle
from hoopwright.project.lengths import Units
from hoopwright.project.schema import EdgeStitchModel

PART_OF_PANEL: Final = 0.2
"""A proposed width is at most this part of the panel's inscribed diameter (by eye)."""

CLIP: Final[Mm] = 0.5
"""Stitches of the row may come this much nearer to the outline than its distance, as the ends of slanting ones do."""

INSCRIBED: Final[Mm] = 0.5
"""How precisely the inscribed diameter of a panel is found."""


def edge_ornament(
    wish: EdgeStitchModel | None, outline: Polygon, thread: str | None, units: Units
) -> tuple[Ornament | None, tuple[Finding, ...]]:
    """Return the row along the outline, or nothing where none is asked for or there is no room, and what to tell.

    Its path runs counter-clockwise, so that its left side is the inner one; it begins at the top.
    """
    stitch = SEAM_STITCHES.get(PLAIN if wish is None else wish.stitch)
    if wish is None or stitch is None:
        return None, ()
    width = _width(wish, stitch, outline)
    inside = wish.distance + width / 2.0
    lane = largest(outline.buffer(-inside, join_style="mitre"))
    room = outline.buffer(CLIP - wish.distance, join_style="mitre")
    if lane.is_empty or lane.buffer(-width).is_empty:
        return None, (no_edge(stitch, units, inside),)
    path = _from_top(lane)
    if not has_room(path.length, 2.0 * stitch.wished_repeat(width, wish.repeat)):
        return None, (no_edge(stitch, units, inside),)
    style = OrnamentStyle(
        stitch.name,
        width,
        wish.repeat,
        wish.mirror,
        wish.turn,
        largest(room),
        sides_of(stitch, wish.sides),
        wish.spacing,
        wish.ease,
        wish.taper,
        wish.weight,
    )
    found = _about_width(wish, stitch, units)
    return Ornament(EDGE, path, style, wish.thread or thread, f"{stitch.title} along the outline"), found


def _about_width(wish: EdgeStitchModel, stitch: SeamStitch, units: Units) -> tuple[Finding, ...]:
    least = stitch.least(wish.weight)
    if wish.width is None or wish.width >= least:
        return ()
    where = Where(path="panel.edge_stitch.width")
    return (too_narrow(f"{stitch.title} along the outline", wish.width, least, where, units),)


def _width(wish: EdgeStitchModel, stitch: SeamStitch, outline: Polygon) -> Mm:
    if wish.width is not None:
        return wish.width
    across = 2.0 * float(shapely.length(shapely.maximum_inscribed_circle(outline, INSCRIBED)))
    return max(stitch.least(wish.weight), min(stitch.usual(wish.weight), PART_OF_PANEL * across))


def _from_top(lane: Polygon) -> LineString:
    """Return the ring round a polygon, counter-clockwise, from its highest place nearest to its middle."""
    ring = np.asarray(orient(lane).exterior.coords)[:-1, :2]
    x, top = lane.centroid.x, ring[:, 1].max()
    line = LineString(np.vstack([ring, ring[:1]]))
    start = line.project(shapely.Point(x, top))
    place = line.interpolate(start)
    travelled = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(np.vstack([ring, ring[:1]]), axis=0).T))])
    k = int(np.searchsorted(travelled, start, side="right"))
    return LineString(np.vstack([[[place.x, place.y]], ring[k:], ring[:k], [[place.x, place.y]]]))
