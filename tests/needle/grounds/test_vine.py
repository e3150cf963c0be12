from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Point, Polygon, box

from hoopwright.needle.grounds.shapes import GroundWish
from hoopwright.needle.grounds.vine import GROUNDS, vine
from tests.needle.grounds.parts import FLAP, HOLES, PARTS, RING, SLIVER, barest

(VINE,) = GROUNDS
BAND = Polygon([(-60, -8), (0, -14), (60, -4), (60, 12), (0, 6), (-60, 12)])
REGIONS = {**PARTS, "band": BAND}


def drawn(region: Polygon, spacing: float = 17.0, seed: int = 1) -> LineString:
    (line,) = vine(region, GroundWish(spacing, 0.0, seed))
    return line


def meshes(line: LineString) -> list[Polygon]:
    return list(shapely.get_parts(shapely.polygonize(shapely.get_parts(shapely.union_all([line], grid_size=1e-4)))))


def leaves(line: LineString) -> list[Polygon]:
    """Return the meshes that are as plump as a leaf."""
    return [m for m in meshes(line) if m.area / m.convex_hull.area > 0.93 and m.area < 90.0]


@pytest.mark.parametrize("seed", [1, 2, 3])
@pytest.mark.parametrize("name", REGIONS)
def test_one_line_inside_that_leaves_no_bare_place_wider_than_a_stem_s_room(name: str, seed: int) -> None:
    line = drawn(REGIONS[name], seed=seed)
    assert REGIONS[name].buffer(1e-6).covers(line)
    assert barest(REGIONS[name], (line,)) < 1.4 * 17.0


@pytest.mark.parametrize("region", [BAND, RING, box(0, 0, 200, 22)], ids=["band", "ring", "border"])
def test_every_mesh_of_a_border_is_a_whole_leaf(region: Polygon) -> None:
    """No leaf overlaps another or the stem: every mesh but the ring of the stem itself is plump."""
    line = drawn(region)
    stem = [m for m in meshes(line) if m.area > 500.0]
    assert len(leaves(line)) == len(meshes(line)) - len(stem) > 8
    assert len(stem) == (1 if region is RING else 0)


def test_the_vine_of_a_ring_runs_round_its_hole() -> None:
    assert drawn(RING).is_closed
    assert any(m.contains(Point(0, 0)) for m in map(Polygon, (m.exterior for m in meshes(drawn(RING)))))


def test_leaves_grow_on_both_sides() -> None:
    line = drawn(box(0, -11, 200, 11))
    heights = [leaf.centroid.y for leaf in leaves(line)]
    assert min(sum(y > 0 for y in heights), sum(y < 0 for y in heights)) >= 0.35 * len(heights)


def test_leaves_are_as_large_as_have_room() -> None:
    largest = [max(leaf.area for leaf in leaves(drawn(box(0, 0, 160, tall)))) for tall in (10, 16, 24)]
    assert largest == sorted(largest)
    assert largest[0] < 0.7 * largest[1]
    assert largest[1] < 0.9 * largest[2]


def test_the_stem_is_soft_between_its_leaves() -> None:
    """Between leaves (steps of STEP along the stem) the line never bends by 25 degrees at one place."""
    places = np.asarray(drawn(box(0, 0, 200, 22)).coords)
    steps = np.diff(places, axis=0)
    turns = np.arctan2(steps[:, 1], steps[:, 0])
    bends = np.degrees(np.abs((np.diff(turns) + math.pi) % (2 * math.pi) - math.pi))
    sharp = int((bends > 25.0).sum())
    assert sharp <= 9 * len(leaves(drawn(box(0, 0, 200, 22))))
    assert np.median(bends) < 12.0


def test_a_wide_region_is_filled_to_and_fro() -> None:
    line = drawn(FLAP)
    assert len(leaves(line)) > 40
    thirds = [box(x, -40, x + 110 / 3, 40) for x in (-55, -55 + 110 / 3, -55 + 220 / 3)]
    counts = [sum(third.contains(leaf.centroid) for leaf in leaves(line)) for third in thirds]
    assert min(counts) > 0.5 * max(counts)


def test_the_same_seed_draws_the_same_vine_and_another_another() -> None:
    assert drawn(FLAP).equals_exact(drawn(FLAP), 0.0)
    assert drawn(FLAP, seed=3).hausdorff_distance(drawn(FLAP)) > 0.5
    assert drawn(HOLES, seed=2).hausdorff_distance(drawn(HOLES)) > 2.0


def test_hardly_anything_fits_into_a_sliver() -> None:
    lines = vine(SLIVER, GroundWish(17.0, 0.0))
    assert all(SLIVER.buffer(1e-6).covers(line) and len(leaves(line)) == 0 for line in lines)
    assert vine(box(0, 0, 3, 3), GroundWish(17.0, 0.0)) == ()
