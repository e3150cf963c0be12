from __future__ import annotations

import re
from typing import get_args

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, box

from hoopwright.core.errors import HoopwrightError
from hoopwright.project.fields import field_of
from hoopwright.project.lengths import INCH, Units
from hoopwright.project.load import parse
from hoopwright.project.schema import CutsPatchwork, EllipseOutline, FlapOutline
from hoopwright.project.settings import all_settings
from hoopwright.project.starter import Shape, starter_text

SHAPES = get_args(Shape)


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("shape", SHAPES)
def test_loads_without_a_finding(units: Units, shape: Shape) -> None:
    loaded = parse(starter_text("Sluice gate", units, shape), None)
    assert loaded.findings == ()
    assert loaded.project.title == "Sluice gate"
    assert loaded.project.units == units
    assert loaded.project.panel.outline.shape == shape


def test_is_a_flap_of_a_hands_width_with_six_patches() -> None:
    panel = parse(starter_text("Sluice gate"), None).project.panel
    assert isinstance(panel.outline, FlapOutline)
    assert 90 <= panel.outline.width <= 120
    assert isinstance(panel.patchwork, CutsPatchwork)
    assert len(panel.patchwork.cuts) == 5
    assert sorted(panel.cloths) == list("ABCDEF")


def test_every_setting_is_in_it_with_a_remark() -> None:
    text = starter_text("Sluice gate")
    other_choices = {"tip", "points", "file", "path", "lines", "gap", "patches", "angle", "make"}
    other_choices |= {"least_area", "least_edge", "least_angle"}
    for setting in all_settings():
        if setting.name not in other_choices:
            assert re.search(rf"\b{setting.name}\b", text), setting.name
    before_tables = [line for line in text.splitlines() if re.match(r"[a-z_]+ = ", line) and "#" not in line]
    explained_above = {"colour", "name", "thickness", "bolt", "has_up", "tex", "way", "cuts", "stitch", "thread"}
    explained_above |= {"title", "few_layers", "large_first", "centre_outwards", "width", "height"}
    assert {line.split(" = ")[0] for line in before_tables} <= explained_above


def test_slices_lie_round_the_first_piece_and_end_on_edges() -> None:
    """Each cut, with shapely as judge, halves what the cuts before it left of piece A."""
    panel = parse(starter_text("Weir", "mm", "rectangle"), None).project.panel
    assert isinstance(panel.patchwork, CutsPatchwork)
    rest = box(-54, -46, 54, 46)
    for start, end in panel.patchwork.cuts:
        cut = LineString([start, end])
        assert rest.exterior.distance(shapely.Point(start)) < 0.05
        assert rest.exterior.distance(shapely.Point(end)) < 0.05
        longer = shapely.affinity.scale(cut, 1.01, 1.01)
        parts = list(shapely.get_parts(shapely.polygonize([shapely.union_all([rest.exterior, longer])])))
        inside = [p for p in parts if p.representative_point().within(rest)]
        left = [p for p in inside if _on_left(start, end, p.representative_point())]
        assert len(inside) == 2
        assert len(left) == 1
        rest = left[0]


def _on_left(start: tuple[float, float], end: tuple[float, float], point: shapely.Point) -> bool:
    return (end[0] - start[0]) * (point.y - start[1]) - (end[1] - start[1]) * (point.x - start[0]) > 0


def test_cuts_of_an_ellipse_end_on_it() -> None:
    panel = parse(starter_text("Weir", "mm", "ellipse"), None).project.panel
    assert isinstance(panel.outline, EllipseOutline)
    assert isinstance(panel.patchwork, CutsPatchwork)
    a, b = panel.outline.width / 2, panel.outline.height / 2
    on_rim = [p for cut in panel.patchwork.cuts for p in cut if abs((p[0] / a) ** 2 + (p[1] / b) ** 2 - 1) < 0.001]
    assert len(on_rim) == 4


def test_inches_are_written_as_makers_read_them() -> None:
    text = starter_text("Weir", "in")
    assert 'width = "4 1/4 in"' in text
    assert parse(text, None).project.piecing.allowance == pytest.approx(INCH / 4)


@given(
    st.text(st.characters(codec="utf-8", categories=["L", "N", "P", "S", "Zs"]), min_size=1, max_size=100),
    st.sampled_from(["mm", "in"]),
    st.sampled_from(SHAPES),
    st.floats(70, 950),
    st.floats(70, 950),
)
@settings(max_examples=30, deadline=None)
def test_any_title_and_size_loads(title: str, units: Units, shape: Shape, width: float, height: float) -> None:
    if not title.strip().isprintable() or not title.strip():
        with pytest.raises(HoopwrightError):
            starter_text(title, units, shape, width, height)
        return
    loaded = parse(starter_text(title, units, shape, width, height), None)
    assert loaded.findings == ()
    assert loaded.project.title == title.strip()
    field = field_of(loaded.project.hoop)
    assert field[0] >= width and field[1] >= height


@pytest.mark.parametrize("title", ["", "  ", "a\nb", "x" * 121])
def test_impossible_titles(title: str) -> None:
    with pytest.raises(HoopwrightError):
        starter_text(title)


def test_a_panel_too_small_for_six_patches() -> None:
    with pytest.raises(HoopwrightError, match="six patches"):
        starter_text("Weir", width=40, height=90)
