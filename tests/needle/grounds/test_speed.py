"""Measurements of the drawing of grounds, started by make bench."""

from __future__ import annotations

import time

import pytest

from hoopwright.needle.grounds import clamshell, drawing, lines, motifs, vine
from hoopwright.needle.grounds.shapes import Ground
from tests.needle.grounds.parts import FLAP, usual

LIMIT = 0.060
"""Seconds of processor time for a flap of a hand's size in the usual spacing, without routing."""

pytestmark = pytest.mark.bench


@pytest.mark.parametrize(
    "ground", [g for family in (lines, clamshell, motifs, vine, drawing) for g in family.GROUNDS], ids=lambda g: g.name
)
def test_a_flap_is_drawn_at_once(ground: Ground) -> None:
    times = []
    for _ in range(5):
        start = time.process_time()
        ground.draw(FLAP, usual(ground))
        times.append(time.process_time() - start)
    assert sorted(times)[2] < LIMIT
