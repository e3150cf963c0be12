from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.affinity import rotate
from shapely.geometry import box

from hoopwright.estimate.cloth import rough_size
from hoopwright.outputs.templates import templates_pdf
from hoopwright.outputs.templates.cuts import cut_pages, grain_words, rough_cuts
from hoopwright.outputs.templates.furniture import sheet_of
from hoopwright.piecing.shapes import Patch, Seam
from tests.outputs.paper_builds import project, small_panel
from tests.outputs.pdf_reading import squeezed, texts

PATCH = small_panel().patches[1]


def _sized(width: float, height: float) -> Patch:
    return replace(PATCH, rough=replace(PATCH.rough, width=width, height=height))


@pytest.mark.parametrize(
    ("units", "size", "ruler"),
    [
        ("mm", (70.1, 42.0), (71.0, 42.0)),
        ("mm", (70.0000001, 42.9), (70.0, 43.0)),
        ("in", (25.4, 31.0), (25.4, 31.75)),  # 31 mm is 1.22 in: the next eighth is 1 1/4 in
    ],
)
def test_rough_cuts_are_rounded_up_to_the_ruler(
    units: str, size: tuple[float, float], ruler: tuple[float, float]
) -> None:
    assert rough_size(project(units=units), _sized(*size)) == pytest.approx(ruler)


@pytest.mark.parametrize(
    ("grain", "words"),
    [
        (0, "with the length"),
        (178, "with the length"),
        (90, "with the width"),
        (30, "30° from the length"),
        (150, "30° from the length"),
    ],
)
def test_grain_is_told_from_the_seam(grain: float, words: str) -> None:
    seam = Seam(1, (0.0, 0.0), (10.0, 0.0))
    assert grain_words(replace(PATCH, seam=seam, grain=grain)) == words
    turned = Seam(1, (0.0, 0.0), (7.0, 7.0))
    assert grain_words(replace(PATCH, seam=turned, grain=grain + 45)) == words


def test_the_first_patch_has_no_seam_so_its_sides_are_wide_and_high() -> None:
    first = replace(small_panel().patches[0], grain=90.0)
    assert first.seam is None
    (cut,) = rough_cuts(project(), (first,))
    assert cut.along.endswith(" mm wide")
    assert cut.across.endswith(" mm high")
    assert grain_words(first) == "with the height"


def test_the_grain_of_a_tilted_first_patch_is_told_from_its_own_rectangle() -> None:
    """The sides that are cut are those of the tilted rectangle: a warp along its height is along its height."""
    first = replace(small_panel().patches[0], seam=None)
    level = replace(first.rough, outline=box(0, 0, 60, 40), width=60.0, height=40.0)
    tilted = replace(level, outline=rotate(level.outline, 24.0))
    assert grain_words(replace(first, rough=tilted, grain=24.0 + 90.0)) == "with the height"
    assert grain_words(replace(first, rough=tilted, grain=24.0)) == "with the width"


def test_the_table_names_every_patch_with_its_size() -> None:
    from tests.outputs.paper_builds import build_of

    build = build_of(small_panel(), units="in")
    page = squeezed(texts(templates_pdf(build))[-1])
    for cut in rough_cuts(build.plan.project, small_panel().patches):
        for words in (cut.patch, cut.cloth, cut.along, cut.across, cut.grain):
            assert squeezed(words) in page


def test_no_table_when_only_templates_are_wanted() -> None:
    from tests.outputs.paper_builds import build_of

    pages = texts(templates_pdf(build_of(small_panel(), piecing={"cut": "templates"})))
    assert not any("Rough cuts" in page for page in pages)


def test_a_long_table_runs_on_to_more_pages() -> None:
    cuts = rough_cuts(project(), small_panel().patches) * 40
    pages = cut_pages(cuts, sheet_of("Letter"))
    assert len(pages) > 3
    assert cut_pages((), sheet_of("A4")) == ()
