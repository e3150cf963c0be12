"""A row over another keeps its ends and repeats, falls into its bays and shares its holes."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import KDTree

from hoopwright.core.tolerances import SAME_PLACE
from hoopwright.core.types import Points
from hoopwright.needle.seam_stitches import SEAM_STITCHES, sew_seam_stitch
from hoopwright.operations.vocabulary import OrnamentStyle
from tests.needle.seam_rows import Weight, farthest, gaps, holes_of, most_in_a_disc, sew, straight, style_of, thickest

KNOT = np.array([[np.cos(k * np.pi / 3), np.sin(k * np.pi / 3)] for k in range(6)])
"""A knot is six holes on a circle, an eighth of the whole turn apart twice over: counted on drawings."""


def knots_of(row: Points) -> Points:
    """Return the middles of the knots of a row of bold thread: six holes on a circle of 0.5 to 0.7 mm."""
    holes = holes_of(row)
    tree = KDTree(holes)
    found = []
    for hole in holes:
        for size in (0.6, 0.7):
            middle = hole + np.array([size, 0.0])
            ring, _ = tree.query(middle + size * KNOT)
            if float(np.max(ring)) < 0.12:
                found.append(middle)
    return np.array(found)


def stacked(
    base: str, over: str, length: float, weights: tuple[Weight, Weight] = ("bold", "bold"), **more: object
) -> tuple[Points, Points]:
    below = style_of(base, weights[0])
    above = style_of(over, weights[1], under=below, **more)
    return sew(straight(length), below), sew(straight(length), above)


def test_knots_lie_in_the_bays_of_a_herringbone() -> None:
    """Each knot lies across the seam from a crossing: farther from every stitch of the row below than half a thread."""
    below, above = stacked("herringbone", "zigzag-coral", 60.0, width=4.0)
    knots = knots_of(above)
    assert len(knots) >= 2 * (60 // 5.4) - 2
    crossings = below[(np.abs(below[:, 1]) > 1.5) & (np.abs(below[:, 1]) < 2.6)]
    for knot in knots[1:-1]:
        near = crossings[np.abs(crossings[:, 0] - knot[0]) < 0.7]
        assert len(near) and (np.sign(near[:, 1]) == -np.sign(knot[1])).all()


@pytest.mark.parametrize("base", ["cretan", "fan", "feather", "knot-spray", "half-wheel"])
def test_motifs_stand_across_from_those_below(base: str) -> None:
    below, above = stacked(base, "lacing", 60.0, width=5.0)
    for x in np.linspace(12.0, 48.0, 25):
        outer = below[(np.abs(below[:, 0] - x) < 1.5) & (np.abs(below[:, 1]) > 0.8 * np.abs(below[:, 1]).max())]
        crest = above[(np.abs(above[:, 0] - x) < 1.0) & (np.abs(above[:, 1]) > 2.0)]
        if len(outer) and len(crest) and len(set(np.sign(outer[:, 1]))) == 1 and base != "feather":
            assert (np.sign(crest[:, 1]) == -np.sign(outer[0, 1])).all()


@pytest.mark.parametrize("turn", [False, True])
@pytest.mark.parametrize("mirror", [False, True])
def test_turned_and_mirrored_rows_below_take_their_bays_with_them(turn: bool, mirror: bool) -> None:
    plain = style_of("fan")
    moved = style_of("fan", turn=turn, mirror=mirror)
    one = sew(straight(58.0), style_of("zigzag-coral", under=plain))
    other = sew(straight(58.0), style_of("zigzag-coral", under=moved))
    expected = one
    expected = [58.0, 0.0] - expected if turn else expected
    expected = expected * [1.0, -1.0] if mirror and not turn else expected
    if mirror and turn:
        expected = expected * [1.0, -1.0]
    assert farthest(holes_of(np.asarray(expected)), holes_of(other)) < 0.3


def test_a_turned_row_over_another_falls_into_the_same_bays() -> None:
    below = style_of("herringbone")
    one, other = (sew(straight(60.0), style_of("zigzag-coral", under=below, turn=t)) for t in (False, True))
    a, b = knots_of(one), knots_of(other)
    off, _ = KDTree(a).query(b)
    assert np.median(off) < 0.3


def test_a_row_over_begins_and_ends_with_the_one_below() -> None:
    for base in ("herringbone", "feather", "star"):
        below, above = stacked(base, "coral", 63.0)
        assert abs(below[:, 0].min() - above[:, 0].min()) < 1.1 and abs(below[:, 0].max() - above[:, 0].max()) < 1.1


@pytest.mark.parametrize(("repeat", "times"), [(None, 1), (3.0, 2), (12.0, 0.5)])
def test_it_has_a_whole_number_of_repeats_for_each_below(repeat: float | None, times: float) -> None:
    """Star stitch 6 mm wide on 60 mm has ten repeats; coral has one knot in each of its own."""
    _, above = stacked("star", "coral", 60.0, repeat=repeat)
    assert len(knots_of(above)) == 10 * times


@pytest.mark.parametrize("base", ["herringbone", "feather", "cretan", "chevron", "wheatear"])
def test_two_corded_rows_share_their_holes(base: str) -> None:
    """No more than a fifth above the limit for one row, and no lump of thread (HW608: 14 mm a square millimetre)."""
    rows = stacked(base, "lacing", 60.0, ("corded", "corded"), width=SEAM_STITCHES[base].usual("corded") * 0.65)
    assert most_in_a_disc(*rows) <= 15
    assert thickest(*rows) <= 14.0
    apart = len(holes_of(rows[0])) + len(holes_of(sew(straight(60.0), style_of("lacing", "corded"))))
    assert len(holes_of(*rows)) < apart


@settings(deadline=None, max_examples=40)
@given(
    st.sampled_from(sorted(SEAM_STITCHES)),
    st.sampled_from(sorted(SEAM_STITCHES)),
    st.sampled_from([("bold", "fine"), ("corded", "bold"), ("corded", "corded")]),
    st.floats(20.0, 70.0),
    st.booleans(),
    st.booleans(),
)
def test_any_row_can_lie_over_any_other(
    base: str, over: str, weights: tuple[Weight, Weight], length: float, mirror: bool, turn: bool
) -> None:
    below = style_of(base, weights[0])
    above = style_of(over, weights[1], under=below, mirror=mirror, turn=turn)
    for row in sew_seam_stitch(straight(length), above, 1.0, 7.0):
        assert gaps(row).min() >= 1.0 - 2 * SAME_PLACE and gaps(row).max() <= 7.0 + 2 * SAME_PLACE
        assert row[:, 0].min() >= -SAME_PLACE * 2 and row[:, 0].max() <= length + 2 * SAME_PLACE


def test_without_the_row_below_there_is_none_over_it() -> None:
    short = OrnamentStyle("fan", 8.0)
    assert sew_seam_stitch(straight(4.0), style_of("coral", under=short), 1.0, 7.0) == ()
