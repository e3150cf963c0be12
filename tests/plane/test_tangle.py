from __future__ import annotations

import math
import random
from itertools import combinations

import numpy as np
import shapely
from shapely.geometry import LineString

from hoopwright.plane.tangle import is_tangled


def scribble(count: int) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    chance = random.Random(3)
    return np.array([(chance.random(), chance.random()) for _ in range(count)])


def test_crossings_are_counted_as_each_pair_by_itself_counts_them() -> None:
    row = scribble(60)
    pieces = [LineString(row[k : k + 2]) for k in range(len(row) - 1)]
    crossings = sum(bool(shapely.crosses(a, b)) for a, b in combinations(pieces, 2))
    assert crossings > 100
    assert not is_tangled([row], len(pieces) ** 2, crossings)
    assert is_tangled([row], len(pieces) ** 2, crossings - 1)


def test_a_long_plain_line_is_not_tangled_and_a_short_wild_one_is() -> None:
    circle = np.array([(math.cos(t), math.sin(t)) for t in np.linspace(0.0, 2.0 * math.pi, 20_000)])
    assert not is_tangled([circle], 3 * len(circle) + 10, 0)
    assert is_tangled([scribble(1_000)], 3 * 20_000)


def test_no_lines_are_not_tangled() -> None:
    assert not is_tangled([], 0) and not is_tangled([np.zeros((1, 2))], 0)
