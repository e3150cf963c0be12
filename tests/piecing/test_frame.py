from __future__ import annotations

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.piecing.frame import frame_of
from hoopwright.piecing.patch_map import patch_map
from hoopwright.piecing.shapes import Frame
from hoopwright.project.schema import PanelModel, PolygonOutline

CORNERS = ((10.0, 5.0), (90.0, 15.0), (70.0, 80.0), (20.0, 60.0))


@given(st.floats(-360, 360))
def test_the_corners_of_an_outline_come_to_lie_where_the_turned_map_has_them(turn: float) -> None:
    """The patch map is turned by code of its own; both must agree."""
    panel = PanelModel(outline=PolygonOutline(shape="polygon", points=CORNERS), turn=turn)
    patches, _ = patch_map(panel, {})
    assert patches is not None
    frame = frame_of(panel, {})
    mine = shapely.Polygon([frame.place(c) for c in CORNERS])
    assert mine.symmetric_difference(patches.outline).area < 1e-6
    assert patches.outline.hausdorff_distance(mine) < 1e-6


def test_an_unusable_outline_moves_nothing() -> None:
    assert frame_of(PanelModel(), {}) == Frame()
    assert Frame().place((3.0, 4.0)) == pytest.approx((3.0, 4.0))
