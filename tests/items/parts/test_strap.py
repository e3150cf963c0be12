from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, box

from hoopwright.cloth.replay import after_hands, bench_of
from hoopwright.cloth.shapes import Stack
from hoopwright.items.parts.strap import CLEAR, Strap, longest_loop, strap_hands, strap_piece
from hoopwright.items.recipe import NoSettings, Workshop
from hoopwright.operations.vocabulary import Face, Lay
from tests.items.bags import project, size

SHOP = Workshop(project("panel"), NoSettings())


def lying(strap: Strap) -> Stack:
    piece = strap_piece(SHOP, "tape", strap)
    return after_hands(Stack(), strap_hands(SHOP, piece, strap), bench_of(SHOP.project))


@given(
    st.floats(50, 200).flatmap(lambda w: st.tuples(st.just(w), st.floats(10, longest_loop(w)))),
    st.floats(4, 30),
    st.sampled_from([1, -1]),
)
def test_the_loop_keeps_clear_of_the_other_seam_and_its_ends_meet_the_edge(
    sizes: tuple[float, float], width: float, side: int
) -> None:
    body, loop = sizes
    layers = lying(Strap(width, loop, body, 0.0, side)).of("strap")
    opposite = LineString([(-side * body / 2, -50), (-side * body / 2, 50)])
    assert all(p.region.distance(opposite) >= CLEAR - 1e-6 for p in layers)
    edge = side * (body / 2 + SHOP.project.piecing.allowance)
    ends = [p for p in layers if min(abs(p.region.bounds[0] - edge), abs(p.region.bounds[2] - edge)) < 1e-6]
    assert len(ends) == 2
    assert sum(p.region.area for p in layers) == pytest.approx(
        2 * (loop + SHOP.project.piecing.allowance) * width, rel=1e-6
    )


def test_the_loop_shows_its_right_side_on_both_sides() -> None:
    assert [p.face for p in lying(Strap(10, 60, 90, 0, 1)).of("strap")] == [Face.DOWN, Face.UP]


def test_a_long_loop_is_folded_back_once() -> None:
    layers = lying(Strap(10, 140, 94, 0, 1)).of("strap")
    assert len(layers) == 4
    assert all(box(-37.001, -5.001, 54, 5.001).contains(p.region) for p in layers)


def test_a_strap_of_cloth_is_cut_four_times_as_wide_and_lies_folded() -> None:
    strap = Strap(10, 60, 90, 0, 1)
    strip, ribbon = strap_piece(SHOP, "indigo", strap), strap_piece(SHOP, "tape", strap)
    s = SHOP.project.piecing.allowance
    assert size(strip.cut) == pytest.approx((2 * (60 + s), 40))
    assert "40 mm wide" in strip.note
    assert size(ribbon.cut) == pytest.approx((2 * (60 + s), 10))
    for piece in (strip, ribbon):
        lay = strap_hands(SHOP, piece, strap)[0]
        assert isinstance(lay, Lay)
        assert size(lay.pose) == pytest.approx((2 * (60 + s), 10))


@pytest.mark.parametrize(("loop", "side"), [(40.0, 1), (150.0, 1), (150.0, -1)])
def test_what_is_said_of_the_loop_is_how_it_lies(loop: float, side: int) -> None:
    """Told from the raw edge of the body, which can be seen; the seam line lies under the cloth."""
    strap = Strap(15.0, loop, 100.0, 0.0, side)
    allowance = SHOP.project.piecing.allowance
    raw = LineString([(-side * (50.0 + allowance), -50), (-side * (50.0 + allowance), 50)])
    nearest = min(p.region.distance(raw) for p in lying(strap).of("strap"))
    assert nearest >= CLEAR + allowance - 1e-6
    words = strap_hands(SHOP, strap_piece(SHOP, "tape", strap), strap)[-1].sentence
    assert f"no part of it nearer than {SHOP.length(CLEAR + allowance)}" in words
    assert words.endswith("at the left." if side > 0 else "at the right.")
