"""Where places of the project file lie in the hoop.

Words: the *frame* of a panel is how its own numbers become places in the hoop: moved so that the outline's middle is the
middle of the field, turned as the panel is turned, and moved again so that what was turned is in the middle.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from shapely import affinity
from shapely.geometry import Polygon

from hoopwright.core.types import Degrees, Point
from hoopwright.piecing.outline import outline_of
from hoopwright.project.schema import PanelModel


@dataclass(frozen=True, slots=True)
class Frame:
    """How places of a panel's own numbers are brought into the hoop: moved by ``shift``, turned, moved by ``back``."""

    shift: Point = (0.0, 0.0)
    turn: Degrees = 0.0
    back: Point = (0.0, 0.0)

    def place(self, place: Point) -> Point:
        """Return where a place of the project file lies in the hoop, mm."""
        x, y = place[0] + self.shift[0], place[1] + self.shift[1]
        cosine, sine = np.cos(np.radians(self.turn)), np.sin(np.radians(self.turn))
        return float(cosine * x - sine * y) + self.back[0], float(sine * x + cosine * y) + self.back[1]


def frame_of(panel: PanelModel, drawings: Mapping[str, bytes]) -> Frame:
    """Return the frame of a panel whose outline can be used; that of an unusable one moves nothing."""
    outline, _, shift = outline_of(panel.outline, drawings)
    if outline is None:
        return Frame()
    turned = affinity.rotate(Polygon(outline.exterior.coords), panel.turn, origin=(0.0, 0.0))
    left, low, right, high = turned.bounds
    return Frame(shift, panel.turn, (0.0 - (left + right) / 2.0, 0.0 - (low + high) / 2.0))
