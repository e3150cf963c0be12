"""Facts of stitch files, reckoned by hand."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from hoopwright.outputs.machine.facts import StitchFacts, facts
from hoopwright.outputs.machine.write import machine_files
from hoopwright.stitchfiles.read import read_stitches
from tests.outputs.machine_hoopings import FIELD, hooping, project, wandering


def of(plan: object, speed: float = 600) -> StitchFacts:
    file = machine_files(plan, project(kinds=["dst"]), FIELD, "t")[0][0]  # type: ignore[arg-type]
    return facts(read_stitches(file.data, file.name), speed)


def test_facts_of_a_small_file() -> None:
    got = of(hooping([[(0, 0), (3, 0), (3, 4)], [(10, 4), (10, 2)]], [[(10, -6), (12, -6)]]))
    assert [got.width, got.height] == pytest.approx([12, 10])
    assert (got.blocks, got.halts, got.stitches, got.trims) == (2, 1, 7, 3)
    assert [got.longest, got.shortest] == pytest.approx([4, 2])
    assert got.minutes == pytest.approx(7 / 600 + 3 * 0.1)
    assert got.densest == 2
    assert list(got.densest_at) == pytest.approx([10, 3])  # two holes lie 1 mm from there


def test_one_needle_hole() -> None:
    got = of(hooping([[(1, 2)]]))
    assert (got.width, got.height, got.longest, got.shortest, got.densest, got.densest_at) == (0, 0, 0, 0, 1, (1, 2))


def test_density_counts_different_holes_only() -> None:
    once = [(0.0, 0.0), (0.3, 0.0), (0.0, 0.3), (5.0, 5.0)]
    assert of(hooping([once])).densest == 3
    assert of(hooping([once * 3])).densest == 3


def test_density_against_brute_force() -> None:
    plan = wandering(11, 600)
    file = machine_files(plan, project(kinds=["dst"]), FIELD, "t")[0][0]
    holes = {(round(x, 1), round(y, 1)) for x, y in read_stitches(file.data, file.name).points}
    knots = [(x / 2, y / 2) for x in range(-130, 131) for y in range(-130, 131)]
    table = np.array(sorted(holes))
    worst = max(int((((table - knot) ** 2).sum(axis=1) <= 1.0 + 1e-9).sum()) for knot in knots)
    assert of(plan).densest == worst >= 3


def test_longer_stitches_take_longer() -> None:
    short, long = ([(x, 0.0) for x in itertools.islice(itertools.cycle((0.0, length)), 100)] for length in (4.0, 8.0))
    assert of(hooping([long])).minutes > 1.5 * (of(hooping([short])).minutes - 0.1)
