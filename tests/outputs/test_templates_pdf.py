from __future__ import annotations

from dataclasses import replace

import pytest
from shapely.geometry import box

from hoopwright.core.errors import OutputError
from hoopwright.core.findings import Finding, Severity
from hoopwright.outputs.templates import templates_pdf
from hoopwright.outputs.templates.furniture import BAR_WORDS, MARGIN, MIRROR_WORDS
from hoopwright.outputs.templates.typeset import typeset
from tests.outputs.paper_builds import build_of, panel_of, small_panel
from tests.outputs.pdf_reading import opened, squeezed, texts

HOSTILE = '#panic("x") $a$ *b* _c_ [d] \\ "e" `f` <g> @h // i'


def test_equal_builds_give_equal_bytes() -> None:
    assert templates_pdf(build_of(small_panel())) == templates_pdf(build_of(small_panel()))


def test_the_title_changes_the_bytes() -> None:
    assert templates_pdf(build_of(small_panel())) != templates_pdf(build_of(small_panel(), title="Sluice mat"))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_every_page_has_the_bars_and_their_words(paper: str) -> None:
    panel = panel_of(box(-80, -110, 80, 110), [((-90.0, y), (90.0, y + 7)) for y in (-70.0, -30.0, 10.0, 60.0)])
    pages = texts(templates_pdf(build_of(panel, paper=paper)))
    assert len(pages) >= 3
    for page in pages:
        assert squeezed(BAR_WORDS) in squeezed(page)
        assert "100 mm" in page and "4 inches" in page


def test_every_patch_is_named_with_cloth_and_right_side() -> None:
    build = build_of(small_panel())
    text = squeezed("".join(texts(templates_pdf(build))))
    for patch in build.plan.panels[0].patches:
        assert f"{patch.number}·{patch.letters[0]}" in text
        assert squeezed(build.plan.project.cloths[patch.cloth].name) in text
    assert text.count("rightsideup") == 4
    assert "cutthisawayaftersewing" in text
    assert squeezed(MIRROR_WORDS) in text


def test_words_of_the_maker_never_run_as_code() -> None:
    build = build_of(small_panel(), title=HOSTILE[:100])
    cloths = {k: c.model_copy(update={"name": HOSTILE}) for k, c in build.plan.project.cloths.items()}
    plan = replace(build.plan, project=build.plan.project.model_copy(update={"cloths": cloths}))
    pdf = templates_pdf(replace(build, plan=plan))
    assert squeezed('#panic("x") $a$ *b* _c_') in squeezed("".join(texts(pdf)))
    assert opened(pdf).get_metadata_dict()["Title"] == f"Templates: {HOSTILE[:100]}"


def test_nothing_is_drawn_in_the_printers_margin() -> None:
    panel = panel_of(box(-150, -150, 150, 150), [((-200.0, 20.0), (200.0, -30.0))])
    for page in opened(templates_pdf(build_of(panel))):
        width, height = (v / 72 * 25.4 for v in page.get_size())
        picture = page.render(scale=2, grayscale=True).to_numpy()
        rows, columns = (picture.squeeze() < 200).nonzero()
        unit = 25.4 / 72 / 2
        slack = 0.7  # half a thick line and a pixel
        assert columns.min() * unit >= MARGIN - slack
        assert rows.min() * unit >= MARGIN - slack
        assert (columns.max() + 1) * unit <= width - MARGIN + slack
        assert (rows.max() + 1) * unit <= height - MARGIN + slack


def test_a_blocked_build_says_so_on_every_page() -> None:
    finding = Finding("HW101", Severity.BLOCKS, "the panel is larger than the hoop", "Take a larger hoop")
    for page in texts(templates_pdf(build_of(small_panel(), findings=(finding,)))):
        assert "Do not cut: the plan has 1 blocking finding." in page


def test_a_plan_without_panels_gives_a_page_that_says_so() -> None:
    build = build_of(small_panel())
    (page,) = texts(templates_pdf(replace(build, plan=replace(build.plan, panels=(), hoopings=()))))
    assert "There is no template" in page


def test_a_page_source_that_cannot_be_set_is_an_output_error() -> None:
    with pytest.raises(OutputError, match="could not be set"):
        typeset(b'#image("missing.svg")', {}, {})
