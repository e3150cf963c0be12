"""Turning, against the sequences worked out by reasoning about sheets for the pouch and the glasses sleeve."""

from __future__ import annotations

import pytest
import shapely
from shapely.geometry import LineString, box

from hoopwright.cloth.handling import fold, lay, release
from hoopwright.cloth.shapes import Stack
from hoopwright.cloth.stitching import stitch
from hoopwright.cloth.turning import Opening, flip_over, parting, turn, turned
from hoopwright.core.errors import GeometryError
from hoopwright.operations.vocabulary import Face, Side
from tests.cloth.sheets import order, sheet, stack_of

BODY = box(-50, -40, 50, 40)
GAP = LineString([(-20, 40), (20, 40)])
SEAM = LineString(BODY.exterior.coords).difference(GAP.buffer(0.01))
OPENING = Opening(GAP, "base", "lining")


def cut(name: str, face: Face = Face.UP) -> Stack:
    return stack_of(sheet(name, BODY.buffer(6, join_style="mitre"), face))


def assembled(*between: Stack, lining: Face = Face.DOWN, base: Face = Face.UP) -> Stack:
    stack = cut("base", base)
    for part in between:
        stack = lay(stack, *part.layers)
    return release(stitch(lay(stack, *cut("lining", lining).layers), SEAM, "closing seam"))


def test_base_and_lining_show_their_right_sides_when_laid_face_to_face() -> None:
    outside = turned(assembled(), OPENING)
    assert (outside.top, outside.underside, outside.hanging) == ((("base", True),), (("lining", True),), ())


def test_a_lining_laid_right_side_up_ends_wrong_side_out() -> None:
    outside = turned(assembled(lining=Face.UP), OPENING)
    assert (outside.top, outside.underside) == ((("base", True),), (("lining", False),))


def test_turning_twice_lies_as_before() -> None:
    stack = assembled()
    back = turn(turn(stack, OPENING), Opening(GAP, "lining", "base"))
    assert order(back) == order(stack)


def test_inside_base_and_lining_lie_wrong_sides_together() -> None:
    after = turn(assembled(), OPENING)
    assert order(after) == [("lining", "down"), ("base", "up")]
    assert after.turned


def front_wall(outer: Face) -> Stack:
    """A front wall laid on the base: its outer cloth first, its own lining on it the other way up."""
    walls = [sheet(n, box(-56, -46, 56, 30), f) for n, f in (("wall", outer), ("wall lining", _other(outer)))]
    return Stack(tuple(walls))


def _other(face: Face) -> Face:
    return Face.UP if face is Face.DOWN else Face.DOWN


@pytest.mark.parametrize(("laid", "right"), [(Face.DOWN, True), (Face.UP, False)])
def test_a_front_wall_flipped_to_the_linings_side_shows_the_face_that_lay_towards_the_base(
    laid: Face, right: bool
) -> None:
    outside = turned(assembled(front_wall(laid)), OPENING, flipped=("wall", "wall lining"))
    assert outside.hanging == ("wall", "wall lining")
    assert ("wall", right) in outside.underside
    assert outside.top == (("base", True),)


def pocket() -> Stack:
    """A strip folded wrong sides together, its fold inside the body, its raw edges at the bottom seam."""
    strip = stack_of(sheet("pocket", box(-56, -46, 56, 86)))
    return fold(strip, ((-56.0, 20.0), (56.0, 20.0)), onto=Side.UNDER)


def test_a_folded_pocket_shows_a_right_side_either_way() -> None:
    strip = pocket()
    assert order(strip) == [("pocket", "down"), ("pocket", "up")]
    on_base = turned(assembled(strip), OPENING)
    assert ("pocket", True) in on_base.top
    over = turned(assembled(strip), OPENING, flipped=("pocket",))
    assert ("pocket", True) in over.underside
    assert over.top == (("base", True),)


def test_flipping_over_goes_round_the_edge_and_back() -> None:
    after = turn(assembled(front_wall(Face.DOWN)), OPENING)
    walls = ("wall", "wall lining")
    over = flip_over(after, walls)
    assert [s for s, _ in order(over)] == ["wall", "wall lining", "lining", "base"]
    assert order(flip_over(over, walls)) == order(after)


def test_hanging_pieces_may_be_turned_to_the_underside_at_once() -> None:
    stack = assembled(front_wall(Face.DOWN))
    over = flip_over(turn(stack, OPENING), ("wall", "wall lining"))
    assert order(turn(stack, OPENING, Side.UNDER)) == order(over)


def test_an_opening_that_is_sewn_shut_is_refused() -> None:
    shut = stitch(assembled(), GAP, "again")
    with pytest.raises(GeometryError, match="sewn shut"):
        turn(shut, OPENING)


def test_a_seam_that_holds_only_one_of_the_two_does_not_shut_it() -> None:
    base = stitch(cut("base"), GAP, "top stitching")
    stack = release(stitch(lay(base, *cut("lining", Face.DOWN).layers), SEAM))
    assert turned(stack, OPENING).top == (("base", True),)


def test_work_in_the_hoop_and_sheets_that_do_not_meet_are_refused() -> None:
    hooped = lay(cut("base"), *cut("lining", Face.DOWN).layers)
    with pytest.raises(GeometryError, match="in the hoop"):
        parting(hooped, OPENING)
    with pytest.raises(GeometryError, match="does not lie over"):
        parting(assembled(), Opening(shapely.LineString([(0, 90), (10, 90)]), "base", "lining"))
    with pytest.raises(GeometryError, match="does not lie over"):
        parting(assembled(), Opening(GAP, "lining", "base"))


def test_the_width_of_an_opening_is_its_length() -> None:
    assert OPENING.width == 40.0
