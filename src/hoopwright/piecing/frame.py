"""Where places of the project file lie in the hoop.

Words: the *frame* of a panel is how its own numbers become places in the hoop: moved so that the outline's middle is the
middle of the field, turned as the panel is turned, and moved again so that what was turned is in the middle.
"""

from __future__ import annotations

from collections.abc import Mapping

from shapely import affinity
from shapely.geometry import Polygon

from hoopwright.piecing.outline import outline_of
from hoopwright.piecing.shapes import Frame
from hoopwright.project.schema import PanelModel


def frame_of(panel: PanelModel, drawings: Mapping[str, bytes]) -> Frame:
    """Return the frame of a panel whose outline can be used; that of an unusable one moves nothing."""
    outline, _, shift = outline_of(panel.outline, drawings)
    if outline is None:
        return Frame()
    turned = affinity.rotate(Polygon(outline.exterior.coords), panel.turn, origin=(0.0, 0.0))
    left, low, right, high = turned.bounds
    return Frame(shift, panel.turn, (0.0 - (left + right) / 2.0, 0.0 - (low + high) / 2.0))
