"""Where cloth lies before it is flipped.

A patch is laid right side down over the earlier work. Its body lies on the earlier side of the seam line, mirrored;
its cut edge, the *raw edge*, reaches one allowance over the line on to the new patch's own area. The machine sews
along the line, and the flip turns the body over it. Mirroring over the seam line therefore leads from the flipped
cloth to the laid cloth and back.

A *frame* measures along (u) and across (v) a line: v is positive on its left, which for a seam is the new patch.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import Polygon

from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import COVER, MERGE
from hoopwright.core.types import Degrees, Mm, Point, Points
from hoopwright.piecing.shapes import Seam


@dataclass(frozen=True, slots=True)
class Frame:
    """Coordinates along and across a line through ``origin`` (mm) with the unit direction ``along``."""

    origin: Point
    along: Point

    @property
    def angle(self) -> Degrees:
        """Direction of the line in degrees."""
        return math.degrees(math.atan2(self.along[1], self.along[0]))

    def local(self, points: Points) -> Points:
        """Return (u, v) of points in the hoop, shape (n, 2), mm."""
        (x, y), (c, s) = self.origin, self.along
        dx, dy = points[:, 0] - x, points[:, 1] - y
        return np.column_stack([c * dx + s * dy, c * dy - s * dx])

    def hoop(self, points: Points) -> Points:
        """Return places in the hoop of (u, v) points, shape (n, 2), mm."""
        (x, y), (c, s) = self.origin, self.along
        u, v = points[:, 0], points[:, 1]
        return np.column_stack([x + c * u - s * v, y + s * u + c * v])

    def mirror(self, points: Points) -> Points:
        """Return points in the hoop mirrored over the line, shape (n, 2), mm."""
        return self.hoop(self.local(points) * np.array([1.0, -1.0]))

    def box(self, left: Mm, low: Mm, right: Mm, high: Mm) -> Polygon:
        """Return the rectangle from (left, low) to (right, high) in (u, v) as a polygon in the hoop."""
        return Polygon(self.hoop(np.array([(left, low), (right, low), (right, high), (left, high)], dtype=np.float64)))


def seam_frame(seam: Seam) -> Frame:
    """Return the frame of a seam: origin at its start, v positive in the new patch.

    Raises GeometryError when the seam has no length.
    """
    dx, dy = seam.end[0] - seam.start[0], seam.end[1] - seam.start[1]
    length = math.hypot(dx, dy)
    if length <= MERGE:
        raise GeometryError("a seam has no length", "Give it two different ends")
    return Frame(seam.start, (dx / length, dy / length))


def angled_frame(origin: Point, angle: Degrees) -> Frame:
    """Return the frame at ``origin`` whose u axis has the direction ``angle``."""
    turn = math.radians(angle)
    return Frame(origin, (math.cos(turn), math.sin(turn)))


def mirrored(shape: Polygon, seam: Seam | None) -> Polygon:
    """Return ``shape`` mirrored over the seam line, or unchanged without a seam.

    It maps flipped cloth to laid cloth and laid cloth to flipped cloth.
    """
    return shape if seam is None else shapely.transform(shape, seam_frame(seam).mirror)


def raw_edge(template: Polygon, seam: Seam, allowance: Mm) -> tuple[Point, Point]:
    """Return the cut edge that lies one allowance over the seam line, as the cloth lies before flipping.

    Its ends run in the seam's direction. It is the whole straight edge of the template there, as long as it lies
    beside the seam; where the template has no such edge, the seam itself moved by the allowance.
    """
    frame = seam_frame(seam)
    low, high = _edge_beside(frame.local(shapely.get_coordinates(template.exterior)), seam, allowance)
    ends = frame.hoop(np.array([(low, allowance), (high, allowance)]))
    return (float(ends[0, 0]), float(ends[0, 1])), (float(ends[1, 0]), float(ends[1, 1]))


def _edge_beside(ring: Points, seam: Seam, allowance: Mm) -> tuple[Mm, Mm]:
    """Return the range of u of the ring's edge at v = -allowance that touches the range of the seam."""
    length = math.dist(seam.start, seam.end)
    on = np.abs(ring[:, 1] + allowance) <= COVER
    pairs = [sorted((float(ring[i, 0]), float(ring[i + 1, 0]))) for i in range(len(ring) - 1) if on[i] and on[i + 1]]
    beside = [p for p in pairs if p[0] < length and p[1] > 0.0]
    if not beside:
        return 0.0, length
    return min(p[0] for p in beside), max(p[1] for p in beside)
