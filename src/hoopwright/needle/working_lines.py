"""The lines that hold a pieced panel together: layout, tack-down, seams, holding line, outline.

All are drawn in hoop coordinates (mm). What each is for is common practice of the trade: a tack-down a little
outside its patch, a seam sewn on past both its ends into allowance that later seams cross, a line just outside
the finished outline.
"""

from __future__ import annotations

import math

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from hoopwright.core.tolerances import FLAT, MERGE
from hoopwright.core.types import Mm, Point
from hoopwright.piecing.shapes import PatchMap, Seam


def region_of(map_: PatchMap, letters: tuple[str, ...]) -> Polygon:
    """Return the union of the faces with these letters, its straight sides free of needless vertices."""
    return largest(shapely.union_all([map_.polygon(letter) for letter in letters]))


def largest(shape: BaseGeometry) -> Polygon:
    """Return the largest polygon in ``shape``, an empty one when there is none."""
    polygons = [p for p in shapely.get_parts(shape) if isinstance(p, Polygon)]
    return max(polygons, key=lambda p: p.area, default=Polygon())


def ring(region: Polygon, outside: Mm = 0.0) -> LineString:
    """Return the border of ``region``, moved ``outside`` mm outwards with mitred corners, as a closed line."""
    grown = region.buffer(outside, join_style="mitre", mitre_limit=2.0) if outside else region
    return LineString(grown.exterior.coords)


def layout_lines(map_: PatchMap, letters: tuple[str, ...]) -> tuple[LineString, ...]:
    """Return the outline of the section made of ``letters`` and every seam inside it."""
    inside = {map_.face(letter) for letter in letters}
    lines = [ring(region_of(map_, letters))]
    for seam in map_.seams:
        chain = map_.plane.chains[seam.chain]
        kept = [
            LineString([map_.plane.vertices[edge.start], map_.plane.vertices[edge.end]])
            for edge in (map_.plane.edges[e] for e in chain.edges)
            if edge.left in inside and edge.right in inside
        ]
        merged = shapely.line_merge(shapely.union_all(kept)) if kept else LineString()
        lines.extend(LineString([p.coords[0], p.coords[-1]]) for p in shapely.get_parts(merged) if p.length > MERGE)
    return tuple(lines)


def seam_line(seam: Seam, visible: BaseGeometry, past_end: Mm) -> LineString:
    """Return the seam sewn on ``past_end`` mm beyond both ends, but never into ``visible``, the earlier patches and
    the new one: there the thread would show.
    """
    a = _beyond(seam.end, seam.start, visible, past_end)
    b = _beyond(seam.start, seam.end, visible, past_end)
    return LineString([a, b])


def placement_path(seam: Seam, visible: BaseGeometry, stroke: Mm) -> LineString:
    """Return the seam with a stroke of length ``stroke`` square to it at each end, towards the new patch.

    The strokes show how far the raw edge lies past the seam. A stroke that would run over ``visible`` patches is left out.
    """
    length = math.dist(seam.start, seam.end)
    across = ((seam.start[1] - seam.end[1]) / length * stroke, (seam.end[0] - seam.start[0]) / length * stroke)
    ends = [(p[0] + across[0], p[1] + across[1]) for p in (seam.start, seam.end)]
    inner = visible.buffer(-FLAT)
    shown = [LineString([p, e]).intersects(inner) for p, e in zip((seam.start, seam.end), ends, strict=True)]
    head = [] if shown[0] else [ends[0]]
    tail = [] if shown[1] else [ends[1]]
    return LineString([*head, seam.start, seam.end, *tail])


def _beyond(inner: Point, end: Point, visible: BaseGeometry, past_end: Mm) -> Point:
    """Return the place up to ``past_end`` mm beyond ``end`` (coming from ``inner``) before the way enters ``visible``."""
    length = math.dist(inner, end)
    unit = ((end[0] - inner[0]) / length, (end[1] - inner[1]) / length)
    far = (end[0] + unit[0] * past_end, end[1] + unit[1] * past_end)
    near = (end[0] + unit[0] * FLAT, end[1] + unit[1] * FLAT)
    hit = LineString([near, far]).intersection(visible.buffer(-FLAT))
    if hit.is_empty:
        return far
    reach = min(math.dist(end, p) for p in shapely.get_coordinates(hit).tolist())
    reach = max(0.0, reach - FLAT)
    return (end[0] + unit[0] * reach, end[1] + unit[1] * reach)


def free_edges(area: Polygon, seam: Seam | None, outside: Mm) -> LineString:
    """Return the border of ``area`` moved ``outside`` mm outwards, without the side that lies along its seam."""
    border = ring(area, outside)
    if seam is None:
        return border
    along = LineString([seam.start, seam.end]).buffer(outside + FLAT, cap_style="flat")
    kept = shapely.line_merge(border.difference(along))
    parts = [p for p in shapely.get_parts(kept) if p.length > MERGE]
    return max(parts, key=lambda part: part.length) if parts else border
