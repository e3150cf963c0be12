"""An item of several hoopings, pieces that are no patches, and an assembly, on paper and in pictures."""

from __future__ import annotations

from typing import Any, cast

import pytest
from shapely.geometry import box

from hoopwright.build import Build
from hoopwright.outputs.booklet.assembly import GLUE, METAL, UNDER, cautions, words_used
from hoopwright.outputs.booklet.booklet import booklet_pdf
from hoopwright.outputs.booklet.content import content
from hoopwright.outputs.drawing.shapes import Label, Line
from hoopwright.outputs.naming import lowered
from hoopwright.outputs.pictures.blocks import gap_of
from hoopwright.outputs.pictures.inks import HAND
from hoopwright.outputs.pictures.laid_panels import laid_panel
from hoopwright.outputs.pictures.legend import PIECES, legend_drawing
from hoopwright.outputs.pictures.pictures import all_pictures
from hoopwright.outputs.pictures.steps import hands_drawing, lay_drawings, step_drawing
from hoopwright.outputs.templates.pieces import folds_of, pieces_of
from hoopwright.outputs.templates.templates import templates_pdf
from tests.outputs.paper_builds import build_of, small_panel
from tests.outputs.pdf_reading import texts
from tests.outputs.small_item import item_build


@pytest.fixture(scope="module")
def build() -> Build:
    return item_build()


@pytest.fixture(scope="module")
def pictures(build: Build) -> dict[str, bytes]:
    return dict(all_pictures(build.plan))


@pytest.fixture(scope="module")
def said(build: Build, pictures: dict[str, bytes]) -> dict[str, Any]:
    return cast("dict[str, Any]", content(build, pictures))


def body(said: dict[str, Any]) -> dict[str, Any]:
    return cast("dict[str, Any]", said["hoopings"][1])


def test_pieces_follow_the_patches_and_tapes_have_no_template(build: Build) -> None:
    heads = [p.head for p in pieces_of(build)]
    assert heads[-4:] == ["Stiffener", "Body", "Pocket", "Lining"]
    assert "Loop" not in heads
    assert "Zip" not in heads


def test_a_stiffener_has_neither_side_nor_grain_nor_sewing_line(build: Build) -> None:
    stiff = next(p for p in pieces_of(build) if p.head == "Stiffener")
    assert (stiff.lines, stiff.grain, stiff.sew) == (("stiff felt",), None, None)


def test_the_fold_of_a_piece_crosses_its_template(build: Build) -> None:
    fold = folds_of(build.plan)["pocket"]
    assert fold.length == pytest.approx(92.7)
    assert {y for _, y in fold.coords} == {-20.0}
    text = " ".join(" ".join(texts(templates_pdf(build))).split())
    assert "fold" in text
    assert "cut 2, right side up" in text


def test_the_cutting_list_says_how_much_of_each_piece(said: dict[str, Any]) -> None:
    rows = {r["title"]: (r["count"], r["size"]) for r in said["cutting"]["pieces"]}
    assert rows["Lining"] == ("2", "92.7 × 112.7 mm")
    assert rows["Loop"] == ("1", "60 mm of 10 mm width")
    assert rows["Zip"] == ("1", "at least 120 mm long")


def test_materials_measure_tapes_by_length(said: dict[str, Any]) -> None:
    amounts = {c["name"]: (c["pieces"], c["amount"]) for c in said["materials"]["cloths"]}
    assert amounts["herringbone tape"] == ("1 piece", "60 mm, 10 mm wide")
    assert amounts["closed zip with plastic teeth"] == ("1 zip", "at least 120 mm long")


def test_several_pieces_laid_at_one_halt_have_a_picture_each(said: dict[str, Any], pictures: dict[str, bytes]) -> None:
    panes = body(said)["halts"][1]["panes"]
    assert [p["picture"]["file"] for p in panes] == ["body-step-02-lay-1.svg", "body-step-02.svg"]
    assert [[h["verb"] for h in p["hands"]] for p in panes] == [["Lay"], ["Lay", "Thread"]]
    assert {"body-step-02-lay-1.svg", "body-step-04-hands.svg"} <= set(pictures)


def test_facts_of_laying_tell_folds_and_the_side_under_the_hoop(said: dict[str, Any]) -> None:
    hands = [h for x in body(said)["halts"] for p in x["panes"] for h in p["hands"] if h["verb"] == "Lay"]
    facts = {h["cloth"]: h["facts"] for h in hands}
    assert facts["stiff felt"] == ["flat"]
    assert facts["herringbone tape"][0] == "folded"
    assert facts["striped ticking"] == ["UNDER the hoop", "right side AWAY from the hoop"]
    assert facts["pieced front"] == ["right side DOWN: you see the wrong side"]


def test_what_lies_is_told_by_title(said: dict[str, Any]) -> None:
    lies = [h["lies"] for h in body(said)["halts"]]
    assert lies[3] == "The stiffener and the body lie open; the pieced front is sewn on and still folded over."
    assert lies[5] == "The stiffener, the body, the pieced front, the loop, the pocket and the zip lie open."


def test_assembly_is_numbered_and_care_follows(build: Build, pictures: dict[str, bytes], said: dict[str, Any]) -> None:
    assert [s["verb"] for s in said["assembly"]["steps"]] == ["Turn", "Press", "Close", "Fold", "Press"]
    text = " ".join(" ".join(texts(booklet_pdf(build, pictures))).split())
    for words in ("Assembly", "Fold the front down.", "Wash it by hand, cool.", "Hooping 2: Body"):
        assert words in text


def test_a_panel_alone_has_no_assembly() -> None:
    alone = cast("dict[str, Any]", content(build_of(small_panel()), {}))
    assert (alone["assembly"], alone["care"], alone["cutting"]["pieces"]) == (None, [], [])
    assert alone["cover"]["what"].startswith("A pieced panel, 100 × 80 mm when finished")


def test_only_cautions_that_apply_are_told(build: Build) -> None:
    told = cautions(build.plan)
    assert UNDER in told
    assert METAL in told
    assert GLUE not in told
    assert UNDER not in cautions(build_of(small_panel()).plan)


def test_words_are_explained_when_they_are_used(build: Build) -> None:
    words = {w["word"] for w in words_used(build.plan)}
    assert {"Opening", "Basting", "Closing seam", "Placement line"} <= words
    assert "Ground" not in words
    assert "Opening" not in {w["word"] for w in words_used(build_of(small_panel()).plan)}


def test_pictures_name_pieces_and_show_the_opening(build: Build) -> None:
    plan, hooping = build.plan, build.plan.hoopings[1]
    closing = step_drawing(plan, hooping, 6)
    texts = {s.text for s in closing.shapes if isinstance(s, Label)}
    assert {"Lining", "Pocket", "Zip", "Loop", "Front"} <= texts
    strong = [s.text for s in closing.shapes if isinstance(s, Label) and s.colour == "#ffffff"]
    assert strong == ["Lining"]
    gap = gap_of(plan, hooping, hooping.steps[5])
    assert gap is not None
    assert gap.length == pytest.approx(50.0)
    assert any(isinstance(s, Line) and s.colour == HAND for s in closing.shapes)
    assert gap_of(plan, hooping, hooping.steps[4]) is None


def test_names_never_lie_over_each_other(build: Build) -> None:
    plan, hooping = build.plan, build.plan.hoopings[1]
    for index in range(1, len(hooping.steps) + 2):
        for drawing in (step_drawing(plan, hooping, index), *lay_drawings(plan, hooping, index)):
            labels = [s for s in drawing.shapes if isinstance(s, Label)]
            boxes = [
                box(s.at[0] - len(s.text), s.at[1] - s.size / 3, s.at[0] + len(s.text), s.at[1] + s.size / 3)
                for s in labels
            ]
            assert not any(a.intersects(b) for k, a in enumerate(boxes) for b in boxes[k + 1 :]), index


def test_a_laid_panel_is_found_as_it_lies(build: Build) -> None:
    """Laid right side down, turned over like a calendar page: what was its upper edge lies below."""
    plan, hooping = build.plan, build.plan.hoopings[1]
    found = laid_panel(plan, hooping, "front")
    assert found is not None
    panel, placing = found
    assert placing.shape(panel.outline).symmetric_difference(box(-40, 0, 40, 40)).area == pytest.approx(0.0, abs=0.01)
    assert laid_panel(plan, hooping, "body") is None
    drawing = hands_drawing(plan, hooping, 4)
    assert drawing is not None
    assert drawing.title == "Body, before step 4: trim and flip"


def test_the_legend_explains_the_signs_of_pieces_only_where_there_are_some(pictures: dict[str, bytes]) -> None:
    texts = {s.text for s in legend_drawing(pieces=True).shapes if isinstance(s, Label)}
    assert {w for _, w in PIECES} <= texts
    assert b"cloth under the hoop" in pictures["legend.svg"]
    assert not {w for _, w in PIECES} & {s.text for s in legend_drawing().shapes if isinstance(s, Label)}


def test_a_title_begins_small_inside_a_sentence() -> None:
    assert [lowered(t) for t in ("Back lining", "SIM card pocket", "D-ring tab")] == [
        "back lining",
        "SIM card pocket",
        "D-ring tab",
    ]
