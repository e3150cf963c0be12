from __future__ import annotations

import math

import numpy as np
import pytest

from hoopwright.needle.columns.rounding import ARC_DEGREES, rounded


def bends(points: np.ndarray[tuple[int, int], np.dtype[np.float64]]) -> float:
    ways = np.diff(points, axis=0)
    angles = np.arctan2(ways[:, 1], ways[:, 0])
    return float(np.degrees(np.abs((np.diff(angles) + math.pi) % (2 * math.pi) - math.pi)).max())


@pytest.mark.parametrize("turn", [30, 60, 90, 120, 150])
def test_a_corner_becomes_an_arc_of_the_radius(turn: float) -> None:
    a = math.radians(turn)
    line = np.array([[-50.0, 0.0], [0.0, 0.0], [50.0 * math.cos(a), 50.0 * math.sin(a)]])
    soft = rounded(line, 2.0)
    assert bends(soft) <= ARC_DEGREES + 1e-6
    centre = np.array([-2.0 * math.tan(a / 2), 2.0])
    assert np.hypot(*(soft[1:-1] - centre).T) == pytest.approx(2.0)
    assert soft[0] == pytest.approx(line[0])
    assert soft[-1] == pytest.approx(line[-1])


def test_a_closed_line_stays_closed_and_loses_its_first_corner_too() -> None:
    square = np.array([[0.0, 0.0], [20.0, 0.0], [20.0, 20.0], [0.0, 20.0], [0.0, 0.0]])
    soft = rounded(square, 3.0)
    assert soft[0] == pytest.approx(soft[-1])
    assert bends(np.vstack([soft, soft[1:2]])) <= ARC_DEGREES + 1e-6
    assert np.hypot(*soft.T).min() == pytest.approx(3.0 * math.sqrt(2) - 3.0)


def test_a_short_leg_takes_a_smaller_arc() -> None:
    soft = rounded(np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 30.0]]), 5.0)
    assert soft[:, 0].max() <= 1.0 + 1e-9
    assert bends(soft) <= ARC_DEGREES + 1e-6
