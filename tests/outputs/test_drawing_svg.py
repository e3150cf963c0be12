from __future__ import annotations

import math
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from svgelements import SVG, Path

from hoopwright.outputs.drawing.shapes import Area, Arrow, Circle, Drawing, Hatch, Label, Line, Shape
from hoopwright.outputs.drawing.svg import DECIMALS, number, to_svg

NS = "{http://www.w3.org/2000/svg}"
SQUARE = ((10.0, 10.0), (30.0, 10.0), (30.0, 30.0), (10.0, 30.0))
HOLE = ((15.0, 15.0), (25.0, 15.0), (25.0, 25.0), (15.0, 25.0))


def drawing(*shapes: Shape, title: str = "Mat", description: str = "A mat.") -> Drawing:
    return Drawing((0.0, 0.0, 60.0, 40.0), shapes, title, description, "#ffffff")


def test_size_is_in_mm_and_one_unit_is_one_mm() -> None:
    root = ElementTree.fromstring(to_svg(drawing()))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("60mm", "40mm", "0 0 60 40")


def test_an_independent_reader_finds_the_true_size() -> None:
    # svgelements resolves units by CSS: 1 mm = 96 / 25.4 pixels.
    svg = to_svg(drawing(Area((SQUARE,), "#ff0000")))
    path = Path(next(e for e in SVG.parse(_file(svg), ppi=96.0).elements() if isinstance(e, Path)))
    left, top, right, bottom = path.bbox()
    mm = 96.0 / 25.4
    assert (left / mm, top / mm, right / mm, bottom / mm) == pytest.approx((10.0, 10.0, 30.0, 30.0), abs=1e-3)


def _file(text: str) -> object:
    import io

    return io.StringIO(text)


def test_a_given_width_scales_the_whole_drawing() -> None:
    root = ElementTree.fromstring(to_svg(drawing(), width_mm=90.0))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("90mm", "60mm", "0 0 60 40")


def test_y_points_up() -> None:
    root = ElementTree.fromstring(to_svg(drawing(Circle((5.0, 38.0), 1.0, "#000000"))))
    circle = root.find(f"{NS}circle")
    assert circle is not None
    assert (circle.get("cx"), circle.get("cy")) == ("5", "2")


def test_texts_are_escaped_and_no_script_gets_in() -> None:
    evil = '<script>alert("x")</script>&]]>'
    svg = to_svg(drawing(Label(evil, (1.0, 1.0), 4.0), title=evil, description=evil))
    root = ElementTree.fromstring(svg)
    assert "<script" not in svg
    assert {e.tag.removeprefix(NS) for e in root.iter()} <= {"svg", "title", "desc", "rect", "text"}
    assert [e.text for e in root if e.tag in (f"{NS}title", f"{NS}desc", f"{NS}text")] == [evil] * 3


def test_attributes_cannot_be_broken_out_of() -> None:
    svg = to_svg(drawing(Circle((1.0, 1.0), 1.0, '#fff" onload="x')))
    circle = ElementTree.fromstring(svg).find(f"{NS}circle")
    assert circle is not None
    assert circle.get("onload") is None


@given(st.text(max_size=30))
def test_any_text_gives_well_formed_xml(text: str) -> None:
    root = ElementTree.fromstring(to_svg(drawing(Label(text, (1.0, 1.0), 4.0), title=text)))
    assert root.find(f"{NS}title") is not None


def test_title_comes_first_for_readers() -> None:
    root = ElementTree.fromstring(to_svg(drawing()))
    assert [e.tag for e in root][:2] == [f"{NS}title", f"{NS}desc"]
    assert root.get("role") == "img"


@given(st.floats(-1e5, 1e5, allow_nan=False))
def test_numbers_read_back_within_half_their_last_place(value: float) -> None:
    text = number(value)
    assert abs(float(text) - value) <= 0.5000001 * 10**-DECIMALS
    assert "e" not in text
    assert text != "-0"


def test_numbers_without_idle_zeros() -> None:
    assert [number(v) for v in (0.0, -0.0, -0.0001, 1.5, 2.0, 10.0, -3.25)] == [
        "0",
        "0",
        "0",
        "1.5",
        "2",
        "10",
        "-3.25",
    ]


def test_holes_are_cut_out_by_the_even_odd_rule() -> None:
    root = ElementTree.fromstring(to_svg(drawing(Area((SQUARE, HOLE), "#ff0000"))))
    path = root.find(f"{NS}path")
    assert path is not None
    assert path.get("fill-rule") == "evenodd"
    assert (path.get("d") or "").count("Z") == 2


def test_hatch_lines_stay_inside_and_keep_their_spacing() -> None:
    shape = Hatch((SQUARE, HOLE), "#000000", 0.2, 2.0, 30.0)
    root = ElementTree.fromstring(to_svg(drawing(shape)))
    rows: dict[int, float] = {}
    for path in root.findall(f"{NS}path"):
        (x0, y0), (x1, y1) = ([float(v) for v in p.split()] for p in (path.get("d") or "")[1:].split("L"))
        along = math.degrees(math.atan2(-(y1 - y0), x1 - x0)) % 180.0
        assert along == pytest.approx(30.0, abs=0.2)
        middle = ((x0 + x1) / 2, 40.0 - (y0 + y1) / 2)
        assert 10.0 <= middle[0] <= 30.0 and 10.0 <= middle[1] <= 30.0
        assert not (15.001 < middle[0] < 24.999 and 15.001 < middle[1] < 24.999)
        offset = -middle[0] * math.sin(math.radians(30)) + middle[1] * math.cos(math.radians(30))
        assert offset / 2.0 == pytest.approx(round(offset / 2.0), abs=1e-2)
        rows[round(offset / 2.0)] = rows.get(round(offset / 2.0), 0.0) + math.dist((x0, y0), (x1, y1))
    # Area by strips: spacing times the summed length of the hatch lines is close to the hatched area.
    assert 2.0 * sum(rows.values()) == pytest.approx(20 * 20 - 10 * 10, rel=0.03)


def test_an_arrow_ends_in_its_tip() -> None:
    root = ElementTree.fromstring(to_svg(drawing(Arrow(((5.0, 5.0), (25.0, 5.0)), "#0000ff", 1.0, 4.0))))
    shaft, head = root.findall(f"{NS}path")
    assert (head.get("d") or "").startswith("M25 35L21 ")
    assert (shaft.get("d") or "").startswith("M5 35L21.8 35")


def test_same_drawing_same_text() -> None:
    shapes = (
        Area((SQUARE, HOLE), "#ff0000", "#000000", 0.3, (1.0, 0.5), 0.5),
        Line(SQUARE, "#00ff00", 0.4, closed=True),
    )
    assert to_svg(drawing(*shapes)) == to_svg(drawing(*shapes))
