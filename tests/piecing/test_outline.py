from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon

from hoopwright.core.findings import Finding, Severity
from hoopwright.piecing.outline import outline_of
from hoopwright.project.schema import PanelModel, PolygonOutline


def outline(
    fields: dict[str, Any], drawings: dict[str, bytes] | None = None
) -> tuple[Polygon | None, tuple[Finding, ...]]:
    polygon, findings, _ = outline_of(PanelModel.model_validate({"outline": fields}).outline, drawings or {})
    return polygon, findings


def good(fields: dict[str, Any], drawings: dict[str, bytes] | None = None) -> Polygon:
    polygon, findings = outline(fields, drawings)
    assert polygon is not None, findings
    assert findings == ()
    assert polygon.is_valid and polygon.exterior.is_ccw
    left, low, right, high = polygon.bounds
    assert (left + right, low + high) == pytest.approx((0, 0), abs=1e-9)
    return polygon


def bad(fields: dict[str, Any], drawings: dict[str, bytes] | None = None) -> Finding:
    polygon, (finding,) = outline(fields, drawings)
    assert polygon is None
    assert finding.severity is Severity.BLOCKS and finding.cure
    assert finding.where.path is not None and finding.where.path.startswith("panel.outline")
    return finding


def size(polygon: Polygon) -> tuple[float, float]:
    left, low, right, high = polygon.bounds
    return right - left, high - low


def test_areas_of_the_named_shapes() -> None:
    # rounding a corner takes away (1 - pi/4) r^2
    corner = (1 - math.pi / 4) * 20**2
    assert good({"shape": "rectangle", "width": 100, "height": 80}).area == 8000
    rounded = good({"shape": "rectangle", "width": 100, "height": 80, "radius": 20})
    assert rounded.area == pytest.approx(8000 - 4 * corner, abs=2)
    flap = good({"shape": "flap", "width": 108, "height": 100, "radius": 20})
    assert flap.area == pytest.approx(10800 - 2 * corner, abs=1)
    assert Point(-54, 50).distance(flap) == 0 and Point(-54, -50).distance(flap) == pytest.approx(
        20 * (2**0.5 - 1), abs=0.03
    )
    assert good({"shape": "ellipse", "width": 120, "height": 90}).area == pytest.approx(math.pi * 60 * 45, rel=1e-3)
    tongue = good({"shape": "tongue", "width": 100, "height": 130, "tip": 50})
    assert tongue.area == pytest.approx(100 * 80 + 100 * 50 / 2)


@settings(deadline=None)
@given(
    width=st.floats(20, 300), height=st.floats(20, 300), tip=st.just(0.0) | st.floats(0.05, 1), radius=st.floats(0, 1)
)
def test_a_tongue_keeps_its_size_and_bulges_nowhere(width: float, height: float, tip: float, radius: float) -> None:
    tip *= height
    x = width / 2
    largest = x if tip >= x or tip == 0 else (x * x + tip * tip) / (2 * tip)
    polygon = good(
        {"shape": "tongue", "width": width, "height": height, "tip": tip, "radius": radius * min(largest, 9000.0)}
    )
    assert size(polygon) == pytest.approx((width, height), abs=0.03)
    assert polygon.convex_hull.area == pytest.approx(polygon.area, rel=1e-6)


def test_a_tongue_may_end_in_a_half_circle() -> None:
    polygon = good({"shape": "tongue", "width": 60, "height": 100, "tip": 30, "radius": 30})
    assert polygon.area == pytest.approx(60 * 70 + math.pi * 900 / 2, rel=1e-3)


def test_a_polygon_is_moved_to_the_middle_and_says_by_how_much() -> None:
    model = PanelModel.model_validate(
        {"outline": {"shape": "polygon", "points": [[10, 10], [10, 50], [70, 50], [70, 10]]}}
    )
    polygon, _, shift = outline_of(model.outline, {})
    assert polygon is not None
    assert shift == (-40, -30)
    assert polygon.equals(Polygon([(-30, -20), (30, -20), (30, 20), (-30, 20)]))


def test_vertices_are_the_same_every_time() -> None:
    flap = {"shape": "flap", "width": 108, "height": 100, "radius": 20}
    assert good(flap).wkb == good(flap).wkb


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"shape": "rectangle", "width": 100, "height": 80, "radius": 41}, "HW201"),
        ({"shape": "flap", "width": 108, "height": 40, "radius": 45}, "HW201"),
        ({"shape": "tongue", "width": 100, "height": 130, "tip": 60, "radius": 55}, "HW201"),
        ({"shape": "tongue", "width": 100, "height": 130, "tip": 140}, "HW203"),
        ({"shape": "polygon", "points": [[0, 0], [50, 50], [50, 0], [0, 50]]}, "HW202"),  # a bow tie
        ({"shape": "polygon", "points": [[0, 0], [50, 0], [80, 0], [50, 0], [50, 50]]}, "HW202"),  # a spike
        ({"shape": "polygon", "points": [[0, 0], [50, 0], [100, 0]]}, "HW202"),
        ({"shape": "polygon", "points": [[0, 0], [50, 0], [50, 0.01], [0, 0.01]]}, "HW204"),
        ({"shape": "polygon", "points": [[5, 5], [5, 5], [5, 5]]}, "HW204"),
        ({"shape": "drawing", "file": "missing.svg"}, "HW205"),
    ],
)
def test_faulty_outlines_are_named(fields: dict[str, Any], code: str) -> None:
    assert bad(fields).code == code


def test_a_bow_tie_is_shown_where_it_crosses() -> None:
    finding = bad({"shape": "polygon", "points": [[0, 0], [50, 50], [50, 0], [0, 50]]})
    assert finding.where.point == pytest.approx((25, 25))


def test_a_corner_that_is_no_number_is_named() -> None:
    model = PolygonOutline.model_construct(shape="polygon", points=((0.0, 0.0), (float("nan"), 5.0), (9.0, 9.0)))
    polygon, findings, _ = outline_of(model, {})
    assert polygon is None
    assert [f.code for f in findings] == ["HW204"]


SVG = """<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80">
<path id="mill" d="M10 10H70V50H10Z"/>{}</svg>"""


def test_a_drawn_outline_is_the_closed_path_meant() -> None:
    one, two = SVG.format("").encode(), SVG.format('<circle id="wheel" cx="50" cy="40" r="20"/>').encode()
    assert size(good({"shape": "drawing", "file": "m.svg"}, {"m.svg": one})) == pytest.approx((60, 40), abs=1e-3)
    wheel = good({"shape": "drawing", "file": "m.svg", "path": "wheel"}, {"m.svg": two})
    assert size(wheel) == pytest.approx((40, 40), abs=1e-3)
    unsaid = bad({"shape": "drawing", "file": "m.svg"}, {"m.svg": two})
    assert unsaid.code == "HW206" and "mill, wheel" in unsaid.cure
    assert bad({"shape": "drawing", "file": "m.svg", "path": "sea"}, {"m.svg": two}).code == "HW206"
    assert bad({"shape": "drawing", "file": "m.svg"}, {"m.svg": b"<svg"}).code == "HW207"
