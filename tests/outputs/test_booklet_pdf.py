from __future__ import annotations

import pytest
from shapely.geometry import box

from hoopwright.core.errors import OutputError
from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.outputs.booklet import booklet_pdf
from tests.outputs.paper_builds import build_of, hooping_of, panel_of, small_panel
from tests.outputs.pdf_reading import opened, squeezed, texts

HOSTILE = '#panic("x") $a$ *b* _c_ [d] \\ "e" `f` <g> @h // i'


def _svg(width: int = 158, height: int = 118, words: str = "") -> bytes:
    box = f'<rect width="{width}" height="{height}" fill="#eee" stroke="#333"/><text x="9" y="30">{words}</text>'
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}">'
    )
    return f"{head}{box}</svg>".encode()


def _pictures() -> dict[str, bytes]:
    steps = {f"flap-step-{k:02}.svg": _svg() for k in range(1, 7)}
    return {"finished.svg": _svg(), "legend.svg": _svg(160, 78), "flap-step-04-hands.svg": _svg(), **steps}


def _text(pdf: bytes) -> str:
    return squeezed("".join(texts(pdf)))


def test_equal_builds_give_equal_bytes() -> None:
    assert booklet_pdf(build_of(small_panel()), _pictures()) == booklet_pdf(build_of(small_panel()), _pictures())


@pytest.mark.parametrize("pictures", [{}, _pictures()])
def test_every_sentence_of_every_halt_is_printed(pictures: dict[str, bytes]) -> None:
    text = _text(booklet_pdf(build_of(small_panel()), pictures))
    hooping = hooping_of(small_panel())
    for step in hooping.steps:
        for said in (*step.hands, step.stitch):
            assert squeezed(said.sentence) in text
        assert squeezed(step.stitch.title[1:]) in text
    for hand in hooping.after:
        assert squeezed(hand.sentence) in text


def test_materials_cutting_list_and_words_are_printed() -> None:
    build = build_of(small_panel())
    text = _text(booklet_pdf(build, {}))
    project = build.plan.project
    for wanted in (
        *(c.name for c in project.cloths.values()),
        *(t.name for t in project.threads.values()),
        *(f"flap.{k}" for k in project.machine.kinds),
        "tear-away stabilizer", "100 × 80 mm", "130 × 180 mm", "1·A", "2·B", "3·C", "6.5 m", "4.5 m",
        "Work safely", "Words used here", "Run sheet",
    ):  # fmt: skip
        assert squeezed(wanted) in text, wanted


def test_inches_are_shown_when_wanted() -> None:
    text = _text(booklet_pdf(build_of(small_panel(), units="in", paper="Letter"), {}))
    assert squeezed("3 15/16 × 3 1/8 in") in text  # 100 x 80 mm to the nearest sixteenth
    assert "130×180mm" not in text


@pytest.mark.parametrize("count", [1, 2])
def test_a_blocked_build_says_so_on_every_page(count: int) -> None:
    finding = Finding("HW101", Severity.BLOCKS, "the panel is larger than the hoop", "Take a larger hoop")
    pages = texts(booklet_pdf(build_of(small_panel(), findings=(finding,) * count), {}))
    words = "1 blocking finding" if count == 1 else "2 blocking findings"
    assert all(f"This plan has {words}: do not sew" in page for page in pages)


def test_a_sound_build_has_no_banner() -> None:
    assert "blocking" not in "".join(texts(booklet_pdf(build_of(small_panel()), {})))


def test_findings_are_printed_with_place_and_cure() -> None:
    found = (
        Finding("HW210", Severity.WARNS, "patch C is narrower than the allowance", "Make it wider", Where(patch="C")),
        Finding("HW211", Severity.NOTES, "dark under light", "Line it", Where(operation=4)),
    )
    text = _text(booklet_pdf(build_of(small_panel(), findings=found), {}))
    for wanted in ("HW210", "Patch C is narrower than the allowance.", "Make it wider.", "patch C", "HW211", "step 4"):
        assert squeezed(wanted) in text


@pytest.mark.parametrize("count", [3, 5, 8])
def test_what_was_found_stands_on_one_page(count: int) -> None:
    found = tuple(Finding(f"HW21{k}", Severity.WARNS, f"patch {k} is narrow", f"Make {k} wider") for k in range(count))
    pages = texts(booklet_pdf(build_of(small_panel(), findings=found), {}))
    (last,) = [page for page in pages if "What was found in this plan" in page]
    assert all(f"Make {k} wider" in last for k in range(count))


def test_words_of_the_maker_never_run_as_code() -> None:
    cloths = {"linen": {"name": HOSTILE, "colour": "#2f5d73"}, "sack": {"name": "=a", "colour": "#d8c9a3"}}
    cloths["silk"] = {"name": "- b", "colour": "#5f8a6b"}
    pdf = booklet_pdf(build_of(small_panel(), title=HOSTILE, cloths=cloths, foundation={"name": HOSTILE}), {})
    text = _text(pdf)
    assert text.count(squeezed(HOSTILE)) >= 3
    assert opened(pdf).get_metadata_dict()["Title"] == f"{HOSTILE}: sewing booklet"


def test_letters_the_fonts_do_not_have_are_replaced() -> None:
    assert "Flap??" in _text(booklet_pdf(build_of(small_panel(), title="Flap 水車"), {}))


def test_letters_in_pictures_may_be_any() -> None:
    pdf = booklet_pdf(build_of(small_panel()), {"finished.svg": _svg(words="水車 mill")})
    assert "??mill" in _text(pdf)


def test_a_picture_that_is_none_is_an_output_error() -> None:
    with pytest.raises(OutputError, match="could not be set"):
        booklet_pdf(build_of(small_panel()), {"finished.svg": b"<svg"})


def test_pages_are_numbered_and_carry_the_title() -> None:
    pages = texts(booklet_pdf(build_of(small_panel()), {}))
    for number, page in enumerate(pages, start=1):
        assert f"{number} / {len(pages)}" in page
        assert "Tide mill flap" in page


def test_the_pdf_is_tagged_with_language_and_alt_texts() -> None:
    pdf = booklet_pdf(build_of(small_panel()), _pictures())
    assert opened(pdf).is_tagged()
    assert b"pdfuaid" in pdf
    assert b"/Lang" in pdf
    assert b"/Alt" in pdf


def test_pictures_never_leave_the_page() -> None:
    tall = {name: _svg(60, 400) for name in _pictures()}
    wide = {name: _svg(900, 50) for name in _pictures()}
    for pictures in (tall, wide):
        for page in opened(booklet_pdf(build_of(small_panel()), pictures)):
            picture = page.render(scale=1, grayscale=True).to_numpy().squeeze()
            edge = round(15 / 25.4 * 72)
            assert (picture[:, :edge] > 250).all()
            assert (picture[:, -edge:] > 250).all()


@pytest.mark.parametrize("count", [1, 4, 9])
def test_no_heading_stands_alone_at_the_foot_of_a_page(count: int) -> None:
    cuts = [((-60.0, y), (60.0, y + 3)) for y in range(-36, -36 + 8 * count, 8)]
    heads = ("Step ", "Steps ", "Step by step", "Words used here", "In the hoop", "Which file")
    for page in texts(booklet_pdf(build_of(panel_of(box(-50, -40, 50, 40), cuts)), _pictures())):
        lines = [line.strip() for line in page.splitlines() if line.strip()]
        while lines and (lines[-1].startswith("Tide mill flap") or lines[-1][0].isdigit()):
            lines.pop()
        assert not lines[-1].startswith(heads)


def test_the_end_of_the_sewing_never_stands_alone_on_its_page() -> None:
    pages = texts(booklet_pdf(build_of(small_panel()), _pictures()))
    (end,) = [p for p in pages if "When all is sewn" in p]
    assert "Step 5" in end


def test_page_two_warns_owners_of_machines_with_several_needles() -> None:
    page = squeezed(texts(booklet_pdf(build_of(small_panel()), _pictures()))[1])
    assert squeezed("set it to stop at each colour change") in page
    assert squeezed("switch off colour sorting") in page


def test_the_size_of_a_piece_of_foundation_is_told() -> None:
    """A hoop takes 25 mm more than its field on every side (common practice, no source)."""
    build = build_of(small_panel())
    width, height = build.plan.field
    assert squeezed(f"about {width + 50:g} × {height + 50:g} mm") in _text(booklet_pdf(build, _pictures()))
