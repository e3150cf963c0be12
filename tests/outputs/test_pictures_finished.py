from __future__ import annotations

import io
import time
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from PIL import Image

from hoopwright.core.colour import channels_of
from hoopwright.core.types import frozen_points
from hoopwright.items.plan import Plan
from hoopwright.outputs.pictures.canvas import canvas_for, coverage
from hoopwright.outputs.pictures.cloth import PLAIN, SIDE, WEAVES, sampled, weave_of, woven_tile
from hoopwright.outputs.pictures.finished import AROUND, LONGEST, finished_png
from hoopwright.outputs.pictures.inks import mix
from hoopwright.outputs.pictures.pictures import all_pictures
from hoopwright.outputs.pictures.thread import WIDTH, Strand, threadwork
from hoopwright.outputs.pictures.vector import finished_drawing, finished_svg
from tests.outputs.pictures_plan import flap_faces, flap_project, plan_of, project, square_faces, two_faces

SCALE = 6.0


@pytest.fixture(scope="module")
def plan() -> Plan:
    return plan_of(flap_faces(), flap_project(), (130, 180))


def opened(data: bytes) -> NDArray[np.float64]:
    return np.asarray(Image.open(io.BytesIO(data)).convert("RGB"), dtype=np.float64)


def test_size(plan: Plan) -> None:
    left, bottom, right, top = plan.panels[0].outline.bounds
    rows, columns, _ = opened(finished_png(plan, "panel")).shape
    assert columns == LONGEST
    assert rows / columns == pytest.approx((top - bottom + 2 * AROUND) / (right - left + 2 * AROUND), abs=0.002)
    assert opened(finished_png(plan, "panel", 2.0)).shape[1] == round(2 * (right - left + 2 * AROUND))


def test_colours_survive_weave_and_light(plan: Plan) -> None:
    """The mean colour of each patch, its rim and stitches left out, is the cloth's own within 4 of 255."""
    picture = opened(finished_png(plan, "panel", SCALE))
    left, _, _, top = plan.panels[0].outline.bounds
    rows, columns = np.mgrid[0 : picture.shape[0], 0 : picture.shape[1]]
    x, y = left - AROUND + (columns + 0.5) / SCALE, top + AROUND - (rows + 0.5) / SCALE
    for patch in plan.panels[0].patches:
        inner = shapely.contains_xy(patch.area.buffer(-5.0), x, y)
        assert picture[inner].mean(axis=0) == pytest.approx(
            channels_of(plan.project.cloths[patch.cloth].colour), abs=4.0
        )


def test_the_panel_is_cut_at_its_outline(plan: Plan) -> None:
    canvas = canvas_for((-70, -60, 70, 60), 5.0)
    covered = coverage(canvas, plan.panels[0].outline)
    assert covered.sum() / 25.0 == pytest.approx(plan.panels[0].outline.area, rel=0.003)


def test_cloth_looks_woven_and_paper_does_not(plan: Plan) -> None:
    picture = opened(finished_png(plan, "panel", 10.0))
    paper, cloth = picture[20:80, 20:80, 0], picture[520:580, 600:660, 0]
    assert cloth.std() > 3 * paper.std()


def test_same_plan_same_bytes(plan: Plan) -> None:
    again = plan_of(flap_faces(), flap_project(), (130, 180))
    assert finished_png(plan, "panel", 4.0) == finished_png(again, "panel", 4.0)
    assert finished_svg(plan, "panel") == finished_svg(again, "panel")


def test_threads_are_painted_in_their_colour_and_width() -> None:
    canvas = canvas_for((0.0, 0.0, 20.0, 10.0), 20.0)
    work = threadwork(canvas, (Strand(frozen_points([(2, 5), (10, 5), (18, 5)]), "#dba632"),))
    assert work.cover.sum() / 400.0 == pytest.approx(16.0 * WIDTH, rel=0.12)
    full = work.cover > 0.99
    mean = work.colour[full].mean(axis=0) * 255.0
    red, green, blue = channels_of("#dba632")
    assert mean[0] / red == pytest.approx(mean[1] / green, abs=0.06)
    assert 0.7 < mean[0] / red < 1.05
    assert mean[2] / blue < 1.6


def test_later_threads_lie_on_top() -> None:
    canvas = canvas_for((0.0, 0.0, 10.0, 10.0), 20.0)
    red = Strand(frozen_points([(1, 5), (9, 5)]), "#ff0000")
    blue = Strand(frozen_points([(5, 1), (5, 9)]), "#0000ff")
    for strands, top in (((red, blue), 2), ((blue, red), 0)):
        middle = threadwork(canvas, strands).colour[99:101, 99:101].mean(axis=(0, 1))
        assert middle.argmax() == top


def test_a_thread_outside_the_picture_is_left_out() -> None:
    canvas = canvas_for((0.0, 0.0, 10.0, 10.0), 10.0)
    assert threadwork(canvas, (Strand(frozen_points([(30, 5), (40, 5)]), "#ff0000"),)).cover.sum() == 0.0
    assert threadwork(canvas, (Strand(frozen_points([(5, 5), (5, 5)]), "#ff0000"),)).cover.sum() == 0.0


def test_tiles_are_seeded_by_the_key_and_repeat() -> None:
    one, same, other = (woven_tile(k, PLAIN, 10.0) for k in ("indigo", "indigo", "reed"))
    assert np.array_equal(one, same)
    assert not np.array_equal(one, other)
    assert abs(float(one.mean())) < 1e-4
    x = np.linspace(0, 5, 40, dtype=np.float32)
    period = np.float32(PLAIN.pitch * SIDE / 8)
    here, there = (sampled(one, x + by, x, PLAIN.pitch, 0.0) for by in (np.float32(0), period))
    assert (here == there).mean() > 0.95


def test_names_tell_the_weave() -> None:
    assert weave_of("Indigo TWILL") is WEAVES["twill"]
    assert weave_of("reed-green linen") is WEAVES["linen"]
    assert weave_of("something") is PLAIN


def test_unknown_panel(plan: Plan) -> None:
    with pytest.raises(KeyError):
        finished_png(plan, "lid")
    with pytest.raises(KeyError):
        finished_svg(plan, "lid")


def test_vector_picture_has_each_patch_once_at_true_size(plan: Plan) -> None:
    root = ElementTree.fromstring(finished_svg(plan, "panel"))
    fills = [e.get("fill") for e in root.iter() if e.tag.endswith("path")]
    for key, cloth in plan.project.cloths.items():
        assert fills.count(cloth.colour) == sum(p.cloth == key for p in plan.panels[0].patches)
    assert (root.get("width"), root.get("height")) == ("122mm", "104mm")
    assert finished_drawing(plan, "panel").description == "7 patches, 110 x 92 mm."


def test_vector_picture_cannot_carry_markup() -> None:
    assert "<script" not in finished_svg(plan_of(two_faces(), project("<script>x</script>")), "panel")


def test_all_pictures_by_name() -> None:
    made = all_pictures(plan_of(square_faces()))
    names = [n for n, _ in made]
    steps = [f"panel-step-{i:02d}.svg" for i in range(1, 10)]
    hands = ["panel-step-04-hands.svg", "panel-step-05-hands.svg"]
    assert sorted(names) == sorted(["finished.png", "finished.svg", "legend.svg", *steps, *hands])
    for name, data in made:
        if name.endswith(".svg"):
            assert ElementTree.fromstring(data).tag.endswith("svg")
        else:
            assert data[:8] == b"\x89PNG\r\n\x1a\n"


def test_nothing_to_picture_without_patches() -> None:
    made = plan_of(two_faces())
    assert all_pictures(Plan(made.project, made.field, (), (), ())) == ()


def test_mixing() -> None:
    assert mix("#000000", "#ffffff", 0.5) == "#808080"
    assert mix("#102030", "#ffffff", 0.0) == "#102030"


@pytest.mark.bench
def test_speed(plan: Plan) -> None:
    finished_png(plan, "panel")
    start = time.perf_counter()
    finished_png(plan, "panel")
    print(f"finished picture {time.perf_counter() - start:.2f} s")
