"""What allowances do to their neighbours: where cloth must reach, what it would hide, what is too narrow.

A flipped cloth lies on the new patch's side of its seam. Its allowance may run over a patch that was sewn earlier and
must stay visible, where the two meet in a corner or across a gap narrower than an allowance. That part has to be cut
away. A patch that reaches back behind its own seam line can only be opened when its allowance is snipped to the
seam's end.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from shapely.geometry import MultiPoint, Polygon

from hoopwright.core.tolerances import BEHIND, COVER_AREA, MERGE
from hoopwright.core.types import Mm, Points
from hoopwright.piecing.laying import Frame
from hoopwright.piecing.templates import corners_of

LEAST_AT_SEAM: Final = 3.0
"""Cloth that must lie beyond an edge which a seam catches, own or later, mm (about half a 1/4 in allowance; common
practice, no source). Never more than half the allowance."""

LEAST_AT_RIM: Final = 2.0
"""Cloth that must lie beyond the panel's outline, mm: the line that holds it is sewn 1 mm outside, and the cloth has to
reach past that (common practice, no source). Never more than half the allowance."""


@dataclass(frozen=True, slots=True, eq=False)
class Needed:
    """Where cloth must reach: every edge of the patch with a strip outside it, as wide as that edge needs.

    ``corners`` (n, 2) are those of the patch, ``moved`` (2n, 2) the ends of every edge moved outwards: those of edge i
    in rows 2i and 2i + 1. ``hull`` are the outermost of the moved ends, counter-clockwise. All in mm.
    """

    corners: Points
    moved: Points
    hull: Points

    def region(self) -> Polygon:
        """Return the area with all its strips."""
        ends = np.roll(self.corners, -1, axis=0)
        strips = np.stack([self.corners, self.moved[0::2], self.moved[1::2], ends], axis=1)
        joined = _largest(shapely.union_all([Polygon(self.corners), *(Polygon(s) for s in strips)]))
        return Polygon(self.corners if joined is None else joined.exterior)


def needed_cloth(corners: Points, outline: Polygon, allowance: Mm) -> Needed:
    """Return where the cloth of a patch must reach at least, in a panel with this ``outline``.

    ``corners`` are those of the patch, counter-clockwise, as ``corners_of`` gives them. Each edge needs its strip over its
    whole length; the corners between the strips may be missing.
    """
    ends = np.roll(corners, -1, axis=0)
    along = ends - corners
    outward = np.column_stack([along[:, 1], -along[:, 0]]) / np.hypot(along[:, 0], along[:, 1])[:, None]
    at_rim = shapely.distance(shapely.points((corners + ends) / 2.0), outline.boundary) <= MERGE
    reach = np.where(at_rim, min(LEAST_AT_RIM, allowance / 2.0), min(LEAST_AT_SEAM, allowance / 2.0))
    step = outward * reach[:, None]
    moved = np.stack([corners + step, ends + step], axis=1).reshape(-1, 2)
    return Needed(corners, moved, corners_of(MultiPoint(moved).convex_hull))  # type: ignore[arg-type]


def beyond_seam(area: Polygon, frame: Frame) -> Polygon | None:
    """Return the part of ``area`` on the wrong side of its seam line, None when there is none."""
    ring = frame.local(shapely.get_coordinates(area.exterior))
    if ring[:, 1].min() >= -BEHIND:
        return None
    far = _far(ring)
    return _largest(area.intersection(frame.box(-far, -far, far, 0.0)))


def hidden_by(template: Polygon, area: Polygon, frame: Frame, allowance: Mm, earlier: Polygon) -> tuple[Polygon, ...]:
    """Return the parts of ``earlier``, which must stay visible, that the flipped cloth would lie on; largest first.

    The flipped cloth is the template on the new side of the seam; where the area itself reaches behind the seam
    line, also the allowance round that part.
    """
    behind = beyond_seam(area, frame)
    if behind is None and frame.local(shapely.get_coordinates(earlier.exterior))[:, 1].max() <= BEHIND:
        return ()
    far = _far(frame.local(shapely.get_coordinates(template.exterior)))
    cloth = template.intersection(frame.box(-far, 0.0, far, far))
    if behind is not None:
        back = behind.buffer(allowance, join_style="mitre", mitre_limit=1.0)
        cloth = cloth.union(back.intersection(frame.box(-far, -far, far, 0.0)))
    hidden = shapely.get_parts(cloth.difference(area).intersection(earlier))
    parts = [p for p in hidden if isinstance(p, Polygon) and p.area > COVER_AREA and _away(p, frame) > BEHIND]
    return tuple(sorted(parts, key=lambda p: -float(p.area)))


def _away(shape: Polygon, frame: Frame) -> Mm:
    """Return how far a shape reaches from the line of a frame, to either side."""
    return float(np.abs(frame.local(shapely.get_coordinates(shape.exterior))[:, 1]).max())


def _far(ring: Points) -> Mm:
    """Return a length that leads out of a shape from its frame's origin in any direction."""
    return float(np.abs(ring).max()) * 2.0 + 1.0


def _largest(shape: shapely.Geometry) -> Polygon | None:
    parts = [p for p in shapely.get_parts(shape) if isinstance(p, Polygon) and p.area > COVER_AREA]
    return max(parts, key=lambda p: float(p.area), default=None)


def least_width(area: Polygon) -> Mm:
    """Return the narrowest width of a shape: the gap between two parallel rulers that just lets it through, mm."""
    ring = shapely.get_coordinates(area.convex_hull)
    along = np.diff(ring, axis=0)
    across = np.column_stack([-along[:, 1], along[:, 0]]) / np.hypot(along[:, 0], along[:, 1])[:, None]
    heights = across @ ring.T
    return float((heights.max(axis=1) - heights.min(axis=1)).min())
