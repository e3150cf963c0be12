from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
import shapely
from shapely.geometry import LineString, Polygon, box

from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Close, Face, Flip, HandWork, Lay, Role, RunStyle, Side, Stitch, Trim, Turn
from hoopwright.outputs.pictures.scene import Lying, before_turning, halts, parts, scene
from hoopwright.outputs.pictures.steps import step_svg
from hoopwright.pipeline import plan
from hoopwright.project.load import load
from tests.outputs.pictures_plan import plan_of, square_faces, step_of
from tests.outputs.small_item import item_plan

LINE = ((0.0, -10.0), (0.0, 10.0))


def plan_with(*halts: tuple[HandWork, ...], after: tuple[HandWork, ...] = ()) -> tuple[Plan, Hooping]:
    """A plan whose steps each sew the seam LINE for the piece they lay."""
    steps = []
    for index, hands in enumerate(halts, start=1):
        piece = next((h.piece for h in hands if isinstance(h, Lay)), None)
        stitch = Stitch(Role.SEAM, "Seam", "slate", (LineString(LINE),), RunStyle(2.0), "Sew.", piece=piece)
        steps.append(step_of(index, stitch, hands))
    hooping = Hooping("test", "Test", "panel", 1, tuple(steps), after)
    return replace(plan_of(square_faces()), hoopings=(hooping,)), hooping


def lay(piece: str, pose: Polygon, face: Face = Face.UP, **more: object) -> Lay:
    return replace(Lay(piece, "a", pose, face, Side.TOP, None, None, "Lay."), **more)  # type: ignore[arg-type]


def on_top(made: tuple[Plan, Hooping], index: int) -> list[Lying]:
    return list(scene(*made, index).on_top)


def test_pieces_lie_in_the_order_laid() -> None:
    plan = plan_of(square_faces())
    made = (plan, plan.hoopings[0])
    assert [(p.piece, p.face) for p in on_top(made, 1)] == []
    assert [(p.piece, p.face) for p in on_top(made, 2)] == [("1", Face.UP)]
    assert [(p.piece, p.face) for p in on_top(made, 3)] == [("1", Face.UP), ("2", Face.DOWN)]
    assert [(p.piece, p.face) for p in on_top(made, 4)] == [("1", Face.UP), ("2", Face.UP), ("3", Face.DOWN)]
    assert [p.since for p in on_top(made, 5)] == [2, 4, 5]
    assert scene(*made, 0).lying == ()


def test_a_flip_mirrors_the_cloth_over_its_seam() -> None:
    plan = plan_of(square_faces())
    up = on_top((plan, plan.hoopings[0]), 4)[1]
    assert up.outline.bounds == pytest.approx((5.0, -36.35, 36.35, 11.35))


def test_trimming_under_a_seam_leaves_the_allowance() -> None:
    """The lower cloth reaches 12 mm beyond the seam; 6.35 mm stay, the rest is cut under the new piece."""
    low, new = lay("1", box(-12, -10, 20, 10)), lay("2", box(-6.35, -10, 15, 10), Face.DOWN)
    flip = Flip("2", LINE[::-1], box(-15, -10, 6.35, 10), "Flip.")
    here = scene(*plan_with((low,), (new,), (Trim("2", None, "Trim."), flip)), 3)
    first = next(p for p in here.lying if p.piece == "1")
    assert first.outline.symmetric_difference(box(-6.35, -10, 20, 10)).area == pytest.approx(0.0, abs=1e-6)
    (cut,) = here.cuts
    assert (cut.piece, cut.index, cut.under) == ("2", 3, True)
    assert cut.region.symmetric_difference(box(-12, -10, -6.35, 10)).area == pytest.approx(0.0, abs=1e-6)
    assert cut.line.length == pytest.approx(20.0)


def test_a_clip_takes_a_region_off_one_piece_only() -> None:
    made = plan_with((lay("1", box(0, 0, 10, 10)), lay("2", box(5, 0, 15, 10)), Trim("2", box(0, 0, 7, 10), "Cut.")))
    here = scene(*made, 1)
    assert [p.outline.area for p in here.lying] == pytest.approx([100.0, 80.0])
    assert here.cuts[0].line.length == pytest.approx(10.0, abs=0.05)


def test_the_last_trim_keeps_the_inside_of_the_cutting_line() -> None:
    made = plan_with((lay("1", box(0, 0, 10, 10)),), after=(Trim("panel", None, "Trim.", keep=box(2, 2, 8, 8)),))
    assert [p.outline.area for p in on_top(made, 1)] == pytest.approx([100.0])
    assert [p.outline.area for p in on_top(made, 2)] == pytest.approx([36.0])
    assert scene(*made, 2).cuts[0].region.area == pytest.approx(64.0)


def test_a_folded_piece_shows_its_other_side_and_its_folded_edge() -> None:
    """What lies to the left of the fold, the upper half, comes to lie on the lower one."""
    fold = ((-20.0, 0.0), (20.0, 0.0))
    (shown,) = on_top(plan_with((lay("1", box(-10, -10, 10, 10), Face.DOWN, fold=fold),)), 1)
    assert shown.face is Face.UP
    assert shown.outline.symmetric_difference(box(-10, -10, 10, 0)).area == pytest.approx(0.0, abs=1e-6)
    assert sum(f.length for f in shown.folds) == pytest.approx(20.0)


def test_what_lies_under_the_hoop_is_kept_apart() -> None:
    made = plan_with((lay("1", box(0, 0, 10, 10)),), (lay("2", box(0, 0, 20, 20), side=Side.UNDER),))
    here = scene(*made, 2)
    assert [p.piece for p in here.on_top] == ["1"]
    assert [p.piece for p in here.below] == ["2"]


def test_handwork_is_parted_after_each_piece_laid() -> None:
    a, b = lay("1", box(0, 0, 1, 1)), lay("2", box(0, 0, 1, 1))
    trim = Trim("1", None, "Trim.")
    assert [p for p, _ in parts((trim, a, b, trim))] == [(trim, a), (b, trim)]
    assert [f for _, f in parts((trim, a, b, trim))] == [(b, trim), ()]
    assert parts(()) == (((), ()),)


def test_no_picture_from_above_is_made_once_the_work_is_turned() -> None:
    gap = LineString([(0, 0), (10, 0)])
    trim = Trim("panel", None, "Trim.", keep=box(2, 2, 8, 8))
    hands = (trim, Turn(gap, "1", "2", "Turn."), Close(gap, "Close."))
    assert before_turning(hands) == (trim,)
    assert halts(plan_with((), after=hands)[1])[-1] == (2, (trim,))


def test_what_cannot_be_done_is_left_undone() -> None:
    """A fold along a line without length is told by the checks; the picture goes on without it."""
    no_line = Flip("1", ((0.0, 0.0), (0.0, 0.0)), box(0, 0, 1, 1), "Flip.")
    stitch = Stitch(
        Role.TACK, "Tack", "slate", (LineString([(0, 0), (5, 5), (9, 0)]),), RunStyle(2.0), "Sew.", piece="1"
    )
    first = step_of(1, stitch, (lay("1", box(0, 0, 10, 10)),))
    made = Hooping("test", "Test", "panel", 1, (first,), (no_line,))
    plan = replace(plan_of(square_faces()), hoopings=(made,))
    assert [p.face for p in scene(plan, made, 2).lying] == [Face.UP]


def test_a_pieced_panel_laid_as_one_cloth_is_followed() -> None:
    plan = item_plan()
    body = plan.hoopings[1]
    faces = [[p.face for p in scene(plan, body, i).on_top if p.piece == "front"] for i in (3, 4)]
    assert faces == [[Face.DOWN], [Face.UP]]


def test_cloth_cut_away_has_no_edges_of_no_width_in_the_cloth_that_stays() -> None:
    """Trimming round the key tabs cuts nothing inside them, so no line of scissors runs there."""
    loaded = load(Path(__file__).parents[2] / "examples" / "sluice-key-tab" / "project.toml")
    made = plan(loaded.project, dict(loaded.drawings))
    (hooping,) = made.hoopings
    (edge,) = (s for s in hooping.steps if s.stitch.role is Role.EDGE)
    tabs = shapely.union_all([Polygon(p) for p in edge.stitch.paths])
    cuts = [r for r in scene(made, hooping, edge.index).cuts if not r.under]
    assert cuts
    for removed in cuts:
        assert not removed.line.intersects(tabs.buffer(-1.0))
    assert len(step_svg(made, hooping, edge.index)) < 150_000
