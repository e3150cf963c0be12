from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from shapely.geometry import Polygon

from hoopwright.needle.grounds.clamshell import GROUNDS, clamshell_tops
from hoopwright.needle.grounds.frame import frame_of
from hoopwright.needle.grounds.shapes import Ground, GroundWish
from tests.needle.grounds.parts import FLAP, PARTS, SLIVER, barest, once, sewn, usual
from tests.needle.grounds.test_lines import faces

BY_NAME = {ground.name: ground for ground in GROUNDS}
BAREST = {"clamshell": 0.5, "orange-peel": 0.4}
"""Largest distance to a line in spacings; inside a shell it is 0.25, inside a square of orange peel less."""


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("ground", GROUNDS, ids=lambda g: g.name)
def test_one_walk_inside_that_covers_and_sews_nothing_twice(ground: Ground, part: str) -> None:
    region = PARTS[part]
    walks = sewn(ground, region)
    assert len(walks) == 1
    assert region.buffer(1e-3).covers(walks[0])
    assert barest(region, walks) <= BAREST[ground.name] * ground.spacing
    assert walks[0].length <= 1.002 * once(walks)


@pytest.mark.parametrize("ground", GROUNDS, ids=lambda g: g.name)
def test_the_same_wish_draws_the_same_lines_and_a_sliver_little(ground: Ground) -> None:
    one, other = (ground.draw(FLAP, usual(ground)) for _ in range(2))
    assert all(a.equals_exact(b, 0.0) for a, b in zip(one, other, strict=True))
    assert all(SLIVER.buffer(1e-3).covers(walk) for walk in sewn(ground, SLIVER))


def whole(name: str, spacing: float) -> list[Polygon]:
    return faces(BY_NAME[name].draw(FLAP, GroundWish(spacing, 0.0)), FLAP.buffer(-0.01))


@pytest.mark.parametrize("spacing", [8.0, 12.0])
def test_shells_tile_the_plane(spacing: float) -> None:
    """A shell of radius r takes a cell 2r wide and r high: 2 r^2; it is 2r wide and 2r tall."""
    shells = whole("clamshell", spacing)
    assert len(shells) > 0.6 * FLAP.area / (spacing**2 / 2)
    assert [s.area for s in shells] == pytest.approx([spacing**2 / 2] * len(shells), rel=0.01)
    for left, low, right, high in (s.bounds for s in shells):
        assert (right - left, high - low) == pytest.approx((spacing, spacing), rel=1e-3)


def test_shells_are_arcs_of_circles() -> None:
    lines = BY_NAME["clamshell"].draw(FLAP, GroundWish(12.0, 0.0))
    frame = frame_of(FLAP, 0.0)
    middles = frame.points(clamshell_tops(FLAP, GroundWish(12.0, 0.0)) - (0.0, 6.0))
    off_edge = [p for p in shapely.get_coordinates(list(lines)) if FLAP.exterior.distance(shapely.Point(p)) > 0.5]
    for x, y in off_edge:
        away = np.hypot(*(middles - (x, y)).T)
        assert np.abs(away - 6.0).min() < 1e-6


@pytest.mark.parametrize("spacing", [8.0, 12.0])
def test_petals_and_squares_of_the_orange_peel(spacing: float) -> None:
    """Circles of radius s / sqrt 2 through the corners of squares of side s: a petal between two quarter arcs has the area
    s^2 / 2 (pi / 2 - 1) and the breadth s (sqrt 2 - 1); a square less its four half petals s^2 (2 - pi / 2).
    """
    petal, square = spacing**2 / 2 * (math.pi / 2 - 1), spacing**2 * (2 - math.pi / 2)
    meshes = whole("orange-peel", spacing)
    petals = [m for m in meshes if m.area < (petal + square) / 2]
    squares = [m for m in meshes if m.area > (petal + square) / 2]
    assert len(petals) > len(squares) > 0.5 * FLAP.area / spacing**2
    assert [m.area for m in petals] == pytest.approx([petal] * len(petals), rel=0.02)
    assert [m.area for m in squares] == pytest.approx([square] * len(squares), rel=0.02)
    for left, low, right, high in (m.bounds for m in petals):
        assert sorted((right - left, high - low)) == pytest.approx([spacing * (math.sqrt(2) - 1), spacing], rel=0.01)


@pytest.mark.parametrize("ground", GROUNDS, ids=lambda g: g.name)
def test_a_turned_wish_turns_the_lines(ground: Ground) -> None:
    straight = ground.draw(FLAP, GroundWish(ground.spacing, 20.0))
    turned = ground.draw(shapely.affinity.rotate(FLAP, 37.0, origin=(0, 0)), GroundWish(ground.spacing, 57.0))
    back = [shapely.affinity.rotate(line, -37.0, origin=(0, 0)) for line in turned]
    assert shapely.union_all(list(straight)).hausdorff_distance(shapely.union_all(back)) < 1e-6
