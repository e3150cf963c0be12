from __future__ import annotations

import pytest
from shapely.geometry import LineString, Polygon, box

from hoopwright.cloth.materials import Materials
from hoopwright.cloth.replay import CLOSED_BY_HAND, Bench, bench_of, replay, seam_of, stack_after
from hoopwright.cloth.shapes import Stack
from hoopwright.core.types import frozen_points
from hoopwright.needle.shapes import Hooping, Run, Step
from hoopwright.operations.vocabulary import (
    Close,
    Face,
    Flip,
    Fold,
    HandWork,
    Hoop,
    Lay,
    Press,
    Release,
    Role,
    RunStyle,
    Side,
    Stitch,
    Trim,
    Turn,
)
from tests.cloth.flap import flap
from tests.cloth.sheets import order

BENCH = Bench(Materials({"linen": 0.3}, (("net", 0.2),)), (100.0, 100.0), 5.0)
LINE = ((0.0, 20.0), (0.0, -20.0))
"""A seam that runs downwards: its new patch lies to the right, x above 0."""


def lay(
    piece: str, pose: Polygon, face: Face = Face.UP, fold: tuple[tuple[float, float], tuple[float, float]] | None = None
) -> Lay:
    return Lay(piece, "linen", pose, face, Side.TOP, None, None, "Lay.", fold)


def sew(index: int, hands: tuple[HandWork, ...], row: list[tuple[float, float]], piece: str | None = None) -> Step:
    stitch = Stitch(Role.SEAM, "Seam", "slate", (LineString(row),), RunStyle(2.5), "Sewn.", piece=piece)
    return Step(index, stitch, hands, (Run(frozen_points(row)),))


def hooping(*steps: Step, after: tuple[HandWork, ...] = ()) -> Hooping:
    return Hooping("panel", "Trial", "panel", 1, steps, after)


def pieced(x: float = 0.0, *trims: HandWork) -> Hooping:
    """Low cloth from -20 to 20; a new one with its raw edge 5 past the line x = 0, sewn at ``x``; trimmed, flipped."""
    first = (Hoop(("net",), "Hoop."), lay("low", box(-20, -20, 20, 20)))
    seam = sew(2, (lay("new", box(-30, -20, 5, 20), Face.DOWN),), [(x, -18.0), (x, 18.0)], "new")
    hands = (
        Trim("new", None, "Trim."),
        Flip("new", LINE, box(0, -20, 30, 20), "Flip."),
        Press("new", "Press."),
        *trims,
    )
    return hooping(sew(1, first, [(-19.0, 0.0), (-10.0, 0.0)]), seam, after=hands)


def bounds(stack: Stack, sheet: str) -> list[tuple[float, ...]]:
    return [p.region.bounds for p in stack.of(sheet)]


def test_each_step_leaves_its_stack_and_the_end_comes_last() -> None:
    stacks = replay(pieced(), BENCH)
    assert [order(s) for s in stacks] == [
        [("net", "up"), ("low", "up")],
        [("net", "up"), ("low", "up"), ("new", "down")],
        [("net", "up"), ("low", "up"), ("new", "down"), ("new", "up")],
    ]
    assert order(stack_after(pieced(), 2, BENCH)) == order(stacks[1])
    assert len(stack_after(pieced(), 2, BENCH, stitched=False).joins) == 1
    assert order(stack_after(pieced(), 3, BENCH)) == order(stacks[2])


def test_the_foundation_reaches_past_the_field() -> None:
    (net,) = replay(pieced(), BENCH)[0].of("net")
    assert net.foundation
    assert net.region.bounds == (-65.0, -65.0, 65.0, 65.0)


def test_trimming_under_a_seam_leaves_the_allowance_and_a_flip_opens() -> None:
    end = replay(pieced(), BENCH)[-1]
    assert bounds(end, "low") == [(-20.0, -20.0, 5.0, 20.0)]
    assert bounds(end, "new") == [(0.0, -20.0, 5.0, 20.0), (0.0, -20.0, 30.0, 20.0)]


def test_a_flip_follows_the_line_that_was_sewn_not_the_one_told() -> None:
    end = replay(pieced(2.0), BENCH)[-1]
    assert bounds(end, "new")[1] == (2.0, -20.0, 34.0, 20.0)
    assert seam_of(end, "new") == ((2.0, 18.0), (2.0, -18.0)) or seam_of(end, "new") == ((2.0, -18.0), (2.0, 18.0))


def test_a_flip_that_nothing_holds_is_made_about_the_line_told() -> None:
    end = replay(pieced(8.0), BENCH)[-1]
    assert seam_of(end, "new") is None
    assert bounds(end, "new") == [(0.0, -20.0, 5.0, 20.0), (0.0, -20.0, 30.0, 20.0)]
    assert bounds(end, "low") == [(-20.0, -20.0, 20.0, 20.0)]


def test_what_a_clip_will_uncover_is_not_trimmed_below() -> None:
    """The new cloth is cut back above y = 10 after the flip, so the low one stays whole there."""
    clip = Trim("new", box(-50, 10, 50, 50), "Cut.")
    end = replay(pieced(0.0, clip), BENCH)[-1]
    (low,) = end.of("low")
    assert low.region.area == pytest.approx(40 * 40 - 15 * 30)
    assert bounds(end, "new")[1] == (0.0, -20.0, 30.0, 10.0)


def test_a_piece_may_be_folded_before_it_is_laid_or_afterwards() -> None:
    strip = box(-10, -10, 10, 10)
    laid = replay(hooping(after=(lay("tab", strip, Face.DOWN, fold=((0.0, -10.0), (0.0, 10.0))),)), BENCH)[-1]
    assert order(laid) == [("tab", "down"), ("tab", "up")]
    folded = replay(hooping(after=(lay("tab", strip), Fold(("tab",), LINE, Side.UNDER, "Fold."))), BENCH)[-1]
    assert order(folded) == [("tab", "down"), ("tab", "up")]
    assert bounds(folded, "tab") == [(-10.0, -10.0, 0.0, 10.0)] * 2


def test_work_is_released_turned_flipped_over_and_closed() -> None:
    body = box(-30, -20, 30, 20)
    ring = [(10.0, 20.0), (30.0, 20.0), (30.0, -20.0), (-30.0, -20.0), (-30.0, 20.0), (-10.0, 20.0)]
    hands = (
        Hoop(("net",), "Hoop."),
        lay("base", body),
        lay("wall", box(-30, -20, 30, 5), Face.DOWN),
        lay("lining", body, Face.DOWN),
    )
    gap = LineString([(-10, 20), (10, 20)])
    after = (
        Release("Out.", foundation_goes=True),
        Turn(gap, "base", "lining", "Turn."),
        Flip("wall", LINE, body, "Flip it over to the lining's side."),
        Close(gap, "Close."),
    )
    end = replay(hooping(sew(1, hands, ring), after=after), BENCH)[-1]
    assert order(end) == [("wall", "down"), ("lining", "down"), ("base", "up")]
    assert end.turned and not end.hooped
    assert end.joins[-1].name == CLOSED_BY_HAND
    assert {h.sheet for h in end.joins[-1].held} == {"base", "lining"}


def test_every_block_of_the_demo_leaves_one_join_and_none_binds_an_edge() -> None:
    made = flap()
    end = replay(made.hoopings[0], bench_of(made.project))[-1]
    assert {j.binds for j in end.joins} == {0.0}
    assert [j.step for j in end.joins] == [s.index for s in made.hoopings[0].steps]
