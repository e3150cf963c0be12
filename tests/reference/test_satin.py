"""Columns of satin against what is published of them, and against the arithmetic of the zigzag."""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely.geometry import LineString

from hoopwright.items.parts.edge import PULL
from hoopwright.needle.columns.rails import column
from hoopwright.needle.columns.satin_edge import satin_edge
from hoopwright.operations.vocabulary import EdgeStyle, LetteringStyle


def thread(points: np.ndarray[tuple[int, int], np.dtype[np.float64]]) -> float:
    """Return millimetres of top thread on the cloth."""
    return float(np.hypot(*np.diff(points, axis=0).T).sum())


@pytest.mark.parametrize(
    ("width", "spacing", "known"), [(4.0, 0.4, 20.025), (3.0, 0.4, None), (5.0, 0.5, None), (2.0, 0.35, None)]
)
def test_thread_in_a_straight_column(width: float, spacing: float, known: float | None) -> None:
    """2 sqrt(w^2 + (p/2)^2) / p mm of top thread a mm of column: the zigzag goes over and back once in each spacing.

    For w 4 and p 0.4 that is 20.025.
    """
    rule = 2.0 * math.hypot(width, spacing / 2.0) / spacing
    assert known is None or rule == pytest.approx(known, abs=0.001)
    long = 70.0
    upper, lower = (LineString([(0, y), (long, y)]) for y in (width, 0.0))
    assert thread(column(upper, lower, spacing, 1.0, below="none")) / long == pytest.approx(rule, abs=0.001)
    middle = LineString([(0, 0), (long, 0)])
    assert thread(satin_edge(middle, EdgeStyle(width, spacing), 1.0)) / long == pytest.approx(rule, abs=0.001)


def test_what_is_added_for_the_pull_is_what_is_published() -> None:
    """Sewn columns come out narrower than drawn (Fibres & Textiles in Eastern Europe 2012, 20(3)); makers add 0.2 to 0.4 mm."""
    assert 0.2 <= PULL <= 0.4
    assert 0.2 <= LetteringStyle(("A",)).pull <= 0.4


def test_the_spacing_is_the_published_one() -> None:
    """0.4 mm, give or take 0.05 (mrxstitch.com, pull compensation)."""
    assert EdgeStyle(3.0).spacing == pytest.approx(0.4, abs=0.05)
    assert LetteringStyle(("A",)).spacing == pytest.approx(0.4, abs=0.05)
