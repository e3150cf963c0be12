from __future__ import annotations

import io
import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from PIL import Image
from shapely.geometry import Point, Polygon

from hoopwright.core.colour import channels_of
from hoopwright.items.plan import Plan
from hoopwright.operations.vocabulary import Lay, Role
from hoopwright.outputs.drawing.png import to_png
from hoopwright.outputs.drawing.shapes import Area, Arrow, Circle, Drawing, Hatch, Label, Line
from hoopwright.outputs.drawing.svg import to_svg
from hoopwright.outputs.pictures.frame import extent_of, inner_hoop
from hoopwright.outputs.pictures.inks import CUT, INK, wrong_side
from hoopwright.outputs.pictures.legend import ENTRIES, legend_drawing
from hoopwright.outputs.pictures.sections import pieced_cloths
from hoopwright.outputs.pictures.steps import PALE, hands_drawing, step_drawing, step_svg
from tests.outputs.pictures_plan import flap_faces, flap_project, plan_of, project, square_faces, two_faces

GOLDEN = Path(__file__).parent / "pictures_golden_step.svg"
SCALE = 4.0


@pytest.fixture(scope="module")
def plan() -> Plan:
    return plan_of(square_faces())


def pixels(drawing: Drawing) -> NDArray[np.int64]:
    return np.asarray(Image.open(io.BytesIO(to_png(drawing, SCALE))).convert("RGB"), dtype=np.int64)


def at(drawing: Drawing, picture: NDArray[np.int64], x: float, y: float) -> tuple[int, int, int]:
    r, g, b = picture[int((drawing.extent[3] - y) * SCALE), int((x - drawing.extent[0]) * SCALE)].tolist()
    return r, g, b


def polygon(shape: Area | Hatch) -> Polygon:
    return Polygon(shape.rings[0], shape.rings[1:])


def test_every_step_and_the_end_have_a_picture(plan: Plan) -> None:
    hooping = plan.hoopings[0]
    titles = [step_drawing(plan, hooping, i).title for i in range(1, len(hooping.steps) + 2)]
    assert titles[0] == "Sluice gate mat, step 1: Layout"
    assert titles[-1] == "Sluice gate mat, when all is sewn"
    assert len(set(titles)) == len(titles)


@pytest.mark.parametrize("index", [0, -1, 10])
def test_other_steps_are_refused(plan: Plan, index: int) -> None:
    assert len(plan.hoopings[0].steps) == 8
    with pytest.raises(IndexError, match="steps 1 to 8"):
        step_drawing(plan, plan.hoopings[0], index)


def test_the_words_for_those_who_cannot_see_are_the_makers_sentences(plan: Plan) -> None:
    drawing = step_drawing(plan, plan.hoopings[0], 4)
    assert drawing.description.startswith("Trim the cloth underneath. Flip it open. Press. Lay 3.")


def test_a_laid_patch_is_drawn_at_its_lay_pose_under_a_hatch(plan: Plan) -> None:
    hooping = plan.hoopings[0]
    lay = next(h for h in hooping.steps[3].hands if isinstance(h, Lay))
    drawing = step_drawing(plan, hooping, 4)
    pale = wrong_side(plan.project.cloths[lay.cloth].colour)
    (cloth,) = [s for s in drawing.shapes if isinstance(s, Area) and s.fill == pale]
    (hatch,) = [s for s in drawing.shapes if isinstance(s, Hatch)]
    for shape in (cloth, hatch):
        assert polygon(shape).symmetric_difference(lay.pose).area == pytest.approx(0.0, abs=1e-9)


def test_the_raw_edge_is_emphasised_where_the_plan_has_it(plan: Plan) -> None:
    hooping = plan.hoopings[0]
    lay = next(h for h in hooping.steps[3].hands if isinstance(h, Lay))
    thick = [s for s in step_drawing(plan, hooping, 4).shapes if isinstance(s, Line) and s.points == lay.raw_edge]
    assert [s.colour for s in thick] == ["#ffffff", INK]


def test_cloths_show_their_colours_and_the_wrong_side_is_paler(plan: Plan) -> None:
    drawing = step_drawing(plan, plan.hoopings[0], 3)
    picture = pixels(drawing)
    assert at(drawing, picture, -34.0, 0.0) == channels_of(plan.project.cloths["a"].colour)
    under = at(drawing, picture, -20.0, 8.0)
    dark = channels_of(plan.project.cloths["b"].colour)
    assert sum(under) > sum(dark) + 150


def test_finished_areas_are_covered_by_their_cloth(plan: Plan) -> None:
    """Count the pixels of each cloth inside the outline, numbers left out, and compare with the areas."""
    drawing = step_drawing(plan, plan.hoopings[0], 5)
    picture = pixels(drawing)
    discs = [Point(s.centre).buffer(s.radius + 0.5) for s in drawing.shapes if isinstance(s, Circle)]
    arrows = [shapely.LineString(s.points).buffer(4.0) for s in drawing.shapes if isinstance(s, Arrow)]
    rows, columns = np.mgrid[0 : picture.shape[0], 0 : picture.shape[1]]
    x, y = drawing.extent[0] + (columns + 0.5) / SCALE, drawing.extent[3] - (rows + 0.5) / SCALE
    hidden = shapely.union_all([*discs, *arrows])
    for patch in plan.panels[0].patches:
        inner = patch.area.buffer(-2.0).difference(hidden)
        shown = shapely.contains_xy(inner, x, y)
        same = (picture == np.array(channels_of(plan.project.cloths[patch.cloth].colour))).all(axis=2)
        assert (shown & same).sum() / SCALE**2 == pytest.approx(inner.area, rel=0.01)


def test_numbers_stand_on_what_shows_of_their_patch(plan: Plan) -> None:
    drawing = step_drawing(plan, plan.hoopings[0], len(plan.hoopings[0].steps) + 1)
    labels = {s.text: Point(s.at) for s in drawing.shapes if isinstance(s, Label)}
    for patch in plan.panels[0].patches:
        assert patch.area.contains(labels[str(patch.number)])


def test_the_piece_laid_now_has_a_dark_number(plan: Plan) -> None:
    drawing = step_drawing(plan, plan.hoopings[0], 4)
    dark = [s.text for s in drawing.shapes if isinstance(s, Label) and s.colour == "#ffffff"]
    assert dark == ["3"]


def test_hands_have_a_picture_only_where_something_is_flipped(plan: Plan) -> None:
    hooping = plan.hoopings[0]
    made = [hands_drawing(plan, hooping, i) is not None for i in range(1, len(hooping.steps) + 2)]
    assert made == [False, False, False, True, True, False, False, False, False]


def test_hands_show_the_cut_one_allowance_beyond_the_seam(plan: Plan) -> None:
    drawing = hands_drawing(plan, plan.hoopings[0], 4)
    assert drawing is not None
    (cut,) = [s for s in drawing.shapes if isinstance(s, Line) and s.colour == CUT]
    assert {round(x, 6) for x, _ in cut.points} == {5.0 + 6.35}


def test_only_the_seam_stitch_sewn_now_stands_out() -> None:
    plan = plan_of(flap_faces(), flap_project(), (130, 180))
    hooping = plan.hoopings[0]
    first = next(s for s in hooping.steps if s.stitch.role is Role.ORNAMENT)
    drawing = step_drawing(plan, hooping, first.index)
    gold = plan.project.threads["gold"].colour
    shown = [s.points for s in drawing.shapes if isinstance(s, Line) and s.colour == gold]
    assert shown == [tuple(map(tuple, r.points.tolist())) for r in first.runs]
    veils = [k for k, s in enumerate(drawing.shapes) if isinstance(s, Area) and s.opacity == PALE]
    lit = next(k for k, s in enumerate(drawing.shapes) if isinstance(s, Line) and s.colour == gold)
    assert veils
    assert max(veils) < lit


def test_all_pictures_of_a_hooping_share_their_frame(plan: Plan) -> None:
    hooping = plan.hoopings[0]
    extents = {step_drawing(plan, hooping, i).extent for i in range(1, len(hooping.steps) + 2)}
    assert extents == {extent_of(plan, hooping)}
    assert inner_hoop(plan).contains(shapely.box(-50, -50, 50, 50))


def test_a_tall_hoop_is_shown_only_where_the_work_is() -> None:
    plan = plan_of(two_faces(), field=(130, 300))
    left, bottom, right, top = extent_of(plan, plan.hoopings[0])
    assert right - left > 130
    assert top - bottom < 100


def test_titles_cannot_carry_markup() -> None:
    plan = plan_of(two_faces(), project("<script>alert(1)</script>"))
    svg = step_svg(plan, plan.hoopings[0], 2)
    assert "<script" not in svg
    assert "<script>alert(1)</script>" in (ElementTree.fromstring(svg)[0].text or "")


def test_same_plan_same_bytes() -> None:
    one, two = (plan_of(square_faces()) for _ in range(2))
    for i in range(1, 9):
        assert step_svg(one, one.hoopings[0], i) == step_svg(two, two.hoopings[0], i)


NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def differences(one: str, other: str, tolerance: float = 0.005) -> list[str]:
    """Return the lines that differ by more than ``tolerance`` in a number or by anything else."""
    rows = list(zip(one.splitlines(), other.splitlines(), strict=False))
    found = [a for a, b in rows if NUMBER.sub("#", a) != NUMBER.sub("#", b) or not _near(a, b, tolerance)]
    return found + (["length"] if len(one.splitlines()) != len(other.splitlines()) else [])


def _near(one: str, other: str, tolerance: float) -> bool:
    pairs = zip(NUMBER.findall(one), NUMBER.findall(other), strict=True)
    return all(abs(float(a) - float(b)) <= tolerance for a, b in pairs)


def test_a_small_step_looks_as_it_did() -> None:
    plan = plan_of(two_faces(), field=(60, 50))
    made = step_svg(plan, plan.hoopings[0], 3)
    assert differences(made, GOLDEN.read_text(encoding="utf-8")) == []


def test_the_golden_comparison_can_fail() -> None:
    kept = GOLDEN.read_text(encoding="utf-8")
    assert differences(kept.replace("20", "20.1"), kept) != []
    assert differences(kept.replace("#", "#f", 1), kept) != []
    assert differences(kept + "<g/>\n", kept) != []


def test_the_legend_explains_every_sign() -> None:
    drawing = legend_drawing()
    words = [s.text for s in drawing.shapes if isinstance(s, Label)]
    assert {w for _, w in ENTRIES} <= set(words)
    for shape in drawing.shapes:
        if isinstance(shape, Circle):
            assert drawing.extent[0] <= shape.centre[0] <= drawing.extent[2]
            assert drawing.extent[1] <= shape.centre[1] <= drawing.extent[3]
    assert ElementTree.fromstring(to_svg(drawing)).get("width") == "176mm"


def test_a_laid_section_shows_the_cloths_it_is_pieced_from() -> None:
    plan = plan_of(square_faces())
    panel = plan.panels[0]
    section = replace(panel.patches[2], number=0, label="S1", letters=("A", "B"), made_of=2, cloth="")
    members = [replace(p, section=2) for p in panel.patches[:2]]
    made = replace(panel, patches=(section, *members))
    parts = pieced_cloths(made, "S1", shapely.box(-30, -30, 30, 5))
    assert [key for key, _ in parts] == ["a", "b"]
    assert parts[1][1].area == pytest.approx(25.0 * 35.0)
    assert parts[0][1].difference(parts[1][1]).area == pytest.approx(35.0 * 35.0)
    assert pieced_cloths(made, "1", shapely.box(-30, -30, 30, 5)) == ()
