from __future__ import annotations

import io
import math

import numpy as np
import pytest
import typst
from numpy.typing import NDArray
from PIL import Image
from scipy.ndimage import maximum_filter, minimum_filter
from shapely.affinity import translate
from shapely.geometry import LineString, Polygon

from hoopwright.outputs.drawing.flatten import primitives
from hoopwright.outputs.drawing.fonts import CAP_HEIGHT, FAMILY, font
from hoopwright.outputs.drawing.geometry import areas, lines, polygons_of
from hoopwright.outputs.drawing.png import dashes, to_png
from hoopwright.outputs.drawing.shapes import Arrow, Circle, Drawing, Hatch, Label, Line, Shape
from hoopwright.outputs.drawing.svg import to_svg

SCALE = 8.0
EXTENT = (-20.0, -15.0, 40.0, 25.0)
STAR = Polygon([(-15, -10), (10, -12), (35, -5), (22, 6), (30, 20), (5, 14), (-12, 22), (-6, 4)])
RING = STAR.difference(Polygon([(0, 0), (12, -2), (9, 9)]))


def picture(*shapes: Shape) -> NDArray[np.float64]:
    data = to_png(Drawing(EXTENT, shapes, "Test", background="#ffffff"), SCALE)
    return np.asarray(Image.open(io.BytesIO(data)).convert("RGB"), dtype=np.float64)


def inked(pixels: NDArray[np.float64]) -> float:
    """Area in mm2 that black ink covers."""
    return float((255.0 - pixels[..., 0]).sum() / 255.0 / SCALE**2)


def test_size_and_resolution() -> None:
    image = Image.open(io.BytesIO(to_png(Drawing(EXTENT, (), "Test"), SCALE)))
    assert image.size == (480, 320)
    assert image.info["dpi"] == pytest.approx((SCALE * 25.4, SCALE * 25.4), abs=0.1)


@pytest.mark.parametrize("shape", [STAR, RING])
def test_areas_cover_what_they_should(shape: Polygon) -> None:
    assert inked(picture(*areas(shape, "#000000"))) == pytest.approx(shape.area, rel=0.01)


def test_areas_land_in_their_place() -> None:
    pixels = picture(*areas(RING, "#000000"))[..., 0]
    rows, columns = np.nonzero(pixels < 128)
    x, y = EXTENT[0] + (columns + 0.5) / SCALE, EXTENT[3] - (rows + 0.5) / SCALE
    assert (x.mean(), y.mean()) == pytest.approx((RING.centroid.x, RING.centroid.y), abs=0.05)


def test_circles_and_rings() -> None:
    assert inked(picture(Circle((5.0, 5.0), 8.0, "#000000"))) == pytest.approx(math.pi * 64, rel=0.01)
    ring = picture(Circle((5.0, 5.0), 8.0, None, "#000000", 2.0))
    assert inked(ring) == pytest.approx(math.pi * (81 - 49), rel=0.03)
    assert ring[160, 200, 0] == 255.0


def test_line_weights_are_mm() -> None:
    way = LineString([(-15, -10), (10, 5), (35, -5)])
    assert inked(picture(*lines([way], "#000000", 2.0))) == pytest.approx(way.buffer(1.0).area, rel=0.03)


def test_transparent_areas_mix() -> None:
    pixels = picture(*areas(Polygon([(0, 0), (10, 0), (10, 10), (0, 10)]), "#000000", opacity=0.4))
    assert pixels[160, 200] == pytest.approx([153.0] * 3, abs=1.0)


@pytest.mark.parametrize("pattern", [(2.0, 1.0), (3.0, 1.0, 0.5, 1.0), (1.5,)])
def test_dashes_follow_the_pattern(pattern: tuple[float, ...]) -> None:
    way = LineString([(0, 0), (10, 0), (10, 10)])
    pieces = [LineString(p) for p in dashes(way.coords, pattern)]  # type: ignore[arg-type]
    full = pattern if len(pattern) % 2 == 0 else pattern * 2
    drawn = []
    at = 0.0
    while at < 20.0:
        for i, length in enumerate(full):
            if i % 2 == 0 and at < 20.0:
                drawn.append(min(length, 20.0 - at))
            at += length
    assert [p.length for p in pieces] == pytest.approx(drawn)
    assert all(p.within(way.buffer(1e-9)) for p in pieces)


def test_a_pattern_without_length_leaves_the_line_whole() -> None:
    assert dashes(((0.0, 0.0), (4.0, 0.0)), (0.0, 0.0)) == [((0.0, 0.0), (4.0, 0.0))]


def test_capitals_are_as_high_as_the_font_says_and_centred() -> None:
    left, top, right, bottom = font(1000).getbbox("H", anchor="ls")
    assert bottom == 0
    assert -top == pytest.approx(1000 * CAP_HEIGHT, abs=6)
    assert right > left
    assert font(20).getname()[0] == FAMILY
    rows, columns = np.nonzero(picture(Label("H", (10.0, 5.0), 20.0))[..., 0] < 128)
    assert EXTENT[3] - (rows.mean() + 0.5) / SCALE == pytest.approx(5.0, abs=0.2)
    assert EXTENT[0] + (columns.mean() + 0.5) / SCALE == pytest.approx(10.0, abs=0.3)


def _all_kinds() -> Drawing:
    shapes: tuple[Shape, ...] = (
        *areas(RING, "#a2412f", "#000000", 0.6),
        *areas(Polygon([(20, -10), (38, -10), (38, 5), (20, 5)]), "#2f4468", opacity=0.5),
        Hatch((((-18, -13), (-4, -13), (-4, -2), (-18, -2)),), "#444444", 0.5, 2.0, 30.0),
        Line(((-18.0, 23.0), (20.0, 20.0), (38.0, 23.0)), "#0b5c8f", 1.5),
        Line(((-18.0, 18.0), (38.0, 18.0)), "#dba632", 1.0, (3.0, 1.5)),
        Arrow(((-10.0, 10.0), (0.0, 14.0), (15.0, 10.0)), "#0b5c8f", 1.2, 5.0),
        Circle((28.0, 12.0), 5.0, "#ffffff", "#22262b", 0.8),
        Label("Mill 7", (10.0, 0.0), 8.0, "#22262b", halo="#ffffff", halo_width=0.8),
    )
    return Drawing(EXTENT, shapes, "All kinds", "", "#f6f3ea")


def test_png_and_svg_agree() -> None:
    """The SVG is drawn by an independent renderer (Typst's) and compared with our own painting."""
    from importlib import resources

    drawing = _all_kinds()
    ours = np.asarray(Image.open(io.BytesIO(to_png(drawing, SCALE))).convert("RGB"), dtype=np.float64)
    theirs = _rendered(to_svg(drawing), str(resources.files("font_source_sans_pro") / "files"))
    assert ours.shape == theirs.shape
    assert strangers(ours, theirs) < 0.001
    assert strangers(theirs, ours) < 0.001
    for x, y in ((-5.0, 15.0), (25.0, 0.0), (5.0, 3.0), (28.0, 12.0), (0.0, 14.0), (39.0, 24.0), (18.0, 20.2)):
        row, column = int((EXTENT[3] - y) * SCALE), int((x - EXTENT[0]) * SCALE)
        assert ours[row, column] == pytest.approx(theirs[row, column], abs=6.0), (x, y)


def strangers(one: NDArray[np.float64], other: NDArray[np.float64]) -> float:
    """Share of pixels of ``one`` unlike all pixels of ``other`` within one pixel (an eighth of a millimetre)."""
    low = minimum_filter(other, (3, 3, 1)) - 16.0
    high = maximum_filter(other, (3, 3, 1)) + 16.0
    return float(((one < low) | (one > high)).any(axis=2).mean())


def _rendered(svg: str, fonts: str) -> NDArray[np.float64]:
    source = f"#set page(width: 60mm, height: 40mm, margin: 0pt)\n#image(bytes({_quoted(svg)}), width: 60mm)"
    held = typst.Fonts(font_paths=[fonts], include_system_fonts=False)
    data = typst.compile(source.encode(), format="png", ppi=SCALE * 25.4, font_paths=held)
    return np.asarray(Image.open(io.BytesIO(data)).convert("RGB"), dtype=np.float64)


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def test_the_comparison_can_fail() -> None:
    here, there = picture(*areas(STAR, "#a2412f")), picture(*areas(translate(STAR, 0.6, 0.0), "#a2412f"))
    assert strangers(here, here) == 0.0
    assert strangers(here, there) > 0.001


def test_same_drawing_same_bytes() -> None:
    assert to_png(_all_kinds(), 4.0) == to_png(_all_kinds(), 4.0)


def test_primitives_keep_the_order() -> None:
    names = [type(p).__name__ for p in primitives(_all_kinds())]
    assert names[:2] == ["Area", "Area"]
    assert names[-2:] == ["Circle", "Label"]


def test_polygons_of_mixed_geometry() -> None:
    mixed = STAR.union(LineString([(100, 100), (110, 100)]))
    assert [p.area for p in polygons_of(mixed)] == [STAR.area]
    assert polygons_of(None) == ()
    assert polygons_of(Polygon()) == ()
