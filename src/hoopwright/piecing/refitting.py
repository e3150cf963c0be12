"""Cuts and lines carried along when a panel's outline is changed.

They grow with the box round the outline; ends that lay on the old outline are brought along their own line onto the new one,
so that what met inside meets there still.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Final, TypeAlias

import shapely
from shapely.geometry import LineString, Polygon

from hoopwright.core.tolerances import FLAT, MERGE
from hoopwright.core.types import Mm, Point
from hoopwright.piecing.shapes import Frame, PatchMap

Stroke: TypeAlias = tuple[Point, Point]

ON_RIM: Final[Mm] = 0.3
"""An end this near to the outline lies on it: what hands draw is written to hundredths, and outlines are arcs of chords."""


def box_map(old: Polygon, new: Polygon) -> Callable[[Point], Point]:
    """Return the map that takes the box round the old outline to that round the new one."""
    left, low, right, high = old.bounds
    to_left, to_low, to_right, to_high = new.bounds
    wider, higher = (to_right - to_left) / (right - left), (to_high - to_low) / (high - low)
    return lambda p: (to_left + (p[0] - left) * wider, to_low + (p[1] - low) * higher)


def refitted(strokes: Iterable[Stroke], old: Polygon, new: Polygon) -> tuple[Stroke, ...]:
    """Return strokes for another outline, all in the same numbers. One that no longer meets it only grows with its box."""
    to = box_map(old, new)
    return tuple(_refitted((a, b), old, new, to) for a, b in strokes)


def _refitted(stroke: Stroke, old: Polygon, new: Polygon, to: Callable[[Point], Point]) -> Stroke:
    grown = (to(stroke[0]), to(stroke[1]))
    through = _chord(new, grown)
    if through is None:
        return grown
    rim = shapely.get_exterior_ring(old)
    on_rim = [rim.distance(shapely.Point(p)) <= ON_RIM for p in stroke]
    a, b = (through[k] if on_rim[k] else grown[k] for k in (0, 1))
    return a, b


def _chord(ring: Polygon, stroke: Stroke) -> Stroke | None:
    """Return where the endless line of a stroke leaves the ring on both sides of the stroke's middle; None when that is outside."""
    (ax, ay), (bx, by) = stroke
    length = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
    middle = ((ax + bx) / 2.0, (ay + by) / 2.0)
    if length < MERGE or not ring.contains(shapely.Point(middle)):
        return None
    left, low, right, high = ring.bounds
    far = (right - left) + (high - low)
    unit = ((bx - ax) / length, (by - ay) / length)
    ends = [(middle[0] + s * far * unit[0], middle[1] + s * far * unit[1]) for s in (-1.0, 1.0)]
    parts = shapely.get_parts(shapely.intersection(LineString(ends), ring))
    here = next((p for p in parts if p.distance(shapely.Point(middle)) <= FLAT), None)
    if here is None or here.geom_type != "LineString":
        return None
    start, end = here.coords[0], here.coords[-1]
    if (end[0] - start[0]) * unit[0] + (end[1] - start[1]) * unit[1] < 0:
        start, end = end, start
    return (start[0], start[1]), (end[0], end[1])


def brought(map_: PatchMap, frame: Frame, to: Callable[[Point], Point], new: Frame) -> PatchMap:
    """Return a map as its patches and seams lie when they only grow with the box: what is compared with the new map."""

    def place(p: Point) -> Point:
        return new.place(to(frame.file_place(p)))

    faces = tuple(Polygon([place((x, y)) for x, y in f.exterior.coords]) for f in map_.plane.faces)
    seams = tuple(replace(s, start=place(s.start), end=place(s.end)) for s in map_.seams)
    return replace(map_, plane=replace(map_.plane, faces=faces), seams=seams)
