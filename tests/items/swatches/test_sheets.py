from __future__ import annotations

from functools import cache
from itertools import combinations

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, MultiLineString, box
from shapely.geometry.base import BaseGeometry

from hoopwright.checks.field import inside_field
from hoopwright.items.swatches.layout import LABEL, TAB
from hoopwright.items.swatches.sheets import Swatch, Swatches, swatch_sheets
from hoopwright.items.swatches.wish import MARKS, SWATCHES, SwatchWish
from hoopwright.needle.grounds import GROUNDS, Ground
from hoopwright.needle.seam_stitches import SEAM_STITCHES, sew_seam_stitch
from hoopwright.operations.vocabulary import OrnamentStyle
from hoopwright.project.schema import GroundModel

FIELDS = ("100x100", "130x180", "200x300", "360x200")


@cache
def sheets_for(field: str = "130x180") -> Swatches:
    return swatch_sheets(SwatchWish(field=field))


def drawn(swatch: Swatch) -> BaseGeometry:
    return MultiLineString([LineString(r.points) for r in (*swatch.runs, *swatch.marks)])


@pytest.mark.parametrize("field", FIELDS)
def test_every_stitch_and_every_ground_has_a_swatch_in_the_order_of_its_table(field: str) -> None:
    sheets = sheets_for(field)
    told = [f.message for f in sheets.plan.findings if f.code == "HW831"]
    assert [s.name for s in sheets.of("seam-stitches")] == list(SEAM_STITCHES)
    left_out = [n for n, g in GROUNDS.items() if any(g.title in message for message in told)]
    assert [s.name for s in sheets.of("grounds")] == [n for n in GROUNDS if n not in left_out]
    for family in ("seam-stitches", "grounds"):
        assert [s.number for s in sheets.of(family)] == list(range(1, len(sheets.of(family)) + 1))


@pytest.mark.parametrize("field", FIELDS)
def test_swatches_of_a_sheet_do_not_touch_and_lie_in_the_field(field: str) -> None:
    sheets = sheets_for(field)
    assert inside_field(sheets.plan) == ()
    for hooping in sheets.plan.hoopings:
        shapes = [drawn(s) for s in sheets.on(hooping.key)]
        assert [1 for a, b in combinations(shapes, 2) if shapely.dwithin(a, b, 0.4)] == []


@pytest.mark.parametrize("field", FIELDS)
def test_a_sheet_is_two_blocks_with_one_change_of_thread(field: str) -> None:
    for hooping in sheets_for(field).plan.hoopings:
        assert [s.stitch.thread for s in hooping.steps] == [MARKS, SWATCHES]
        assert [s.halt for s in hooping.steps] == [True, False]  # hooping comes before the first stitch
        assert hooping.after == ()


def test_the_hoopings_sew_the_swatches_and_nothing_else() -> None:
    sheets = sheets_for()
    for hooping in sheets.plan.hoopings:
        swatches = sheets.on(hooping.key)
        for step, runs in zip(
            hooping.steps, ([r for s in swatches for r in s.marks], [r for s in swatches for r in s.runs]), strict=True
        ):
            assert [r.points.tolist() for r in step.runs] == [r.points.tolist() for r in runs]


@pytest.mark.parametrize("name", sorted(SEAM_STITCHES))
def test_a_row_is_the_seam_stitch_along_its_line_in_its_usual_width(name: str) -> None:
    """Its needle positions are those that the seam stitches give a seam of that length, moved, with locks at the ends."""
    sheets = sheets_for()
    swatch = next(s for s in sheets.of("seam-stitches") if s.name == name)
    line = LineString([(0.0, 0.0), (swatch.size, 0.0)])
    (points,) = sew_seam_stitch(line, OrnamentStyle(name, SEAM_STITCHES[name].width), 1.0, 7.0)
    (run,) = swatch.runs
    inner = run.points[3:-3] - run.points[3] + points[1]
    assert np.allclose(inner, points[1:-1], atol=1e-9)


def test_a_ground_lies_a_margin_inside_its_outline() -> None:
    margin = GroundModel().margin
    for swatch in sheets_for().of("grounds"):
        left, low, right, high = swatch.area.bounds
        assert right - left == swatch.size and high - low == swatch.size + TAB[1]
        square = box(left, low, right, low + swatch.size)
        points = np.concatenate([r.points for r in swatch.runs])
        assert square.buffer(1e-6 - margin, join_style="mitre").covers(shapely.MultiPoint(points)), swatch.name
        outline = drawn(Swatch("grounds", "", 0, "", 0.0, square, (), swatch.marks))
        assert outline.hausdorff_distance(square.exterior) == pytest.approx(TAB[1], abs=0.2)
        assert square.exterior.buffer(0.1).difference(outline.buffer(0.1)).area < 1e-3


def test_every_number_is_sewn_in_its_height_clear_of_the_stitches() -> None:
    for swatch in sheets_for().of("seam-stitches"):
        marks = np.concatenate([r.points for r in swatch.marks])
        assert np.ptp(marks[:, 1]) == pytest.approx(LABEL, abs=0.3)
        assert marks[:, 0].max() < swatch.runs[0].points[:, 0].min() - 0.7


def test_sheets_are_called_by_family_and_number() -> None:
    keys = [h.key for h in sheets_for("100x100").plan.hoopings]
    assert keys[:2] == ["seam-stitches-1", "seam-stitches-2"]
    assert keys[-1].startswith("grounds-")
    assert sheets_for("240x360").plan.hoopings[0].title == f"Seam stitches 1 to {len(SEAM_STITCHES)}"
    assert sheets_for("240x360").plan.hoopings[0].key == "seam-stitches"


def test_a_sheet_with_one_swatch_says_is() -> None:
    alone = swatch_sheets(SwatchWish(field="60x70", families=("grounds",))).plan.hoopings[0]
    assert (alone.title, alone.steps[1].stitch.sentence) == ("Ground 1", "Ground 1 is sewn.")
    assert sheets_for().plan.hoopings[0].steps[1].stitch.sentence.endswith(" are sewn.")


def test_one_family_alone_has_the_same_sheets() -> None:
    alone = swatch_sheets(SwatchWish(families=("grounds",)))
    both = sheets_for()
    assert [h.key for h in alone.plan.hoopings] == [h.key for h in both.plan.hoopings if h.key.startswith("grounds")]
    assert alone.of("seam-stitches") == ()
    assert [s.number for s in alone.of("grounds")] == [s.number for s in both.of("grounds")]


def test_weight_changes_the_seam_stitches_only() -> None:
    fine, bold = swatch_sheets(SwatchWish(weight="fine")), sheets_for()
    assert sum(r.count for s in fine.of("seam-stitches") for r in s.runs) < sum(
        r.count for s in bold.of("seam-stitches") for r in s.runs
    )
    assert [r.points.tolist() for s in fine.of("grounds") for r in s.runs] == [
        r.points.tolist() for s in bold.of("grounds") for r in s.runs
    ]


def test_a_field_without_room_blocks() -> None:
    sheets = swatch_sheets(SwatchWish(field="35x35"))
    assert [(f.code, f.severity) for f in sheets.plan.findings] == [("HW830", "blocks")] * 2
    assert sheets.plan.hoopings == () and sheets.swatches == ()


def test_a_ground_that_draws_nothing_is_left_out_and_told(monkeypatch: pytest.MonkeyPatch) -> None:
    empty = Ground("calm", "Flat calm", "No line at all.", 8.0, 3.0, 0.0, lambda _part, _wish: (), network=False)
    table = {"calm": empty, "crosshatch": GROUNDS["crosshatch"]}
    for module in ("items.swatches.sheets", "needle.sewing", "needle.grounds.sew"):
        monkeypatch.setattr(f"hoopwright.{module}.GROUNDS", table)
    sheets = swatch_sheets(SwatchWish(families=("grounds",)))
    assert [(s.name, s.number) for s in sheets.swatches] == [("crosshatch", 1)]
    (finding,) = sheets.plan.findings
    assert finding.code == "HW831" and "Flat calm" in finding.message
