from __future__ import annotations

import pytest
from shapely.geometry import LineString, Polygon, box

from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Face, Flip, HandWork, Lay, Role, RunStyle, Side, Stitch, Trim
from hoopwright.outputs.pictures.lying import lying, mirrored, removed, replay
from tests.outputs.pictures_plan import plan_of, square_faces, step_of

LINE = ((0.0, -10.0), (0.0, 10.0))


def hooping(*halts: tuple[HandWork, ...], after: tuple[HandWork, ...] = ()) -> Hooping:
    stitch = Stitch(Role.SEAM, "Seam", "slate", (LineString(LINE),), RunStyle(2.0), "Sew.")
    return Hooping("test", "Test", "panel", 1, tuple(step_of(i + 1, stitch, h) for i, h in enumerate(halts)), after)


def lay(piece: str, pose: Polygon, face: Face = Face.UP, seam: bool = False) -> Lay:
    raw = ((-5.0, -10.0), (-5.0, 10.0)) if seam else None
    return Lay(piece, "a", pose, face, Side.TOP, raw, LINE if seam else None, "Lay.")


def test_pieces_lie_in_the_order_laid() -> None:
    made = plan_of(square_faces()).hoopings[0]
    assert [p.piece for p in lying(made, 1)] == []
    assert [(p.piece, p.face) for p in lying(made, 2)] == [("1", Face.UP)]
    assert [(p.piece, p.face) for p in lying(made, 3)] == [("1", Face.UP), ("2", Face.DOWN)]
    assert [(p.piece, p.face) for p in lying(made, 4)] == [("1", Face.UP), ("2", Face.UP), ("3", Face.DOWN)]
    assert [p.since for p in lying(made, 5)] == [2, 4, 5]


def test_a_flip_mirrors_the_cloth_over_its_seam_and_folds_the_allowance_under() -> None:
    made = plan_of(square_faces()).hoopings[0]
    down, up = lying(made, 3)[1], lying(made, 4)[1]
    assert down.seam is not None
    turned = mirrored(down.outline, down.seam).intersection(box(5, -50, 50, 50))
    assert turned.symmetric_difference(up.outline).area == pytest.approx(0.0, abs=1e-6)
    assert up.outline.bounds == pytest.approx((5.0, -36.35, 36.35, 11.35))


def test_mirroring_is_its_own_undoing_and_keeps_distances_to_the_line() -> None:
    shape, line = box(3, 1, 9, 4), ((1.0, -2.0), (4.0, 5.0))
    twice = mirrored(mirrored(shape, line), line)
    assert twice.symmetric_difference(shape).area == pytest.approx(0.0, abs=1e-9)
    far = LineString([(-199, -468.6666667), (204, 471.6666667)])
    assert mirrored(shape, line).distance(far) == pytest.approx(shape.distance(far), abs=1e-3)


def test_trimming_under_a_seam_leaves_the_allowance() -> None:
    """The lower cloth reaches 12 mm beyond the seam; 5 mm stay, 7 mm of it are cut under the new piece."""
    low = lay("1", box(-12, -10, 20, 10))
    new = lay("2", box(-5, -10, 15, 10), Face.DOWN, seam=True)
    opened = box(-15, -10, 5, 10)
    made = hooping((low,), (new,), (Trim("2", None, "Trim."), Flip("2", LINE, opened, "Flip.")))
    pieces, cuts = replay(made, 3)
    assert pieces[0].outline.symmetric_difference(box(-5, -10, 20, 10)).area == pytest.approx(0.0, abs=1e-6)
    assert [(c.piece, c.index, c.under) for c in cuts] == [("2", 3, True)]
    assert cuts[0].region.symmetric_difference(box(-12, -10, -5, 10)).area == pytest.approx(0.0, abs=1e-6)
    assert cuts[0].line.length == pytest.approx(20.0)


def test_what_the_opened_piece_will_not_cover_is_not_cut() -> None:
    low = lay("1", box(-12, -30, 20, 30))
    new = lay("2", box(-5, -10, 15, 10), Face.DOWN, seam=True)
    made = hooping((low,), (new,), (Trim("2", None, "Trim."), Flip("2", LINE, box(-15, -10, 5, 10), "Flip.")))
    assert lying(made, 3)[0].outline.area == pytest.approx(32 * 60 - 7 * 20)


def test_a_clip_takes_a_region_off_one_piece_only() -> None:
    made = hooping((lay("1", box(0, 0, 10, 10)), lay("2", box(5, 0, 15, 10))), (Trim("2", box(0, 0, 7, 10), "Cut."),))
    first, second = lying(made, 2)
    assert (first.outline.area, second.outline.area) == pytest.approx((100.0, 80.0))
    assert removed(made, 2)[0].line.length == pytest.approx(10.0, abs=0.01)


def test_the_last_trim_keeps_the_inside_of_the_cutting_line() -> None:
    made = hooping((lay("1", box(0, 0, 10, 10)),), after=(Trim("panel", None, "Trim.", keep=box(2, 2, 8, 8)),))
    assert lying(made, 1)[0].outline.area == pytest.approx(100.0)
    assert lying(made, 2)[0].outline.area == pytest.approx(36.0)
    assert removed(made, 2)[0].region.area == pytest.approx(64.0)
