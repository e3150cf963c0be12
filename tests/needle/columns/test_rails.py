from __future__ import annotations

import numpy as np
import pytest
from shapely.geometry import LineString

from hoopwright.needle.columns.rails import column, evenly, spokes_between, widened

UPPER = LineString([(0, 3), (20, 6), (40, 3)])
LOWER = LineString([(0, 0), (20, -1), (40, 0)])


def test_holes_lie_on_both_rails_and_as_close_as_the_spacing() -> None:
    points = column(UPPER, LOWER, 0.4, 1.0, below="none")
    on = [
        np.array([line.distance(LineString([p, p + 1e-9])) for p in points[k::2]])
        for k, line in enumerate((UPPER, LOWER))
    ]
    assert all(off.max() < 0.03 for off in on)
    gaps = np.hypot(*np.diff(points[::2], axis=0).T)
    assert gaps.max() <= 0.4 + 1e-6
    assert gaps.mean() == pytest.approx(0.4, abs=0.01)


def test_pull_widens_every_spoke_alike() -> None:
    spokes = spokes_between(UPPER, LOWER)
    width = np.hypot(*(spokes[:, 1] - spokes[:, 0]).T)
    wide = widened(spokes, 0.4)
    assert np.hypot(*(wide[:, 1] - wide[:, 0]).T) == pytest.approx(width + 0.4)
    assert wide.mean(axis=1) == pytest.approx(spokes.mean(axis=1))


def test_spokes_are_drawn_out_to_the_least_width() -> None:
    spokes = spokes_between(LineString([(0, 0.1), (9, 0.1)]), LineString([(0, 0), (9, 0)]))
    assert np.hypot(*(widened(spokes, 0.2, 1.0)[:, 1] - widened(spokes, 0.2, 1.0)[:, 0]).T) == pytest.approx(1.0)


def test_spokes_are_spaced_by_the_longer_rail() -> None:
    t = np.linspace(0, np.pi / 2, 100)
    way = np.column_stack([np.cos(t), np.sin(t)])
    spokes = evenly(np.stack([5 * way, 2 * way], axis=1), 0.4)
    assert np.hypot(*np.diff(spokes[:, 0], axis=0).T).max() <= 0.2 + 1e-9


def test_the_underlay_comes_first_unless_none_is_wished() -> None:
    plain, held = column(UPPER, LOWER, 0.4, 1.0, below="none"), column(UPPER, LOWER, 0.4, 1.0)
    assert len(held) > len(plain) + 20
    assert held[-len(plain) + 2 :] == pytest.approx(plain[2:])
