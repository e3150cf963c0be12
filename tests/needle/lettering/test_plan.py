from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from shapely.geometry import Polygon, box

from hoopwright.core.findings import Severity
from hoopwright.needle.lettering.plan import (
    LEAST_PEN,
    LEAST_SATIN,
    Asked,
    lettering_stitch,
    plan_lettering,
    plan_letters,
)
from hoopwright.needle.sewing import sew
from hoopwright.operations.vocabulary import LetteringStyle, Role, Stitch
from hoopwright.piecing.shapes import Frame
from hoopwright.project.schema import LetteringModel, MachineModel, PanelModel, Project, StitchingModel
from tests.needle.lettering.fonts import SANS, SERIF, font


def asked(
    *lines: str,
    width: float = 80.0,
    height: float | None = None,
    capitals: float | None = None,
    data: bytes | None = None,
) -> Asked:
    return Asked(lines, width, height, capitals, "middle", data, (0.0, 0.0), 0.0, "panel.lettering[1]")


def codes(one: Asked) -> list[str]:
    return [f.code for f in plan_letters(one, "mm")[1]]


def test_letters_without_a_size_are_as_large_as_fits() -> None:
    lettered, found = plan_letters(asked("Tide mill", "1870"), "mm")
    assert lettered is not None
    assert found == ()
    left, _, right, _ = lettered.box.bounds
    assert right - left == pytest.approx(80.0, abs=1.5)
    assert lettered.style.height is not None
    assert lettered.style.height > 8.0


def test_a_letter_that_cannot_be_sewn_is_named_with_its_number() -> None:
    lettered, (finding,) = plan_letters(asked("Tide ♥"), "mm")
    assert lettered is None
    assert finding.code == "HW360"
    assert "“♥” (U+2665)" in finding.message
    assert finding.where.path == "panel.lettering[1].lines"
    assert codes(asked("漢", data=SANS)) == ["HW360"]


@pytest.mark.parametrize("data", [b"", b"no font"])
def test_a_file_that_is_no_font_blocks(data: bytes) -> None:
    assert codes(asked("A", data=data)) == ["HW361"]


@pytest.mark.parametrize(("data", "least"), [(None, LEAST_PEN), (font("Sans-Bold.ttf"), LEAST_SATIN)])
def test_too_small_capitals_are_refused_with_the_least_height(data: bytes | None, least: float) -> None:
    _, (finding,) = plan_letters(asked("Mill", capitals=least - 0.5, data=data), "mm")
    assert finding.code == "HW362"
    assert finding.severity is Severity.BLOCKS
    assert f"{least:g} mm" in finding.cure
    assert codes(asked("Mill", capitals=least, data=data)) == []


def test_a_light_font_needs_larger_letters() -> None:
    """The stem of the extra light sans is 0.04 of a capital wide; 0.8 mm of it need 20 mm."""
    _, (finding,) = plan_letters(asked("Mill", capitals=12, data=font("Sans-ExtraLight.otf")), "mm")
    assert finding.code == "HW362"
    height = float(finding.cure.split("least ")[1].split(" mm")[0])
    assert 15.0 < height < 28.0


def test_the_size_named_for_a_box_too_small_does_fit() -> None:
    _, (finding,) = plan_letters(asked("For the miller", width=20.0, height=6.0), "mm")
    assert finding.code == "HW363"
    wide, high = (
        float(part.split(" mm")[0]) for part in finding.cure.replace("and ", "at least ").split("least ")[1:3]
    )
    assert codes(asked("For the miller", width=wide, height=high)) == []


def test_capitals_too_large_for_the_box_are_refused_with_the_largest() -> None:
    _, (finding,) = plan_letters(asked("Tide mill", capitals=30.0), "mm")
    assert finding.code == "HW364"
    most = float(finding.cure.split("most ")[1].split(" mm")[0])
    assert codes(asked("Tide mill", capitals=most)) == []
    assert codes(asked("Tide mill", capitals=most + 0.2)) == ["HW364"]


def test_thin_and_wide_strokes_are_told() -> None:
    assert codes(asked("H", capitals=7.0, data=SERIF)) == ["HW365"]
    assert codes(asked("H", capitals=12.0, data=SERIF)) == []
    assert codes(asked("I", width=200.0, capitals=60.0, data=SANS)) == ["HW366"]


PROJECT = Project.model_validate(
    {
        "schema": 1,
        "title": "Letters",
        "item": "panel",
        "threads": {"slate": {"name": "slate", "colour": "#334455"}},
        "cloths": {"a": {"name": "a", "colour": "#ffffff"}},
        "panel": {"outline": {"shape": "rectangle", "width": 100, "height": 60}},
    }
)


def planned(frame: Frame, *models: LetteringModel) -> tuple[tuple[Stitch, ...], list[str]]:
    panel = PanelModel(lettering=models)
    taken = [("the seam stitch of seam 2", box(-50, 20, 50, 26))]
    blocks, found = plan_lettering(panel, frame, box(-50, -30, 50, 30), taken, PROJECT, {"a.ttf": SANS})
    return blocks, [f.code for f in found]


def test_letters_follow_their_panel() -> None:
    model = LetteringModel(lines=("Mill",), at=(10.0, 5.0), width=30.0, turn=30.0, font="a.ttf")
    (block,), _ = planned(Frame((1.0, 2.0), 90.0, (3.0, 4.0)), model)
    assert block.role is Role.LETTERING
    assert isinstance(block.region, Polygon)
    assert block.region.centroid.distance(shapely.Point(Frame((1.0, 2.0), 90.0, (3.0, 4.0)).place((10.0, 5.0)))) < 1e-9
    a, b = np.asarray(block.region.exterior.coords)[:2]
    assert math.degrees(math.atan2(*(b - a)[::-1])) == pytest.approx(120.0)


def test_letters_past_the_outline_or_on_a_seam_stitch_are_told() -> None:
    assert planned(Frame(), LetteringModel(lines=("Mill",), at=(40.0, 0.0), width=40.0))[1] == ["HW367"]
    assert planned(Frame(), LetteringModel(lines=("Mill",), at=(0.0, 18.0), width=30.0))[1] == ["HW368"]
    assert planned(Frame(), LetteringModel(lines=("Mill",), at=(0.0, 0.0), width=30.0))[1] == []


@pytest.mark.parametrize("turn", [0.0, 33.0, 180.0])
@pytest.mark.parametrize("data", [None, SANS], ids=["pen", "satin"])
def test_a_block_is_sewn_inside_its_box_letter_by_letter(data: bytes | None, turn: float) -> None:
    one = Asked(("Tide", "mill"), 60.0, None, None, "left", data, (12.0, -7.0), turn, "make")
    lettered, _ = plan_letters(one, "mm")
    assert lettered is not None
    runs = sew(lettering_stitch(lettered, "slate"), StitchingModel(), MachineModel())
    reach = lettered.box.buffer(0.3)
    assert all(bool(shapely.contains_xy(reach, run.points).all()) for run in runs)
    assert len(runs) == 4 + 4 + 2
    along = np.array([math.cos(math.radians(turn)), math.sin(math.radians(turn))])
    up = np.array([-along[1], along[0]])
    heights = [float((run.points @ up).mean()) for run in runs]
    assert min(heights[:5]) > max(heights[5:])
    middles = [float((run.points @ along).mean()) for run in runs[5:]]
    assert np.diff(middles).min() > -1.0


def test_a_letter_left_out_of_a_style_by_hand_is_passed_over() -> None:
    style = LetteringStyle(("A♥B",), 8.0)
    region = Polygon([(0, 0), (60, 0), (60, 20), (0, 20)])
    block = Stitch(Role.LETTERING, "Letters", "slate", (), style, "Letters.", region=region)
    assert len(sew(block, StitchingModel(), MachineModel())) >= 2
