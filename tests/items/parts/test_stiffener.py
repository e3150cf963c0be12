from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, box

from hoopwright.items.parts.stiffener import FOLD_GAP, cutting_hooping, inset_parts, stiffener_pieces
from hoopwright.items.recipe import NoSettings, Workshop
from hoopwright.operations.vocabulary import Lay, Trim
from tests.items.bags import project


@given(st.floats(60, 200), st.floats(1, 8), st.floats(0.3, 4), st.floats(-10, 20))
def test_both_parts_keep_off_the_seam_and_the_fold(width: float, inset: float, thickness: float, fold: float) -> None:
    outline = box(-width / 2, -60, width / 2, 60)
    below, above = inset_parts(outline, inset, fold, thickness)
    gap = max(2 * inset, FOLD_GAP * thickness)
    line = LineString([(-200, fold), (200, fold)])
    assert abs(below.distance(above) - gap) < 1e-9
    for part in (below, above):
        assert outline.contains(part)
        assert abs(part.distance(outline.exterior) - inset) < 1e-9
        assert part.distance(line) >= inset - 1e-9
    height = 120 - 2 * inset - gap
    assert abs(below.area + above.area - (width - 2 * inset) * height) < 1e-6


def test_the_cutting_file_leaves_exactly_the_parts() -> None:
    shop = Workshop(project("panel"), NoSettings())
    pieces = stiffener_pieces(box(-40, -60, 40, 60), 2.0, 10.0, "felt", 1.2)
    hooping = cutting_hooping(shop, pieces, "pouch")
    sheet = next(o for o in hooping.operations if isinstance(o, Lay)).pose
    waste = next(o for o in hooping.operations if isinstance(o, Trim)).away
    assert waste is not None
    assert abs(sheet.difference(waste).area - sum(p.cut.area for p in pieces)) < 1e-6
    assert len(waste.interiors) == 2
