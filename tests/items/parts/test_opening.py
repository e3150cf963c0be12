from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.core.findings import Severity
from hoopwright.items.parts.opening import (
    FINGERS,
    STEP,
    least_opening,
    opening_findings,
    proposed_opening,
    width_unused,
)
from tests.items.bags import project

sizes = st.floats(20, 400)
thin = st.floats(0.3, 8)


@given(sizes, thin, st.floats(0, 3))
def test_what_rolls_never_needs_more_than_what_must_pass_flat(width: float, thickness: float, stiffener: float) -> None:
    assert least_opening(width, thickness, stiffener) <= least_opening(width, thickness, stiffener, rolls=False)


@given(sizes, thin, st.floats(0, 2))
def test_wider_thicker_or_stiffer_work_needs_no_less(width: float, thickness: float, stiffener: float) -> None:
    least = least_opening(width, thickness, stiffener)
    assert least_opening(width + 10, thickness, stiffener) >= least
    assert least_opening(width, thickness + 1, stiffener) >= least
    assert least_opening(width, thickness, stiffener + 0.5) >= least - 1e-9


@given(st.floats(1, 300))
def test_the_proposal_is_a_whole_step_and_wide_enough(least: float) -> None:
    wide = proposed_opening(least)
    assert wide % STEP == 0.0
    assert least <= wide < least + STEP + 1e-9


@pytest.mark.parametrize(
    ("given_width", "room", "code"),
    [(20.0, 80.0, "HW413"), (41.0, 80.0, "HW413"), (90.0, 80.0, "HW414"), (None, 44.0, "HW414")],
)
def test_openings_that_will_not_do(given_width: float | None, room: float, code: str) -> None:
    (finding,) = opening_findings(project("panel"), given_width, 42.0, room, "a stiff body", "make.opening_width")
    assert finding.code == code
    assert finding.where.path == "make.opening_width"


@pytest.mark.parametrize(("given_width", "room"), [(42.0, 42.0), (None, 45.0), (60.0, 80.0)])
def test_openings_that_do(given_width: float | None, room: float) -> None:
    assert opening_findings(project("panel"), given_width, 42.0, room, "a stiff body", "make.opening_width") == ()


def test_the_cure_of_want_of_room_names_what_else_can_be_done() -> None:
    rows = opening_findings(project("panel"), None, 42.0, 30.0, "it", "make.opening", instead="turn it elsewhere")
    assert rows[0].cure.endswith("turn it elsewhere")
    rigid = opening_findings(project("panel"), None, 42.0, 30.0, "it", "make.opening", rolls=False)
    assert "rolls" in rigid[0].cure


def test_a_board_passes_flat() -> None:
    assert least_opening(100.0, 3.0, 3.0, rolls=False) == 103.0 + FINGERS


def test_the_largest_width_that_fits_is_offered_first() -> None:
    (finding,) = opening_findings(project("panel"), 90.0, 42.0, 64.07, "it", "make.opening_width")
    assert finding.cure.startswith("Make it at most 64 mm, or leave it out.")
    (tight,) = opening_findings(project("panel"), 90.0, 42.0, 30.0, "it", "make.opening_width")
    assert "at most" not in tight.cure, "less would be too narrow for what must pass"


def test_a_width_that_is_not_used_is_told() -> None:
    (note,) = width_unused(60.0, False, "the opening lies in the lining")
    assert (note.code, note.severity, note.where.path) == ("HW416", Severity.NOTES, "make.opening_width")
    assert width_unused(60.0, True, "") == width_unused(None, False, "") == ()
