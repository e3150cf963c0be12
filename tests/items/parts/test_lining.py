from __future__ import annotations

import pytest
import shapely
from shapely.geometry import box

from hoopwright.cloth.columns import visible
from hoopwright.cloth.replay import after_hands, bench_of
from hoopwright.cloth.shapes import Layer, Stack
from hoopwright.items.parts.lining import HEM, OVERLAP, lining_lays, lining_pieces, slit_line, slit_turning, tape_off
from hoopwright.items.recipe import NoSettings, Workshop
from hoopwright.operations.vocabulary import Face, Side
from tests.items.bags import project

SHOP = Workshop(project("panel"), NoSettings())
OUTLINE = box(-45, -70, 45, 70)


def test_two_linings_cover_as_much_as_one_and_overlap() -> None:
    whole = lining_pieces(OUTLINE, "sailcloth", 6.0, None)[0].cut
    pieces = lining_pieces(OUTLINE, "sailcloth", 6.0, -5.0)
    stack = after_hands(Stack(), lining_lays(SHOP, pieces), bench_of(SHOP.project))
    shape = {p.key: shapely.union_all([x.region for x in stack.of(p.key)]) for p in pieces}
    both = shapely.union_all(list(shape.values()))
    assert both.symmetric_difference(whole).area < 1e-6
    overlap = shape["lining-lower"].intersection(shape["lining-upper"])
    assert overlap.bounds == pytest.approx((-51, -5 - OVERLAP / 2, 51, -5 + OVERLAP / 2))


def test_each_hem_is_folded_to_the_wrong_side() -> None:
    pieces = lining_pieces(OUTLINE, "sailcloth", 6.0, 0.0)
    stack = after_hands(Stack(), lining_lays(SHOP, pieces), bench_of(SHOP.project))
    for piece in pieces:
        body, hem = stack.of(piece.key)
        assert (body.face, hem.face) == (Face.DOWN, Face.UP)
        assert hem.region.bounds[3] - hem.region.bounds[1] == pytest.approx(HEM)
        assert body.region.contains(hem.region.representative_point())


def test_the_slit_lies_inside_the_overlap_and_the_side_seams() -> None:
    line = slit_line(90.0, -5.0)
    assert OUTLINE.contains(line)
    assert line.length == 70.0


def test_turned_the_fold_of_the_upper_part_lies_visible_over_the_lower_one() -> None:
    """The slit opens downwards, away from the mouth, so that what slides in from above slides over it."""
    pieces = lining_pieces(OUTLINE, "sailcloth", 6.0, -5.0)
    outer = Stack((Layer("outer", "indigo", 0.3, OUTLINE, Face.UP, Side.TOP),), hooped=False)
    hands = (*lining_lays(SHOP, pieces), *slit_turning(slit_line(90.0, -5.0), "outer"))
    shown = visible(after_hands(outer, hands, bench_of(SHOP.project)), Side.UNDER)
    overlap = box(-45, -5 - OVERLAP / 2, 45, -5 + OVERLAP / 2)
    there = {(s.sheet, s.right) for s in shown if s.region.intersection(overlap).area > 1.0}
    assert there == {("lining-upper", True)}
    assert "fold of the upper lining" in hands[-1].sentence


def test_tape_comes_off_before_the_lining_hides_it_and_before_the_iron() -> None:
    for slit in (None, 0.0):
        first = lining_lays(SHOP, lining_pieces(OUTLINE, "sailcloth", 6.0, slit), tape_off(strap=True))[0]
        assert first.sentence.startswith("Take off all tape that lies inside")
        assert "loop of the strap" in first.sentence
    assert "strap" not in tape_off(strap=False)
    press = slit_turning(slit_line(90.0, 0.0), "outer")[1]
    assert press.sentence.startswith("Take out all tape you can reach.")
