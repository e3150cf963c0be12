from __future__ import annotations

from collections import Counter

import pytest
import shapely
from shapely.geometry import Point, box

from hoopwright.needle.grounds.motifs import GROUNDS, PADDLES
from hoopwright.needle.grounds.shapes import Ground, GroundWish
from tests.needle.grounds.parts import FLAP, PARTS, SLIVER, barest, once, sewn, usual
from tests.needle.grounds.test_lines import faces

BY_NAME = {ground.name: ground for ground in GROUNDS}
BAREST = {"ripples": 0.45, "nets": 1.0, "reeds": 0.6, "shells": 0.35, "wheels": 0.35, "ropes": 0.6}
"""Largest distance to a line in spacings, what the edge cuts off included (measured, a little rounded up)."""


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("ground", GROUNDS, ids=lambda g: g.name)
def test_one_walk_inside_that_covers_and_sews_hardly_anything_twice(ground: Ground, part: str) -> None:
    region = PARTS[part]
    walks = sewn(ground, region)
    assert len(walks) == 1
    assert region.buffer(1e-3).covers(walks[0])
    assert barest(region, walks) <= BAREST[ground.name] * ground.spacing
    assert walks[0].length <= 1.01 * once(walks)


@pytest.mark.parametrize("ground", GROUNDS, ids=lambda g: g.name)
def test_an_even_number_of_lines_meets_everywhere_inside(ground: Ground) -> None:
    lines = ground.draw(FLAP, usual(ground))
    inner = FLAP.buffer(-ground.spacing / 2)
    ends: Counter[tuple[float, float]] = Counter()
    for piece in shapely.get_parts(shapely.union_all(list(lines), grid_size=1e-4)):
        for place in (piece.coords[0], piece.coords[-1]):
            ends[round(place[0], 3), round(place[1], 3)] += 1
    met = {place: count for place, count in ends.items() if inner.contains(Point(place))}
    assert len(met) > 10
    assert all(count % 2 == 0 for count in met.values())


@pytest.mark.parametrize("ground", GROUNDS, ids=lambda g: g.name)
def test_the_same_wish_draws_the_same_lines_and_a_sliver_little(ground: Ground) -> None:
    one, other = (ground.draw(FLAP, usual(ground)) for _ in range(2))
    assert all(a.equals_exact(b, 0.0) for a, b in zip(one, other, strict=True))
    assert all(SLIVER.buffer(1e-3).covers(walk) for walk in sewn(ground, SLIVER))


@pytest.mark.parametrize("ground", GROUNDS, ids=lambda g: g.name)
def test_a_larger_spacing_draws_the_same_figures_larger(ground: Ground) -> None:
    """Region and spacing doubled: twice the length (finer curves differ by their chords)."""
    small = once(ground.draw(FLAP, usual(ground)))
    double = shapely.affinity.scale(FLAP, 2.0, 2.0, origin=(0, 0))
    large = once(ground.draw(double, GroundWish(2.0 * ground.spacing, ground.angle)))
    assert large == pytest.approx(2.0 * small, rel=0.02)


@pytest.mark.parametrize("ground", GROUNDS, ids=lambda g: g.name)
def test_a_turned_wish_turns_the_lines(ground: Ground) -> None:
    straight = ground.draw(FLAP, GroundWish(ground.spacing, 20.0))
    turned = ground.draw(shapely.affinity.rotate(FLAP, 37.0, origin=(0, 0)), GroundWish(ground.spacing, 57.0))
    back = [shapely.affinity.rotate(line, -37.0, origin=(0, 0)) for line in turned]
    assert once(tuple(straight)) == pytest.approx(once(tuple(back)), rel=1e-3)
    assert shapely.union_all(list(straight)).hausdorff_distance(shapely.union_all(back)) < 0.01


@pytest.mark.parametrize("ground", GROUNDS, ids=lambda g: g.name)
def test_the_least_spacing_leaves_the_cloth_whole(ground: Ground) -> None:
    """Stitches of 2.5 mm along all lines: on average less than one needle hole per square millimetre."""
    lines = ground.draw(FLAP, GroundWish(ground.least_spacing, ground.angle))
    assert once(lines) / 2.5 / FLAP.area < 0.6


def test_a_wheel_has_eight_paddles_between_rim_and_hub() -> None:
    """Nine meshes (a hub, eight paddles) and eight gaps between paddles lie within each whole rim."""
    region = box(0, 0, 35, 35)
    meshes = faces(BY_NAME["wheels"].draw(region, GroundWish(17.0, 0.0)), region.buffer(0.01))
    for middle in ((9, 9), (9, 26), (26, 9), (26, 26)):
        rim = Point(middle).buffer(17.0 / 2 + 0.05)
        inside = [m for m in meshes if rim.contains(m)]
        hubs = [m for m in inside if m.contains(Point(middle))]
        assert len(hubs) == 1
        assert len(inside) == 1 + 2 * PADDLES


def test_of_a_wheel_with_its_axle_outside_only_the_rim_shows() -> None:
    region = box(0, 0, 34, 20)
    lines = BY_NAME["wheels"].draw(region, GroundWish(17.0, 0.0))
    axles = [Point(x, y) for x in (8.5, 25.5) for y in (10.0 - 17.0, 10.0, 10.0 + 17.0)]
    network = shapely.union_all(list(lines))
    hubs = [axle.buffer(0.9 * 8.5) for axle in axles]
    assert [network.intersects(hub) for hub in hubs] == [False, True, False, False, True, False]


def test_neighbouring_ropes_are_laid_against_each_other() -> None:
    """Mirrored at the line between two ropes the drawing is itself again; mirrored at the middle of a rope it is not."""
    network = shapely.union_all(list(BY_NAME["ropes"].draw(box(0, 0, 200, 90), GroundWish(9.0, 0.0))))
    for height, most, least in ((49.5, 0.05, 0.0), (45.0, 9.0, 1.0)):
        window = box(60, height - 18, 140, height + 18)
        mirrored = shapely.affinity.scale(network, 1.0, -1.0, origin=(100, height)).intersection(window)
        assert least <= shapely.hausdorff_distance(mirrored, network.intersection(window)) < most


def test_reeds_have_a_leaf_on_both_sides_in_every_repeat() -> None:
    """Meshes inside are leaves, long and slender, as many to the left as to the right of their stems."""
    region = box(0, 0, 110, 120)
    meshes = faces(BY_NAME["reeds"].draw(region, GroundWish(11.0, 90.0)), region.buffer(-3.0))
    leaves = [m for m in meshes if m.area < 30.0]
    lean = [m.centroid.x - min(m.exterior.coords, key=lambda p: p[1])[0] for m in leaves]
    assert len(leaves) > 60
    assert abs(sum(x > 0 for x in lean) - sum(x < 0 for x in lean)) <= 0.1 * len(lean)
