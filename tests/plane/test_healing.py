from __future__ import annotations

import itertools
import math
import random
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from hoopwright.core.types import Point
from hoopwright.plane.healing import Healed, Healing, heal
from hoopwright.plane.strokes import Stroke
from hoopwright.plane.subdivision import Subdivision, subdivide

SQUARE = box(-50, -50, 50, 50)
Line = tuple[Point, Point]

# a map with T junctions from both sides, a corner in the middle of the region and a crossing of two lines
CLEAN: tuple[Line, ...] = (
    ((-50, 10), (50, 0)),
    ((0, 5), (10, 50)),
    ((-20, 7), (-30, -50)),
    ((20, 3), (10, -50)),
    ((-25, -21.5), (15, -23.5)),
    ((50, 25), (30, 30)),
    ((30, 30), (30, 50)),
    ((-45, 50), (-15, 6.5)),
    ((-50, 25), (5, 27.5)),
)


def healed(lines: Sequence[Line], gap: float = 0.5, region: Polygon = SQUARE) -> Healed:
    return heal(region, [Stroke(line) for line in lines], gap)


def planar(result: Healed, region: Polygon = SQUARE) -> Subdivision:
    pairs = [pair for curve in result.curves for pair in itertools.pairwise(curve)]
    return subdivide(region, [*result.lines, *pairs])


def neighbours(plane: Subdivision, names: dict[int, int]) -> set[frozenset[int]]:
    return {frozenset((names[e.left], names[e.right])) for e in plane.edges if e.right >= 0}


def same_map(clean: Subdivision, other: Subdivision, gap: float) -> bool:
    """Whether faces match one to one, each within gap all round, and the same faces are neighbours."""
    if len(clean.faces) != len(other.faces) or len(clean.chains) != len(other.chains):
        return False
    names: dict[int, int] = {}
    for i, face in enumerate(other.faces):
        best = max(range(len(clean.faces)), key=lambda j: clean.faces[j].intersection(face).area)
        if clean.faces[best].symmetric_difference(face).area > face.length * gap:
            return False
        names[i] = best
    plain = {i: i for i in range(len(clean.faces))}
    return len(set(names.values())) == len(names) and neighbours(other, names) == neighbours(clean, plain)


def shaken(lines: tuple[Line, ...], gap: float, seed: int) -> list[Line]:
    """Move every end by up to half the gap, break some lines in two, draw some twice, and mix them up."""
    rng = random.Random(seed)

    def shake(p: Point) -> Point:
        turn, far = rng.uniform(0, 2 * math.pi), rng.uniform(0, 0.49 * gap)
        return (p[0] + far * math.cos(turn), p[1] + far * math.sin(turn))

    out: list[Line] = []
    for a, b in lines:
        t = rng.uniform(0.4, 0.6)
        middle = (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)
        clear = min(math.dist(middle, end) for line in lines for end in line)
        if rng.random() < 0.4 and clear > 4.0 * gap:
            out += [(shake(a), shake(middle)), (shake(middle), shake(b))]
        else:
            out.append((shake(a), shake(b)))
        if rng.random() < 0.2:
            out.append((shake(b), shake(a)))
    rng.shuffle(out)
    return out


def test_a_clean_drawing_is_left_as_it_is() -> None:
    result = healed(CLEAN)
    assert result.mended == () and result.loose == ()
    ends = sorted((sorted(line) for line in result.lines), key=str)
    assert [sum(line, ()) for line in ends] == [
        pytest.approx(sum(line, ()), abs=0.01) for line in sorted((sorted(line) for line in CLEAN), key=str)
    ]
    # Euler: each line adds a face, the bent one (two lines) a single one, the crossing one more
    assert len(planar(result).faces) == 10


@settings(max_examples=60, deadline=None)
@given(seed=st.integers(0, 10**6), gap=st.sampled_from([0.2, 0.5, 1.0]))
def test_a_shaken_drawing_gives_the_same_map(seed: int, gap: float) -> None:
    result = healed(shaken(CLEAN, gap, seed), gap)
    assert result.loose == ()
    assert same_map(planar(healed(CLEAN)), planar(result), gap)


def test_the_comparison_can_fail() -> None:
    assert not same_map(planar(healed(CLEAN)), planar(healed(CLEAN[:-1])), 0.5)


@given(seed=st.integers(0, 1000))
@settings(max_examples=20, deadline=None)
def test_the_order_of_the_lines_makes_no_difference(seed: int) -> None:
    lines = shaken(CLEAN, 0.5, 7)
    mixed = list(lines)
    random.Random(seed).shuffle(mixed)
    assert sorted(healed(lines).lines) == sorted(healed(mixed).lines)


def test_lines_a_breath_apart_give_no_sliver() -> None:
    twice = [((-50, 0), (50, 0)), ((-50, 1e-9), (50, -1e-9)), ((-50, 0.2), (20, 0.1)), ((0, 1e-9), (0, 50))]
    plane = planar(healed(twice))
    assert sorted(round(f.area) for f in plane.faces) == pytest.approx([2500, 2500, 5000], abs=10)


@pytest.mark.parametrize("gap", [0.0, 0.5])
def test_nothing_finer_than_the_grid_survives(gap: float) -> None:
    lines = [((-50, y), (50, y + d)) for y in (-10, 10) for d in (0, 1e-9, -1e-9, 1e-7)]
    plane = planar(healed(lines, gap))
    assert len(plane.faces) == 3


def test_every_healing_says_what_and_where() -> None:
    result = healed(
        [((-49.7, 0), (49.8, 0)), ((0, 0.3), (0, 49)), ((0.2, 49.2), (0, 50.4)), ((-50, -49.8), (50, -49.9))]
    )
    kinds = {m.what for m in result.mended}
    assert {Healing.TO_RIM, Healing.TO_LINE, Healing.ON_RIM} <= kinds
    assert all(SQUARE.buffer(1).contains(box(*m.point, *m.point).centroid) for m in result.mended)


def test_a_loose_end_says_how_far_it_is_to_the_next_line() -> None:
    result = healed([((-50, 0), (50, 0)), ((0, 40), (0, 3))])
    assert {e.point: round(e.ahead or -1.0, 6) for e in result.loose} == {(0.0, 3.0): 3.0, (0.0, 40.0): 10.0}


def test_what_lies_outside_is_left_out() -> None:
    result = healed([((-80, 0), (80, 0)), ((60, 60), (70, 80))])
    assert [m.what for m in result.mended] == [Healing.OUTSIDE, Healing.OUTSIDE]
    assert len(planar(result).faces) == 2


def test_a_bay_breaks_a_line_in_two() -> None:
    bay = Polygon([(-50, -50), (50, -50), (50, 50), (10, 50), (10, 0), (-10, 0), (-10, 50), (-50, 50)])
    assert len(planar(healed([((-50, 20), (50, 20))], region=bay), bay).faces) == 3


def test_curves_keep_their_shape_and_meet_their_ends() -> None:
    arc = tuple((40 * math.cos(t), 40 * math.sin(t) - 50.3) for t in [math.pi * i / 40 for i in range(41)])
    result = heal(SQUARE, [Stroke(arc)], 0.5)
    assert len(result.curves) == 1 and result.loose == ()
    assert sorted(round(f.area) for f in planar(result).faces) == pytest.approx([2493, 7507], abs=15)
