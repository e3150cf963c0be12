"""The estimate against published figures; the source stands beside each check."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hoopwright.estimate import EstimateSettings, estimate
from hoopwright.estimate.thread import lockstitch_thread, top_metres
from hoopwright.estimate.time import sewing_minutes, step_lengths
from tests.estimate.plans import plan
from tests.outputs.machine_hoopings import hooping, step


def test_twelve_thousand_stitches_at_six_hundred_are_twenty_minutes() -> None:
    """Arithmetic of the trade: 12,000 / 600 = 20.0; stitches of 2.5 mm are sewn at full speed."""
    assert sewing_minutes(np.full(11_999, 2.5), 12_000, 0, 600) == pytest.approx(20.0)


def test_that_holds_through_the_whole_estimate() -> None:
    line = [(float(i % 2) * 2.5, 0.0) for i in range(12_000)]
    got = estimate(plan([hooping([line])]))
    assert got.machine - 0.1 == pytest.approx(20.0)  # and one cut of six seconds


@pytest.mark.parametrize(("length", "thickness", "thread"), [(2.5, 0.6, 6.2), (2.5, 1.5, 8.0), (2.0, 1.0, 6.0)])
def test_lockstitch_thread(length: float, thickness: float, thread: float) -> None:
    """2(L + T): textilecalculation.blogspot.com/2015/06/how-to-calculate-amount-of-sewing.html."""
    assert lockstitch_thread(length, thickness) == pytest.approx(thread)


@pytest.mark.parametrize(("thickness", "ratio"), [(0.6, 2.48), (1.5, 3.20)])
def test_ratio_of_thread_to_seam(thickness: float, ratio: float) -> None:
    """The same source; 2.5 for class 301 in "Stitch type classification guide" lies between."""
    assert lockstitch_thread(2.5, thickness) / 2.5 == pytest.approx(ratio)
    seam = top_metres(np.full(400, 2.5), thickness, 0.0) * 2  # a metre of seam, needle and bobbin
    assert seam == pytest.approx(ratio)


def test_per_inch() -> None:
    """2 + 2TS inches of thread an inch of seam: T 0.010, S 10 gives 2.20 (the same source)."""
    stitches, thickness = 10, 0.010
    assert lockstitch_thread(1 / stitches, thickness) * stitches == pytest.approx(2.20)


def test_half_is_needle_thread() -> None:
    assert top_metres(np.array([2.5]), 0.6, 0.0) * 1000 == pytest.approx(6.2 / 2)


def test_a_satin_column() -> None:
    """Width 4, spacing 0.4: 2 sqrt(w^2 + (p/2)^2) / p = 20.025 mm of top thread a mm (calculated)."""
    column = step(1, [[(0.2 * i, 4.0 * (i % 2)) for i in range(1001)]])
    length = 200.0
    assert top_metres(step_lengths(column), 0.0, 0.0) * 1000 / length == pytest.approx(20.025, abs=5e-4)
    assert 2 * math.hypot(4, 0.2) / 0.4 == pytest.approx(20.025, abs=5e-4)


def test_five_metres_a_thousand_stitches() -> None:
    """About 5 m top thread a thousand stitches of machine embroidery, give or take 40 % (melgeecrafts.com)."""
    rng = np.random.default_rng(8)
    line = np.cumsum(rng.choice([-1, 1], (1001, 2)) * rng.uniform(1.0, 2.8, (1001, 2)), axis=0)
    got = estimate(plan([hooping([[tuple(p) for p in line.tolist()]])]))
    assert 3.0 <= got.threads[0].metres <= 7.0


def test_the_default_waste_lies_between_the_published_ones() -> None:
    """10 to 20 %: the sources differ ("Estimating Thread Consumption"; apparelscience.com)."""
    assert 0.10 <= EstimateSettings().waste <= 0.20
