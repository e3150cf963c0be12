"""The measures of the rules against plain counting, without tables."""

from __future__ import annotations

import math
from itertools import combinations

import pytest

from hoopwright.checks.columns import columns_of
from hoopwright.checks.perforation import LONGEST, PITCH, rows_do_not_tear
from hoopwright.checks.turns import SPOT, short_turns
from hoopwright.needle.needlework import needlework
from hoopwright.needle.shapes import Hooping
from tests.checks.drawn import Row, lattice, line, moved, satin, thinned, walk
from tests.checks.hand_made import plan_of

SEEDS = range(6)


def hooping(rows: list[Row]) -> Hooping:
    return plan_of(*rows).hoopings[0]


def chains(holes: list[tuple[float, float]]) -> list[set[int]]:
    """Groups of holes that hang together, by plain merging."""
    groups = [{i} for i in range(len(holes))]
    for a, b in combinations(range(len(holes)), 2):
        if math.dist(holes[a], holes[b]) <= PITCH + 1e-9:
            one, other = (next(g for g in groups if k in g) for k in (a, b))
            if one is not other:
                one |= other
                groups.remove(other)
    return groups


@pytest.mark.parametrize("turn", [0.0, 17.0, 45.0, 90.0])
@pytest.mark.parametrize(("times", "shift"), [(4, 0.5), (8, 0.25), (10, 0.2), (7, 0.2857), (9, 0.2222)])
def test_a_row_tears_when_plain_merging_makes_it_long(turn: float, times: int, shift: float) -> None:
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    rows = [moved(line(16, 2.0, turn=turn), c * shift * k, s * shift * k) for k in range(times)]
    holes = sorted({(round(x, 1), round(y, 1)): (x, y) for row in rows for x, y in row}.values())
    longest = max(max(math.dist(holes[a], holes[b]) for a in g for b in g) for g in chains(holes))
    codes = [f.code for f in rows_do_not_tear(plan_of(*rows))]
    assert codes == (["HW609"] if longest > LONGEST else [])


def test_a_patch_of_close_holes_is_no_row() -> None:
    assert rows_do_not_tear(plan_of(*thinned(lattice(24, 0.25), 5))) == ()


def test_the_longest_row_is_named() -> None:
    short, long = line(6, 0.2), moved(line(11, 0.2), 0.0, 10.0)
    (finding,) = rows_do_not_tear(plan_of(short, long))
    assert "11 mm long" in finding.message and finding.where.operation == 2


@pytest.mark.parametrize("seed", SEEDS)
def test_short_turns_are_those_a_plain_walk_finds(seed: int) -> None:
    rows = walk(seed, reach=0.6)
    found = []
    number = 0
    for row in rows:
        for k in range(1, len(row) - 1):
            a, b, c = row[k - 1 : k + 2]
            came, goes = math.dist(a, b), math.dist(b, c)
            if 0 < came < 1.0 - 1e-6 and 0 < goes < 1.0 - 1e-6:
                way = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
                if way <= -0.5 * came * goes + 1e-12:
                    found.append(number + k)
        number += len(row)
    assert found and short_turns(needlework(hooping(rows))).tolist() == found
    assert SPOT == 1.0


@pytest.mark.parametrize("turn", [0.0, 33.0, 90.0, 200.0])
@pytest.mark.parametrize("width", [0.8, 1.5, 4.0, 7.5])
def test_a_column_is_measured_square_to_its_axis(width: float, turn: float) -> None:
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    row = [(c * x - s * y, s * x + c * y) for x, y in satin(20, width)]
    (column,) = columns_of(needlework(hooping([line(10, 2.5, (-30, 0)), row])))
    assert column.width == pytest.approx(width)
    assert len(column.positions) == len(row)


def test_a_slanted_column_is_as_wide_as_its_rails_are_apart() -> None:
    slanted = [(x, y + (1.0 if x else 0.0)) for x, y in satin(20, 3.0)]
    (column,) = columns_of(needlework(hooping([slanted])))
    assert column.width == pytest.approx(3.0)


@pytest.mark.parametrize("width", [1.5, 4.0])
def test_stitches_that_end_short_do_not_make_a_column_narrower(width: float) -> None:
    """On the inside of bends every other stitch ends a little short."""
    short = [(x + 0.5 if i % 4 == 2 else x, y) for i, (x, y) in enumerate(satin(20, width))]
    (column,) = columns_of(needlework(hooping([short])))
    inner = column.widths.round(9)[3:-3]
    assert set(inner.tolist()) == {width, width - 0.5}


def test_runs_of_one_step_make_columns_of_their_own() -> None:
    one, other = satin(10, 3.0), satin(10, 2.0, at=(10.0, 0.0))
    widths = [c.width for c in columns_of(needlework(hooping([one, other])))]
    assert widths == pytest.approx([3.0, 2.0])
