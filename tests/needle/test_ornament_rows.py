"""Rows over rows, sides that a stitch does not have, and the row along the outline."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Polygon

from hoopwright.core.findings import Finding, Severity
from hoopwright.needle.ornaments import EDGE, Ornament, plan_ornaments
from hoopwright.needle.seam_stitches import SEAM_STITCHES, sew_seam_stitch
from hoopwright.operations.vocabulary import OrnamentStyle, Role
from hoopwright.piecing.shapes import PatchMap
from hoopwright.pipeline import build
from hoopwright.project.load import load
from hoopwright.project.schema import EdgeStitchModel, OverStitchModel, PanelModel, RectangleOutline, SeamStitchModel
from tests.needle.test_ornaments import SQUARE, T, codes, map_of, number_at


def panel_of(edge: EdgeStitchModel | None = None, **wish: object) -> PanelModel:
    outline = RectangleOutline(shape="rectangle", width=100, height=80)
    return PanelModel(outline=outline, seam_stitch=SeamStitchModel(**wish), edge_stitch=edge)


def planned(panel: PanelModel, patches: PatchMap | None = None) -> tuple[tuple[Ornament, ...], tuple[Finding, ...]]:
    return plan_ornaments(patches or map_of(SQUARE, T), panel, SQUARE)


def test_a_row_over_another_follows_it_with_the_same_seam_and_its_own_thread() -> None:
    rows, findings = planned(
        panel_of(stitch="herringbone", thread="blue", over=OverStitchModel(thread="red", mirror=True))
    )
    assert findings == ()
    assert [o.seam for o in rows] == [rows[0].seam] * 2 + [rows[2].seam] * 2
    assert [o.thread for o in rows] == ["blue", "red"] * 2
    base, over = rows[:2]
    assert over.style.under == base.style and over.path.equals(base.path)
    assert over.style.stitch == "zigzag-coral" and over.style.mirror
    assert over.title == f"Zigzag coral stitch over seam {base.seam}"


def test_a_row_over_another_without_a_thread_takes_the_one_below() -> None:
    rows, _ = planned(panel_of(stitch="fan", thread="blue", over=OverStitchModel()))
    assert {o.thread for o in rows} == {"blue"}


def test_seams_that_end_on_another_are_named_by_it_and_by_the_row_over_it() -> None:
    patches = map_of(SQUARE, T)
    stem, through = number_at(patches, (10, 20)), number_at(patches, (-20, 0))
    rows, _ = planned(panel_of(EdgeStitchModel(), stitch="fan", over=OverStitchModel()), patches)
    after = {(o.seam, o.style.under is not None): o.after for o in rows}
    assert after[stem, False] == after[stem, True] == ()
    assert after[through, False] == after[through, True] == (stem,)
    assert after[EDGE, False] == tuple(sorted((stem, through)))


@pytest.mark.parametrize("weight", ["fine", "bold", "corded"])
def test_the_width_of_a_row_over_another_suits_the_one_below(weight: str) -> None:
    rows, findings = planned(panel_of(stitch="half-wheel", weight="bold", over=OverStitchModel(weight=weight)))
    assert findings == ()
    widths = [o.style.width for o in rows[:2]]
    least = SEAM_STITCHES["zigzag-coral"].least(weight)
    assert max(least, 0.5 * widths[0]) <= widths[1] <= 0.7 * widths[0] or widths[1] in (least, 5.5)


def test_a_row_too_wide_for_the_one_below_is_left_out_with_a_note() -> None:
    rows, findings = planned(panel_of(stitch="coral", over=OverStitchModel(stitch="detached-chain-fan")))
    assert codes(findings) == ["HW349", "HW349"] and len(rows) == 2
    assert all(f.severity is Severity.NOTES and f.where.path == "panel.seam_stitch.over" for f in findings)
    assert "1.4 mm" in findings[0].message and "7 mm" in findings[0].message
    own, told = planned(panel_of(stitch="coral", over=OverStitchModel(stitch="fan", width=5)))
    assert told == () and len(own) == 4


def test_an_unknown_stitch_for_a_row_over_or_along_the_outline_blocks() -> None:
    wish = panel_of(EdgeStitchModel(stitch="fether"), over=OverStitchModel(stitch="coal"))
    rows, findings = planned(wish)
    assert codes(findings) == ["HW342", "HW342"]
    assert [f.where.path for f in findings] == ["panel.seam_stitch.over.stitch", "panel.edge_stitch.stitch"] or {
        f.where.path for f in findings
    } == {"panel.seam_stitch.over.stitch", "panel.edge_stitch.stitch"}
    assert all(o.style.under is None and o.seam != EDGE for o in rows)


@pytest.mark.parametrize(
    ("stitch", "sides", "told"),
    [
        ("fan", "left", []),
        ("fan", "alternate", []),
        ("herringbone", "both", []),
        ("herringbone", "left", ["HW348"]),
        ("feather", "both", ["HW348"]),
        ("coral", "alternate", ["HW348"]),
    ],
)
def test_sides_that_a_stitch_does_not_have_are_told_and_left(stitch: str, sides: str, told: list[str]) -> None:
    rows, findings = planned(panel_of(stitch=stitch, sides=sides))
    assert codes(findings) == told
    assert {o.style.sides for o in rows} == ({None} if told else {sides})


def test_settings_reach_the_rows() -> None:
    rows, _ = planned(panel_of(stitch="fan", spacing=2, ease=3, taper=9, weight="fine", sides="both"))
    for style in (o.style for o in rows):
        assert (style.spacing, style.ease, style.taper, style.weight, style.sides) == (2.0, 3.0, 9.0, "fine", "both")


def test_corded_rows_are_wider_where_their_patches_have_room() -> None:
    bold, corded = (planned(panel_of(stitch="feather", weight=w))[0] for w in ("bold", "corded"))
    assert all(a.style.width < b.style.width for a, b in zip(bold, corded, strict=True))


def test_the_row_along_the_outline_keeps_its_distance_and_covers_the_ends_of_the_seams() -> None:
    (*seams, edge), findings = planned(panel_of(EdgeStitchModel(stitch="cretan", distance=4, thread="red")))
    assert findings == ()
    assert (edge.seam, edge.thread, edge.title) == (EDGE, "red", "Cretan stitch along the outline")
    lane = Polygon(edge.path)
    assert lane.equals(SQUARE.buffer(-4 - edge.style.width / 2, join_style="mitre"))
    assert shapely.is_ccw(edge.path) and edge.path.coords[0][1] == pytest.approx(lane.bounds[3])
    for row in sew_seam_stitch(edge.path, edge.style, 1.0, 7.0):
        assert SQUARE.buffer(-3.45).covers(LineString(row))
    for ornament in seams:
        assert lane.covers(ornament.path)
        off = min(edge.path.distance(shapely.Point(p)) for p in (ornament.path.coords[0], ornament.path.coords[-1]))
        assert off == pytest.approx(edge.style.width / 4, abs=0.01)


def test_the_row_along_the_outline_can_have_one_over_it() -> None:
    rows, _ = planned(panel_of(EdgeStitchModel(stitch="fan", over=OverStitchModel(thread="red"))))
    assert [(o.seam, o.thread) for o in rows[-2:]] == [(EDGE, None), (EDGE, "red")]
    assert rows[-1].title == "Zigzag coral stitch along the outline"


def test_without_room_there_is_no_row_along_the_outline() -> None:
    rows, findings = planned(panel_of(EdgeStitchModel(stitch="fan", distance=38)))
    assert codes(findings) == ["HW355"] and all(o.seam != EDGE for o in rows)
    narrow, told = planned(panel_of(EdgeStitchModel(stitch="fan", width=2)))
    assert codes(told) == ["HW344"] and narrow[-1].seam == EDGE


def test_a_panel_of_one_patch_may_have_a_row_along_its_outline() -> None:
    (edge,), findings = planned(panel_of(EdgeStitchModel()), map_of(SQUARE, []))
    assert edge.seam == EDGE and findings == ()
    assert np.concatenate(sew_seam_stitch(edge.path, edge.style, 1.0, 7.0)).shape[0] > 100


def test_a_plain_row_below_has_none_over_it() -> None:
    rows, findings = planned(panel_of(stitch="none", over=OverStitchModel()))
    assert (rows, findings) == ((), ())


def test_a_densely_decorated_panel_takes_about_a_quarter_of_an_hour_and_the_estimate_says_so() -> None:
    """Common practice, no source: about a quarter of an hour for a pouch panel; here the flap of the example, corded throughout."""
    project = load(Path(__file__).parents[2] / "examples" / "tide-mill-flap" / "project.toml").project
    over = OverStitchModel(thread="chalk", weight="corded")
    wish = {"weight": "corded", "over": over}
    panel = project.panel.model_copy(
        update={
            "seam_stitch": project.panel.seam_stitch.model_copy(update=wish),
            "seams": {k: s.model_copy(update=wish) for k, s in project.panel.seams.items()},
            "edge_stitch": EdgeStitchModel(stitch="cretan", thread="foam", weight="corded"),
        }
    )
    made = build(project.model_copy(update={"panel": panel}))
    (hooping,) = made.plan.hoopings
    decorated = {s.index for s in hooping.steps if s.stitch.role is Role.ORNAMENT}
    assert len(decorated) == 13
    rows = [s for s in made.estimate.steps if s.hooping == hooping.key and s.index in decorated]
    assert 11.0 <= sum(s.machine for s in rows) <= 19.0


def test_the_example_of_a_densely_decorated_panel_takes_about_a_quarter_of_an_hour_and_raises_no_alarm() -> None:
    """Common practice, no source: about a quarter of an hour for a densely decorated pouch panel, here taken as 12 to 18 minutes."""
    made = build(load(Path(__file__).parents[2] / "examples" / "spring-tide-panel" / "project.toml").project)
    assert [str(f) for f in made.findings if f.severity is not Severity.NOTES] == []
    assert 12.0 <= sum(step.machine for step in made.estimate.steps) <= 18.0
    (hooping,) = made.plan.hoopings
    roles = {step.stitch.role for step in hooping.steps}
    assert {Role.ORNAMENT, Role.GROUND, Role.LETTERING} <= roles
    styles = [s.stitch.style for s in hooping.steps if isinstance(s.stitch.style, OrnamentStyle)]
    assert {(s.weight, s.under is not None) for s in styles} == {("corded", False), ("bold", True)}
