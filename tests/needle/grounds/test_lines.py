from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from scipy.spatial import cKDTree
from shapely.geometry import LineString, Polygon, box

from hoopwright.needle.grounds.lines import GROUNDS
from hoopwright.needle.grounds.shapes import Ground, GroundWish
from tests.needle.grounds.evenness import places_in
from tests.needle.grounds.parts import FLAP, PARTS, SLIVER, barest, once, sewn, usual

BY_NAME = {ground.name: ground for ground in GROUNDS}
BAREST = {"crosshatch": 0.75, "diamonds": 0.75, "channels": 0.8, "waves": 1.3, "arches": 1.4}
"""Largest distance to a line in spacings: half a spacing inside, more where a hugging piece was dropped at the edge."""


def faces(lines: tuple[LineString, ...], inside: Polygon) -> list[Polygon]:
    """Return the meshes of a network that lie whole in a region."""
    shapely.prepare(inside)
    meshes = shapely.get_parts(shapely.polygonize(shapely.get_parts(shapely.union_all(list(lines), grid_size=1e-4))))
    return [f for f in meshes if inside.contains(f)]


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("ground", GROUNDS, ids=lambda g: g.name)
def test_one_walk_inside_that_covers(ground: Ground, part: str) -> None:
    region = PARTS[part]
    walks = sewn(ground, region)
    assert len(walks) == 1
    assert region.buffer(1e-3).covers(walks[0])
    assert barest(region, walks) <= BAREST[ground.name] * ground.spacing
    assert walks[0].length <= 1.04 * once(walks)


@pytest.mark.parametrize("ground", GROUNDS, ids=lambda g: g.name)
def test_a_sliver_gives_nothing_or_little(ground: Ground) -> None:
    walks = sewn(ground, SLIVER)
    assert all(SLIVER.buffer(1e-3).covers(walk) for walk in walks)


@pytest.mark.parametrize("ground", GROUNDS, ids=lambda g: g.name)
def test_the_same_wish_draws_the_same_lines(ground: Ground) -> None:
    one, other = (ground.draw(FLAP, usual(ground)) for _ in range(2))
    assert all(a.equals_exact(b, 0.0) for a, b in zip(one, other, strict=True))


def test_distances_to_parallel_lines_are_those_of_theory() -> None:
    """Lines at spacing d: mean distance d/4, maximum d/2, variation 0.577 (1 / sqrt 3)."""
    region = box(0, 0, 100, 60)
    rows = BY_NAME["channels"].draw(region, GroundWish(5.0, 0.0))
    along = np.concatenate([shapely.get_coordinates(row.segmentize(0.05)) for row in rows])
    far = np.asarray(cKDTree(along).query(places_in(box(10, 0, 90, 60), 0.1))[0])
    assert far.mean() == pytest.approx(5.0 / 4.0, rel=0.01)
    assert far.max() == pytest.approx(5.0 / 2.0, rel=0.03)
    assert far.std() / far.mean() == pytest.approx(1.0 / math.sqrt(3.0), rel=0.01)


def test_channels_of_a_rectangle_have_the_length_of_rows_and_steps() -> None:
    (line,) = BY_NAME["channels"].draw(box(0, 0, 100, 60), GroundWish(5.0, 0.0))
    assert line.length == pytest.approx(12 * 100 + 11 * 5)


@pytest.mark.parametrize("spacing", [4.0, 8.0])
def test_crosshatch_makes_squares_of_the_spacing(spacing: float) -> None:
    meshes = faces(BY_NAME["crosshatch"].draw(FLAP, GroundWish(spacing, 45.0)), FLAP.buffer(-0.01))
    assert len(meshes) > 0.6 * FLAP.area / spacing**2
    assert [m.area for m in meshes] == pytest.approx([spacing**2] * len(meshes), rel=1e-3)


def test_diamonds_hang_from_corners_of_sixty_degrees() -> None:
    """A rhomb of height d with a sharp angle of 60 degrees has area d^2 / sin 60; its long diagonal stands upright."""
    meshes = faces(BY_NAME["diamonds"].draw(FLAP, GroundWish(8.0, 0.0)), FLAP.buffer(-0.01))
    assert len(meshes) > 30
    assert [m.area for m in meshes] == pytest.approx([64.0 / math.sin(math.pi / 3)] * len(meshes), rel=1e-3)
    for mesh in meshes:
        left, low, right, high = mesh.bounds
        assert math.degrees(2 * math.atan((right - left) / (high - low))) == pytest.approx(60.0, abs=0.1)


def test_waves_lie_one_spacing_above_the_other() -> None:
    (line,) = BY_NAME["waves"].draw(box(0, 0, 100, 60), GroundWish(5.0, 0.0))
    for x in (20.0, 33.0, 57.0):
        hits = shapely.get_coordinates(line.intersection(LineString([(x, 1.0), (x, 59.0)])))
        heights = np.sort(hits[:, 1])
        assert np.diff(heights[1:-1]) == pytest.approx(np.full(len(heights) - 3, 5.0), abs=0.05)


def test_arches_share_one_middle() -> None:
    """Places off the edge lie on circles about one middle, radii a whole number of spacings apart."""
    (line,) = BY_NAME["arches"].draw(FLAP, GroundWish(5.0, 0.0))
    middle = (0.0, -40.0 - 0.35 * 110.0)
    off_edge = [p for p in line.coords if FLAP.exterior.distance(shapely.Point(p)) > 0.5]
    radii = np.hypot(*(np.array(off_edge) - middle).T)
    assert len(off_edge) > 200
    parts = radii / 5.0 % 1.0
    assert np.ptp(parts) < 0.02


@pytest.mark.parametrize("name", ["crosshatch", "channels", "waves", "arches"])
def test_a_turned_wish_turns_the_lines(name: str) -> None:
    """Turning region and angle together turns the drawing."""
    ground = BY_NAME[name]
    straight = ground.draw(FLAP, GroundWish(6.0, 20.0))
    turned = ground.draw(shapely.affinity.rotate(FLAP, 37.0, origin=(0, 0)), GroundWish(6.0, 57.0))
    back = [shapely.affinity.rotate(line, -37.0, origin=(0, 0)) for line in turned]
    assert shapely.union_all(list(straight)).hausdorff_distance(shapely.union_all(back)) < 1e-6


def test_corners_of_flowing_lines_are_soft() -> None:
    """Inside, no wave or arch bends by 25 degrees at one place."""
    for name in ("waves", "arches"):
        for line in BY_NAME[name].draw(FLAP, usual(BY_NAME[name])):
            inner = FLAP.buffer(-0.5)
            for a, b in pairwise(pairwise(line.coords)):
                if inner.contains(shapely.Point(a[1])):
                    one, other = (math.atan2(q[1] - p[1], q[0] - p[0]) for p, q in (a, b))
                    assert abs((other - one + math.pi) % (2 * math.pi) - math.pi) < math.radians(25.0)
