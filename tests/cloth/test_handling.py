from __future__ import annotations

import pytest
from shapely.geometry import LineString, Polygon, box

from hoopwright.cloth.handling import flip, fold, lay, press, release, trim, trim_to
from hoopwright.cloth.placing import AS_LAID, mirror
from hoopwright.cloth.shapes import Stack
from hoopwright.core.errors import GeometryError
from hoopwright.operations.vocabulary import Face, Side
from tests.cloth.sheets import SQUARE, order, sheet, stack_of

UPWARDS = ((0.0, -20.0), (0.0, 20.0))
"""What lies to its left has x below 0."""


def test_what_is_laid_under_the_hoop_lies_below_all() -> None:
    stack = stack_of(
        sheet("hooped", foundation=True),
        sheet("a"),
        sheet("b", side=Side.UNDER),
        sheet("c"),
        sheet("d", side=Side.UNDER),
    )
    assert [s for s, _ in order(stack)] == ["d", "b", "hooped", "a", "c"]


def test_a_sheet_without_area_cannot_be_laid() -> None:
    with pytest.raises(GeometryError, match="no area"):
        lay(Stack(), sheet("a", Polygon()))


def test_a_fold_takes_what_lies_left_of_its_line_to_the_top() -> None:
    stack = fold(stack_of(sheet("a"), sheet("b", face=Face.DOWN)), UPWARDS, {"a"})
    assert order(stack) == [("a", "up"), ("b", "down"), ("a", "down")]
    assert stack.layers[0].region.equals(box(0, -20, 20, 20))
    assert stack.layers[2].region.equals(box(0, -20, 20, 20))


def test_a_fold_to_the_underside_ends_below_all() -> None:
    stack = fold(stack_of(sheet("a"), sheet("b")), UPWARDS, onto=Side.UNDER)
    assert order(stack) == [("b", "down"), ("a", "down"), ("a", "up"), ("b", "up")]
    assert [p.side for p in stack.layers] == [Side.UNDER, Side.UNDER, Side.TOP, Side.TOP]


def test_the_foundation_is_not_folded_unless_named() -> None:
    stack = stack_of(sheet("hooped", foundation=True), sheet("a"))
    assert order(fold(stack, UPWARDS)) == [("hooped", "up"), ("a", "up"), ("a", "down")]
    assert len(fold(stack, UPWARDS, {"hooped"}).layers) == 3


def test_both_parts_remember_the_folded_edge() -> None:
    for layer in fold(stack_of(sheet("a")), UPWARDS).layers:
        (edge,) = layer.folds
        assert edge.equals(LineString([(0, -20), (0, 20)]))


def test_a_line_past_the_sheet_folds_nothing_and_one_before_it_turns_it_over() -> None:
    past, before = ((-30.0, -20.0), (-30.0, 20.0)), ((30.0, -20.0), (30.0, 20.0))
    stack = stack_of(sheet("a"))
    assert fold(stack, past).layers == stack.layers
    (over,) = fold(stack, before).layers
    assert over.face is Face.DOWN
    assert over.folds == ()
    assert over.region.bounds == (40.0, -20.0, 80.0, 20.0)


def test_a_fold_line_needs_a_length() -> None:
    with pytest.raises(GeometryError, match="no length"):
        fold(stack_of(sheet("a")), ((1.0, 1.0), (1.0, 1.0)))


def test_a_flip_opens_the_body_over_its_allowance() -> None:
    """Laid right side down with its raw edge 6 past the seam on the left, the body comes to the left, right side up."""
    stack = stack_of(sheet("low"), sheet("new", box(-6, -20, 25, 20), Face.DOWN))
    opened = flip(stack, "new", UPWARDS)
    assert order(opened) == [("low", "up"), ("new", "down"), ("new", "up")]
    assert opened.layers[1].region.bounds == (-6, -20, 0, 20)
    assert opened.layers[2].region.bounds == (-25, -20, 0, 20)
    assert order(flip(opened, "new", UPWARDS)) == order(stack)


def test_trims_cut_away_or_keep_and_leave_other_sheets() -> None:
    stack = stack_of(sheet("a"), sheet("b"))
    cut = trim(stack, box(0, -30, 30, 30), {"a"})
    assert [p.region.area for p in cut.layers] == [800.0, 1600.0]
    assert [p.region.area for p in trim_to(stack, box(0, 0, 30, 30)).layers] == [400.0, 400.0]
    assert [p.sheet for p in trim(stack, SQUARE.buffer(1), {"a"}).layers] == ["b"]
    assert trim(stack, box(50, 50, 60, 60)).layers == stack.layers


def test_a_cut_off_fold_is_forgotten() -> None:
    folded = fold(stack_of(sheet("a")), UPWARDS)
    cut = trim(folded, box(-1, -30, 1, 0))
    assert [f.length for p in cut.layers for f in p.folds] == pytest.approx([20.0, 20.0], abs=0.01)
    assert [p.folds for p in trim(folded, box(-1, -30, 1, 30)).layers] == [(), ()]


def test_released_work_may_leave_its_foundation() -> None:
    stack = stack_of(sheet("hooped", foundation=True), sheet("a"))
    assert order(release(stack)) == order(stack)
    assert not release(stack).hooped
    assert order(release(stack, foundation_goes=True)) == [("a", "up")]
    assert press(stack) is stack


def test_a_mirroring_undoes_itself_and_placings_chain() -> None:
    over = mirror((1.0, 2.0), (4.0, -3.0))
    assert over.after(over).like(AS_LAID)
    move = mirror((0.0, 0.0), (1.0, 0.0)).after(over)
    assert move.after(move.undone()).like(AS_LAID)
    assert not move.like(AS_LAID)


def test_edges_that_all_but_coincide_leave_a_sound_region() -> None:
    """Found in a bookmark of strips: the plain overlay of these two returns a hole outside its shell."""
    cloth = Polygon(
        [
            (47.900000000000006, -10.747117716342443),
            (47.900000000000006, 28.77666014848605),
            (-47.900000000000006, 28.77666014848605),
            (-47.900000000000006, -10.747117716342439),
        ]
    )
    away = Polygon(
        [
            (47.900000000000006, -30.648007871940337),
            (-47.90000000000001, -30.648007871940337),
            (-47.90000000000001, -10.747117716342439),
            (47.900000000000006, -10.747117716342443),
        ]
    )
    (left,) = trim(lay(Stack(), sheet("strip", cloth)), away).layers
    assert left.region.is_valid
    assert left.region.area == pytest.approx(cloth.area, abs=0.05)
