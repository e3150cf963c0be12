"""The card, read back with PDFium: true to size, nothing on top of anything, every name and figure there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import numpy as np
import pypdfium2 as pdfium
import pypdfium2.raw as raw
import pytest
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon, box

from hoopwright.items.swatches.layout import LABEL_ROOM
from hoopwright.items.swatches.sheets import Swatch
from hoopwright.items.swatches.wish import Paper
from hoopwright.needle.grounds import GROUNDS
from hoopwright.needle.lines import LOCK_STITCHES
from hoopwright.needle.seam_stitches import OTHER_NAMES, SEAM_STITCHES, sew_seam_stitch
from hoopwright.operations.vocabulary import OrnamentStyle
from hoopwright.outputs.swatches.card import BAR_WORDS, card_pdf
from hoopwright.outputs.swatches.entries import PAD, picture_size
from hoopwright.outputs.templates.furniture import FOOT, MARGIN
from hoopwright.project.lengths import Units
from tests.outputs.pdf_reading import MM, opened, rendered, squeezed, texts
from tests.outputs.swatch_builds import card_of, sheets_of

pytestmark = pytest.mark.no_cover  # tests of the folder and of the command make the same card

POINTS = {"A4": (595.276, 841.890), "Letter": (612.0, 792.0)}
"""A4 is 210 x 297 mm (ISO 216), Letter 8.5 x 11 in; a point is 1/72 in (ISO 32000)."""

DPI = 300
TRUE = 0.2
"""Mm that a length may be off on paper."""

KINDS: list[tuple[str, Paper, Units]] = [
    ("130x180", "A4", "mm"),
    ("100x100", "Letter", "in"),
    ("360x200", "Letter", "mm"),
]

Box = tuple[float, float, float, float]


def pictures(page: pdfium.PdfPage) -> list[Box]:
    """Boxes of the pictures of a page in mm, from the top row down, each row from left to right."""
    found = []
    for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_IMAGE], max_depth=8):
        matrix, holder = item.get_matrix(), item.container
        while holder is not None:
            matrix, holder = matrix.multiply(holder.get_matrix()), holder.container
        (x0, y0), (x1, y1) = matrix.on_point(0, 0), matrix.on_point(1, 1)
        found.append((min(x0, x1) / MM, min(y0, y1) / MM, max(x0, x1) / MM, max(y0, y1) / MM))
    return sorted(found, key=lambda b: (-round(b[3]), b[0]))


def lines_of_words(page: pdfium.PdfPage) -> list[Polygon]:
    """Boxes of the words of a page in mm."""
    words = page.get_textpage()
    boxes = (words.get_rect(i) for i in range(words.count_rects()))
    return [box(*(v / MM for v in b)) for b in boxes]


def placed(field: str, paper: Paper, units: Units) -> Iterator[tuple[pdfium.PdfPage, Box, Swatch]]:
    """Every swatch with its page and the box of its picture there."""
    _, sheets = sheets_of(field, paper, units)
    pages = [(page, b) for page in opened(card_of(field, paper, units)) for b in pictures(page)]
    for (page, b), swatch in zip(pages, sheets.swatches, strict=True):
        yield page, b, swatch


def dark_span(cut: NDArray[np.uint8], axis: int, share: float, dpi: float = DPI) -> float:
    """Mm between the middles of the first and the last line that crosses most of the picture along ``axis``."""
    dark = (cut < 190).mean(axis=axis) > share
    edges = np.flatnonzero(np.diff(np.concatenate(([False], dark, [False])).astype(np.int8)))
    middles = (edges[::2] + edges[1::2] - 1) / 2
    return float(middles[-1] - middles[0]) * 25.4 / dpi


def frame_side(page: pdfium.PdfPage, b: Box, swatch: Swatch, dpi: float = DPI) -> float:
    """The side of a ground's outline as rendered: between its left and its right line."""
    middle = (b[0], b[1] + PAD + 0.25 * swatch.size, b[2], b[1] + PAD + 0.75 * swatch.size)
    return dark_span(rendered(page, DPI, middle), 0, 0.9, dpi)


@pytest.mark.no_cover
@pytest.mark.parametrize(("field", "paper", "units"), KINDS)
def test_pages_have_the_published_size_and_true_bars(field: str, paper: Paper, units: Units) -> None:
    for page in opened(card_of(field, paper, units)):
        assert page.get_size() == pytest.approx(POINTS[paper], abs=0.01)
        rim = rendered(page, 600, (MARGIN, 10.0, 120.0, MARGIN + FOOT)) < 128
        spans = {float(row.nonzero()[0][-1] - row.nonzero()[0][0] + 1) * 25.4 / 600 for row in rim if row.mean() > 0.8}
        assert any(abs(s - 100.0) <= TRUE for s in spans)
        assert any(abs(s - 101.6) <= TRUE for s in spans)  # 4 inches


@pytest.mark.parametrize(("field", "paper", "units"), KINDS)
def test_every_picture_is_as_large_as_the_cloth_it_shows(field: str, paper: Paper, units: Units) -> None:
    for _, (left, low, right, high), swatch in placed(field, paper, units):
        assert (right - left, high - low) == pytest.approx(picture_size(swatch), abs=0.01)
        shown = swatch.area.bounds
        for got, sewn in ((right - left, shown[2] - shown[0]), (high - low, shown[3] - shown[1])):
            assert -0.001 <= got - (sewn + 2 * PAD) <= 0.501


@pytest.mark.parametrize(("field", "paper", "units"), KINDS)
def test_the_outline_of_every_ground_measures_true_on_paper(field: str, paper: Paper, units: Units) -> None:
    for page, b, swatch in placed(field, paper, units):
        if swatch.family == "grounds":
            assert frame_side(page, b, swatch) == pytest.approx(swatch.size, abs=TRUE), swatch.name


@pytest.mark.parametrize(("field", "paper", "units"), KINDS)
def test_a_row_is_as_long_on_paper_as_on_cloth(field: str, paper: Paper, units: Units) -> None:
    """The ridge of the blanket stitch is one dark line from end to end."""
    page, b, swatch = next(p for p in placed(field, paper, units) if p[2].name == "blanket")
    picture = rendered(page, DPI, (b[0] + PAD + LABEL_ROOM - 0.5, *b[1:])) < 110
    ridge = max(picture, key=lambda row: int(row.sum()))
    found = ridge.nonzero()[0]
    assert (found[-1] - found[0]) * 25.4 / DPI == pytest.approx(swatch.size + 0.4, abs=TRUE + 0.1)  # and a thread


def test_a_page_at_97_percent_would_be_seen() -> None:
    page, b, swatch = next(p for p in placed(*KINDS[0]) if p[2].family == "grounds")
    assert abs(frame_side(page, b, swatch, DPI / 0.97) - swatch.size) > 5 * TRUE


@pytest.mark.no_cover
@pytest.mark.parametrize(("field", "paper", "units"), [*KINDS, ("60x60", "A4", "in")])
def test_words_and_pictures_lie_on_the_page_and_not_on_each_other(field: str, paper: Paper, units: Units) -> None:
    for page in opened(card_of(field, paper, units)):
        words, shown = lines_of_words(page), [box(*b) for b in pictures(page)]
        width, height = (v / MM for v in page.get_size())
        printed = box(MARGIN, MARGIN, width - MARGIN, height - MARGIN).buffer(0.01)
        assert all(printed.covers(b) for b in (*words, *shown))
        cells = box(MARGIN, MARGIN + FOOT, width - MARGIN, height)
        assert all(cells.buffer(0.01).covers(b) for b in shown)
        assert [1 for a, b in combinations(shown, 2) if a.buffer(1.0).intersects(b)] == []
        assert [1 for a in words for b in shown if shapely.dwithin(a, b, 1.0)] == []
        assert [1 for a, b in combinations(words, 2) if a.intersection(b).area > 0.05] == []


@pytest.mark.parametrize(("field", "paper", "units"), KINDS)
def test_every_page_tells_how_to_print_it(field: str, paper: Paper, units: Units) -> None:
    pages = texts(card_of(field, paper, units))
    assert len(pages) >= 2
    for number, page in enumerate(pages, start=1):
        assert squeezed(BAR_WORDS) in squeezed(page)
        assert f"page {number} of {len(pages)}" in page


@pytest.mark.parametrize(("field", "paper", "units"), KINDS)
def test_every_swatch_is_named(field: str, paper: Paper, units: Units) -> None:
    text = squeezed("".join(texts(card_of(field, paper, units))))
    _, sheets = sheets_of(field, paper, units)
    for swatch in sheets.swatches:
        table = SEAM_STITCHES if swatch.family == "seam-stitches" else GROUNDS
        assert squeezed(f"{swatch.number} {table[swatch.name].title} {swatch.name}") in text
        if swatch.family == "grounds":
            assert squeezed(table[swatch.name].description) in text


@pytest.mark.no_cover
def test_the_names_of_the_trade_stand_beside_the_stitch_they_lead_to() -> None:
    text = squeezed("".join(texts(card_of()))).lower()
    for other, ours in OTHER_NAMES.items():
        if ours:
            after = text.split(squeezed(SEAM_STITCHES[ours[0]].title).lower(), 1)[1]
            assert squeezed(other.replace("-", " ")) in after[:200], other


def test_figures_are_those_of_the_table_and_of_a_seam_of_100_mm() -> None:
    text = "\n".join(texts(card_of())).replace("\r", "")
    for name, stitch in SEAM_STITCHES.items():
        part = " ".join(text.split(stitch.title, 1)[1].split())
        said = re.search(r"Width ([\d.]+) mm, least ([\d.]+) mm; repeat ([\d.]+) mm\. (\d+) stitches", part)
        assert said is not None, name
        repeat = stitch.wished_repeat(stitch.width)
        assert [float(said[i]) for i in (1, 2)] == [stitch.width, stitch.least_width]
        assert float(said[3]) == pytest.approx(repeat, abs=0.006)
        line = LineString([(0.0, 0.0), (100.0, 0.0)])
        (points,) = sew_seam_stitch(line, OrnamentStyle(name, stitch.width), 1.0, 7.0)
        assert int(said[4]) == len(points) + 2 * (LOCK_STITCHES - 1), name


def test_figures_of_grounds_are_those_of_the_table_and_of_the_square() -> None:
    grounds = "\n".join(t for t in texts(card_of()) if t.startswith("Grounds")).replace("\r", "")
    _, sheets = sheets_of()
    for swatch in sheets.of("grounds"):
        ground = GROUNDS[swatch.name]
        part = " ".join(grounds.split(f"{swatch.number} {ground.title}", 1)[1].split())
        said = re.search(r"Spacing ([\d.]+) mm, least ([\d.]+) mm; angle ([\d.-]+)°\. (\d+) stitches", part)
        assert said is not None, swatch.name
        assert [float(said[i]) for i in (1, 2, 3)] == [ground.spacing, ground.least_spacing, ground.angle]
        assert int(said[4]) == sum(r.count for r in swatch.runs)


@pytest.mark.no_cover
def test_a_card_in_inches_counts_on_four_inches() -> None:
    text = squeezed("".join(texts(card_of("100x100", "Letter", "in"))))
    assert text.count("on4inofseam") == len(SEAM_STITCHES)
    assert "8mm(5/16in)" in text


@pytest.mark.no_cover
def test_sheets_are_named_where_there_are_several() -> None:
    """A field of 360 by 200 mm holds all of a family."""
    several, one = (squeezed("".join(texts(card_of(*kind)))) for kind in (KINDS[1], KINDS[2]))
    assert "feather,onseam-stitches-1" in several
    assert re.search(r"Sewnbythestitchfilesseam-stitches-1toseam-stitches-\d:", several)
    assert "Sewnbythestitchfileseam-stitches:" in one and "feather,on" not in one


@pytest.mark.no_cover
def test_equal_sheets_give_equal_bytes_and_others_do_not() -> None:
    assert card_pdf(*sheets_of()) == card_of()
    assert card_of(weight="fine") != card_of()


@pytest.mark.no_cover
def test_the_card_can_be_had_in_german() -> None:
    """With every picture; names of the English trade are left out."""
    build, sheets = sheets_of()
    german = replace(sheets.plan, project=sheets.plan.project.model_copy(update={"language": "de"}))
    card = card_pdf(replace(build, plan=german), replace(sheets, plan=german))
    pages, plain = texts(card), texts(card_of())
    assert len(pages) <= len(plain)
    assert sum(len(pictures(p)) for p in opened(card)) == len(sheets.swatches)
    text = "".join(pages)
    for wanted in ("Musterkarte", "1 Federstich", "Mäander", "mindestens 3,5", "Seite 1 von"):
        assert wanted in text
    for word in ("stitch ", "least", "repeat", "found under", "page", "square", "spacing"):
        assert word not in text.lower()
