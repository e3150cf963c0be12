"""Fine, bold and corded rows: lengths, holes, thread and minutes."""

from __future__ import annotations

import math
from typing import TypeAlias

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from shapely.geometry import LineString, Polygon, box

from hoopwright.core.tolerances import MERGE, SAME_PLACE
from hoopwright.estimate.time import sewing_minutes
from hoopwright.needle.seam_stitches import SEAM_STITCHES, sew_seam_stitch
from hoopwright.needle.seam_stitches.cord import cord_width, stations
from hoopwright.operations.vocabulary import OrnamentStyle
from tests.needle.seam_rows import DISC, Weight, gaps, holes_of, most_in_a_disc, sew, straight, style_of, thickest

NAMES = sorted(SEAM_STITCHES)
WEIGHTS: tuple[Weight, ...] = ("fine", "bold", "corded")
FINEST = 0.6
MOST_THREAD = 14.0
"""More thread than this on a square millimetre is a lump (HW608)."""

Case: TypeAlias = tuple[OrnamentStyle, float, float, float]


@st.composite
def cases(draw: st.DrawFn) -> Case:
    """A row with everything that a project file can ask for, its length, shortest and longest stitch."""
    stitch = SEAM_STITCHES[draw(st.sampled_from(NAMES))]
    weight = draw(st.sampled_from(WEIGHTS))
    width = draw(st.floats(stitch.least(weight), 20.0))
    repeat = draw(st.none() | st.floats(2.0, 60.0))
    wish = stitch.proportion * width if repeat is None else repeat
    length = draw(st.floats(max(6.0, 0.61 * wish + 3.0), max(60.0, wish + 3.0)))
    style = OrnamentStyle(
        stitch.name,
        width,
        repeat,
        sides=draw(st.none() | st.sampled_from(stitch.sides)) if stitch.sides else None,
        spacing=draw(st.sampled_from([0.0, 0.0, 2.5, 9.0])),
        ease=draw(st.sampled_from([0.0, 0.0, 4.0])),
        taper=draw(st.sampled_from([0.0, 0.0, 12.0])),
        weight=weight,
    )
    return style, length, draw(st.floats(0.2, 2.0)), draw(st.floats(2.0, 12.0))


@settings(deadline=None, max_examples=80)
@given(cases())
def test_every_stitch_is_neither_too_short_nor_too_long_and_stays_in_the_width(case: Case) -> None:
    style, length, shortest, longest = case
    for row in sew_seam_stitch(straight(length), style, shortest, longest):
        assert gaps(row).min() >= max(FINEST, min(shortest, longest / 2)) - 2 * SAME_PLACE
        assert gaps(row).max() <= longest + 2 * SAME_PLACE
        wide = max(style.width, cord_width(min(2.0, shortest)) if style.weight == "corded" else 0.0)
        assert np.abs(row[:, 1]).max() <= wide / 2 + MERGE
        assert row[:, 0].min() >= -SAME_PLACE * 2 and row[:, 0].max() <= length + 2 * SAME_PLACE


@settings(deadline=None, max_examples=40)
@given(cases(), st.floats(0.5, 7.0), st.floats(0.5, 7.0), st.floats(-0.6, 0.6))
def test_nothing_leaves_the_clip(case: Case, above: float, below: float, slant: float) -> None:
    style, length, shortest, longest = case
    clip = Polygon([(-slant * below, -below), (length, -below), (length + slant * above, above), (0.0, above)])
    clipped = OrnamentStyle(
        style.stitch,
        style.width,
        style.repeat,
        clip=clip,
        sides=style.sides,
        spacing=style.spacing,
        weight=style.weight,
    )
    grown = clip.buffer(2 * MERGE, join_style="mitre")
    for row in sew_seam_stitch(straight(length), clipped, shortest, longest):
        assert grown.covers(LineString(row))


@pytest.mark.parametrize("name", NAMES)
def test_a_corded_row_neither_cuts_the_cloth_nor_makes_a_lump(name: str) -> None:
    """At most 4 holes and 14 mm of thread a square millimetre (3 to 4 holes: from memory of the trade)."""
    for length in (47.0, 60.0):
        row = sew(straight(length), style_of(name, "corded"))
        assert most_in_a_disc(row) <= DISC + 1
        assert thickest(row) <= MOST_THREAD


@pytest.mark.parametrize("name", NAMES)
def test_plain_thread_keeps_far_from_the_limit(name: str) -> None:
    for weight in ("fine", "bold"):
        assert most_in_a_disc(sew(straight(50.0), style_of(name, weight))) <= DISC / 2


@pytest.mark.parametrize("name", NAMES)
def test_fine_and_bold_rows_have_the_same_holes_and_fine_ones_fewer_stitches(name: str) -> None:
    fine, bold = (sew(straight(50.0), style_of(name, w)) for w in ("fine", "bold"))
    assert_allclose(holes_of(fine), holes_of(bold), atol=0.11)
    assert len(fine) < len(bold) <= 3 * len(fine)


def test_a_straight_line_is_drawn_once_thrice_or_as_satin() -> None:
    """The ridge of a blanket stitch between two legs: counted by the times the thread passes its middle."""

    def passes(row: np.ndarray, x: float) -> int:
        return int(np.count_nonzero((row[:-1, 0] - x) * (row[1:, 0] - x) < 0))

    middles = {w: sew(straight(40.0), style_of("blanket", w, repeat=10.0)) for w in WEIGHTS}
    assert passes(middles["fine"], 4.0) == 1
    assert passes(middles["bold"], 4.0) == 3
    assert passes(middles["corded"], 4.0) >= 2


def test_a_cord_is_between_one_and_one_and_a_half_millimetres_wide_and_closed() -> None:
    row = sew(straight(40.0), style_of("blanket", "corded", repeat=12.0, sides="left"))
    ridge = row[(row[:, 0] > 14.0) & (row[:, 0] < 22.0) & (np.abs(row[:, 1]) < 0.8)]
    assert 1.0 <= np.ptp(ridge[:, 1]) <= 1.4
    for rail in (ridge[:, 1] > 0.3, ridge[:, 1] < -0.3):
        along = np.unique(np.round(ridge[rail, 0], 6))
        assert np.diff(along).min() >= 0.4 and np.diff(along).max() <= 0.5


def test_a_corded_row_begins_and_ends_in_one_place() -> None:
    for name in ("feather", "herringbone", "cretan", "fan", "chain"):
        row = sew(straight(60.0), style_of(name, "corded"))
        assert math.dist(row[0], row[-1]) <= 2.0


def test_no_cord_is_narrower_than_its_shortest_stitch() -> None:
    row = sew(straight(60.0), style_of("blanket", "corded", width=14.0), 1.6, 7.0)
    assert gaps(row).min() >= 1.6 - 2 * SAME_PLACE
    assert cord_width(1.6) > 1.6


def test_a_cord_that_finds_no_room_becomes_plain_thread() -> None:
    band = box(-1.0, -0.4, 61.0, 0.4)
    row = sew(straight(60.0), style_of("feather", "corded", clip=band))
    assert band.buffer(MERGE).covers(LineString(row))
    assert row[:, 0].max() > 55.0


def minutes(*rows: np.ndarray, speed: float = 650.0) -> float:
    """Return how long rows take as blocks of their own, one cut of the thread each."""
    return sum(sewing_minutes(gaps(row), len(row), 1, speed) for row in rows)


def test_a_richly_sewn_seam_of_a_small_flap_takes_four_or_five_minutes() -> None:
    """Common practice, no source: the decorative run along one seam of a small flap, about 100 mm, at 600 to 700 a minute."""
    base = style_of("wheatear", "corded")
    over = style_of("coral", "corded", under=base)
    rich = minutes(*(sew(straight(100.0), s) for s in (base, over)))
    assert 3.0 <= rich <= 5.5
    lace = style_of("vandyke", "corded")
    knots = style_of("zigzag-coral", "corded", under=lace, width=8.0)
    assert 4.0 <= minutes(*(sew(straight(100.0), s) for s in (lace, knots))) <= 6.0


@pytest.mark.parametrize("name", NAMES)
def test_corded_rows_take_minutes_and_fine_ones_well_under_one(name: str) -> None:
    fine, bold, corded = (minutes(sew(straight(100.0), style_of(name, w))) for w in WEIGHTS)
    assert fine < bold < corded
    assert fine <= 1.2 and 0.8 <= corded <= 4.5


def test_stations_stand_evenly_and_fan_out_round_a_bend() -> None:
    line = [((x, y), a) for (x, y), a, _ in stations([(0.0, 0.0), (9.0, 0.0)], 0.55)]
    assert_allclose(np.diff([p[0] for p, _ in line]), 0.225)
    assert {a for _, a in line} == {(-0.0, 1.0)}
    bend = [(p, a, k) for p, a, k in stations([(0.0, 0.0), (3.0, 0.0), (3.0, 3.0)], 0.55)]
    turned = [a for p, a, k in bend if p == (3.0, 0.0)]
    assert len(turned) >= 3 and all(-1.0 < a[0] < 0.0 for a in turned[:-1])
