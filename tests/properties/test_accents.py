"""Every motif holds together over the whole range of its settings."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.needle.accents.proof import faults_of
from hoopwright.needle.accents.sew import sewn_accent
from hoopwright.needle.accents.shapes import AccentWish
from hoopwright.needle.accents.table import MOTIFS
from hoopwright.needle.accents.wishes import least_size, wish_faults
from hoopwright.needle.maps import thread_map
from hoopwright.needle.shapes import Hooping, Run, Step
from hoopwright.operations.vocabulary import DrawnStyle, Role, Stitch

HEAVY = 15.0
"""Three columns one over another, mm of thread on a square millimetre (calculated; see hoopwright.checks.build_up)."""


@st.composite
def wishes(draw: st.DrawFn, most: float = 65.0) -> AccentWish:
    """Return a wish that is not refused; large ones take long and are left to the soak."""
    motif = MOTIFS[draw(st.sampled_from(sorted(MOTIFS)))]
    lobes = draw(st.none() | st.integers(motif.lobes[0], motif.lobes[2]))
    least = least_size(AccentWish(motif.name, motif.least, lobes))
    size = draw(st.floats(least, max(least, min(most, motif.most))))
    return AccentWish(motif.name, size, lobes, draw(st.floats(0.0, 1.0)), draw(st.integers(0, 50)))


def holds(wish: AccentWish) -> None:
    assert wish_faults(wish, "make", "mm") == ()
    accent = sewn_accent(wish)
    left, low, right, high = accent.outline.bounds
    assert abs(max(right - left, high - low) - wish.size) < 0.1
    lengths = np.hypot(*np.diff(accent.points, axis=0).T)
    assert lengths.min() >= 1.0 - 1e-9 and lengths.max() <= 7.0
    assert faults_of((accent.points,)) == ()


def thickest(wish: AccentWish) -> float:
    stitch = Stitch(Role.ACCENT, "accent", "chalk", (), DrawnStyle(()), "It is sewn.")
    step = Step(1, stitch, (), (Run(sewn_accent(wish).points),))
    return float(thread_map(Hooping("accent", "Accent", "accent", 0, (step,))).thread.max())


@settings(max_examples=5)
@given(wishes())
def test_an_accent_that_is_not_refused_holds_together(wish: AccentWish) -> None:
    holds(wish)


@settings(max_examples=25)
@given(wishes())
def test_thread_does_not_pile_up_on_more_than_three_columns(wish: AccentWish) -> None:
    assert thickest(wish) < HEAVY


@pytest.mark.soak
@settings(max_examples=300)
@given(wishes(150.0))
def test_every_accent_that_is_not_refused_holds_together(wish: AccentWish) -> None:
    holds(wish)
