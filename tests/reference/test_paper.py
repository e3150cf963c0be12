"""What comes out on paper against published sizes and an independent reader (PDFium)."""

from __future__ import annotations

import numpy as np
import pypdfium2 as pdfium
import pytest
import shapely
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry import LineString, Polygon, box

from hoopwright.build import Build
from hoopwright.outputs.booklet import booklet_pdf
from hoopwright.outputs.templates import templates_pdf
from hoopwright.outputs.templates.drawing import SIZES
from hoopwright.outputs.templates.lettering import text_width
from tests.outputs.paper_builds import build_of, panel_of, small_panel
from tests.outputs.pdf_reading import MM, Path, fonts, opened, paths, rendered

# A4 is 210 x 297 mm (ISO 216); Letter 8.5 x 11 in; a point is 1/72 in (ISO 32000).
POINTS = {"A4": (595.276, 841.890), "Letter": (612.0, 792.0)}
DPI = 600
TRUE = 0.2  # mm that a line may be off on paper


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_pages_have_the_published_size(paper: str) -> None:
    build = build_of(small_panel(), paper=paper)
    for pdf in (templates_pdf(build), booklet_pdf(build, {})):
        for page in opened(pdf):
            assert page.get_size() == pytest.approx(POINTS[paper], abs=0.01)
            assert page.get_mediabox() == pytest.approx((0, 0, *POINTS[paper]), abs=0.01)


def _bars(page: object) -> list[float]:
    """Lengths in mm of the two bars in the foot of a rendered page, measured along the middle of their upper rim."""
    picture = rendered(page, DPI, (0.0, 0.0, 120.0, 24.0)) < 128
    rows = picture[:, : round(112 / 25.4 * DPI)]
    spans = [_span(row) for row in rows]
    longest = max(spans)
    return sorted({round(s * 25.4 / DPI, 2) for s in spans if s > 0.95 * longest and s < 104 / 25.4 * DPI})


def _span(row: NDArray[np.bool_]) -> int:
    """Pixels of the longest unbroken dark stretch."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], row, [False])).astype(np.int8)))
    return int((edges[1::2] - edges[::2]).max()) if len(edges) else 0


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("size", [100, 340])
def test_both_bars_measure_true_on_every_page(paper: str, size: int) -> None:
    panel = panel_of(box(-size / 2, -size / 2, size / 2, size / 2), [((-200.0, 30.0), (200.0, -20.0))])
    for page in opened(templates_pdf(build_of(panel, paper=paper))):
        lengths = _bars(page)
        for wanted in (100.0, 101.6):  # 4 inches are 101.6 mm (international inch)
            assert min(abs(found - wanted) for found in lengths) <= TRUE, lengths


def test_the_measuring_of_bars_sees_a_page_at_97_percent() -> None:
    row = np.zeros(3000, dtype=np.bool_)
    row[100 : 100 + round(97 / 25.4 * DPI)] = True
    assert abs(_span(row) * 25.4 / DPI - 97.0) < 0.05


def _closed(build: Build, stroke: float) -> list[Polygon]:
    """Polygons of all lines of one width in the templates, in mm."""
    found = []
    for page in opened(templates_pdf(build)):
        lines = [p for p in paths(page) if abs(p.stroke - stroke) < 0.01 and len(p.points) > 3]
        found += [Polygon(p.points) for p in lines]
    return found


def _off(found: Polygon, wanted: Polygon) -> float:
    """Farthest distance in mm between two outlines laid on each other, as they are or a quarter turned."""
    offs = []
    for angle in (0, 90):
        turned = affinity.rotate(wanted, angle, origin=(0, 0))
        dx, dy = found.bounds[0] - turned.bounds[0], found.bounds[1] - turned.bounds[1]
        offs.append(affinity.translate(turned, dx, dy).exterior.hausdorff_distance(found.exterior))
    return min(offs)


def test_every_template_is_true_and_not_mirrored() -> None:
    panel = small_panel()
    cut = _closed(build_of(panel), 0.35)
    for patch in panel.patches:
        assert min(_off(line, patch.template) for line in cut) <= TRUE
    mirrored = affinity.scale(panel.patches[1].template, -1, 1)
    assert min(_off(line, mirrored) for line in cut) > TRUE  # the check can fail


def test_sewing_lines_and_panel_outline_are_true() -> None:
    panel = small_panel()
    build = build_of(panel)
    sewn = _closed(build, 0.25)
    for area in (*(p.area for p in panel.patches), panel.outline):
        assert min(_off(line, area) for line in sewn) <= TRUE
    wanted = panel.outline.buffer(6.35, join_style="mitre")
    assert min(_off(line, wanted) for line in _closed(build, 0.35)) <= TRUE


def test_seam_edges_are_true() -> None:
    panel = small_panel()
    lines = [p for page in opened(templates_pdf(build_of(panel))) for p in paths(page) if abs(p.stroke - 0.9) < 0.01]
    lengths = [_length(p) for p in lines]
    for patch in panel.patches[1:]:
        assert patch.seam is not None
        wanted = float(np.hypot(*np.subtract(patch.seam.end, patch.seam.start)))
        assert min(abs(length - wanted) for length in lengths) <= TRUE


def _length(path: Path) -> float:
    return float(np.hypot(*np.subtract(path.points[-1], path.points[0])))


def test_a_cutting_line_measures_true_when_rendered() -> None:
    panel = panel_of(box(-60, -40, 60, 40), [])
    page = next(iter(opened(templates_pdf(build_of(panel, piecing={"cut": "rough"})))))
    height = page.get_height() / 72 * 25.4
    dark = rendered(page, DPI, (0.0, 24.0, 210.0, height - 23.0)) < 128
    rows = np.flatnonzero(dark.sum(axis=1) > 100 / 25.4 * DPI)
    columns = np.flatnonzero(dark.sum(axis=0) > 70 / 25.4 * DPI)
    line = 0.35  # a line's outer edges stand half its width outside on each side
    assert (rows[-1] - rows[0] + 1) * 25.4 / DPI == pytest.approx(80 + 2 * 6.35 + line, abs=TRUE)
    assert (columns[-1] - columns[0] + 1) * 25.4 / DPI == pytest.approx(120 + 2 * 6.35 + line, abs=TRUE)


def _found(page: pdfium.PdfPage, words: str) -> tuple[float, float, float, float]:
    """Left, bottom, right, top in mm of words on a page."""
    text = page.get_textpage()
    place = text.search(words, match_case=True).get_next()
    assert place is not None, words
    boxes = np.array([text.get_charbox(place[0] + k, loose=True) for k in range(place[1])]) / MM
    left, bottom = boxes[:, :2].min(axis=0)
    right, top = boxes[:, 2:].max(axis=0)
    return float(left), float(bottom), float(right), float(top)


def test_tiles_laid_cross_on_cross_give_the_whole_line() -> None:
    outline = Polygon([(-130, -60), (120, -75), (140, 50), (-110, 80)])
    build = build_of(panel_of(outline, []), piecing={"cut": "rough"})
    pages = [p for p in opened(templates_pdf(build)) if "tile A" in p.get_textpage().get_text_bounded()]
    assert len(pages) == 2
    crosses = [np.array(_found(page, "a1")[:2]) for page in pages]
    lines = []
    for page, cross in zip(pages, crosses, strict=True):
        for path in paths(page):
            legend = path.points[0][1] > page.get_height() / MM - 24.0
            if abs(path.stroke - 0.35) < 0.01 and not legend:
                lines.append(LineString(np.array(path.points) - cross))
    whole = shapely.union_all(lines)
    wanted = outline.buffer(6.35, join_style="mitre").exterior
    offs = []
    for angle in (0, 90):
        turned = affinity.rotate(wanted, angle, origin=(0, 0))
        dx, dy = whole.bounds[0] - turned.bounds[0], whole.bounds[1] - turned.bounds[1]
        offs.append(affinity.translate(turned, dx, dy).hausdorff_distance(whole))
    assert min(offs) <= TRUE


def test_words_are_as_wide_as_reckoned() -> None:
    page = next(iter(opened(templates_pdf(build_of(small_panel())))))
    for words in ("washed linen, mill blue", "flour sack print"):
        left, _, right, _ = _found(page, words)
        sizes = [size for _, size in SIZES]
        assert min(abs(right - left - text_width(words, size)) for size in sizes) <= TRUE


def test_only_the_packaged_fonts_are_used_and_they_are_embedded() -> None:
    build = build_of(small_panel())
    found = fonts(templates_pdf(build)) | fonts(booklet_pdf(build, {}))
    assert found
    assert all(embedded for _, embedded in found)
    assert {name.split("+")[-1].replace(" ", "")[:11] for name, _ in found} <= {"SourceSansP", "SourceSerif"}
