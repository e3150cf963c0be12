"""Meander, echo and spiral keep their promises in random regions with holes, necks and slivers.

The rough walk before it is settled is held to the same promises: settling starts from it, and falls back to it.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Polygon

from hoopwright.needle.grounds import GroundWish, ground_lines
from hoopwright.needle.grounds.cells import connected_parts, cover_of, sites_of, wall_of, with_necks
from hoopwright.needle.grounds.echo import echo
from hoopwright.needle.grounds.meander import meander
from hoopwright.needle.grounds.spiral import spiral
from hoopwright.needle.grounds.tree_walk import site_net, walks
from tests.needle.grounds.evenness import clearance
from tests.needle.grounds.regions import random_region, random_spacing

LEAST_CLEARANCE = 0.45
"""Least distance of a meander to itself in spacings. In a neck just as wide as the spacing both strands and both margins share one spacing."""
Draw = Callable[[Polygon, GroundWish], tuple[LineString, ...]]


def parts_at(region: Polygon, spacing: float) -> list[Polygon]:
    """Return what is left of the region with half the spacing taken off, as far as half a cell fits round it: the definition."""
    pieces = [p for p in shapely.get_parts(region.buffer(-spacing / 2)) if not p.is_empty]
    return [p for p in pieces if p.buffer(spacing / 2).area >= 2.2 * spacing**2]


def promised(draw: Draw, seed: int) -> tuple[LineString, ...]:
    region, spacing = random_region(seed), random_spacing(seed)
    lines = draw(region, GroundWish(spacing, 0.0, seed))
    assert all(line.is_simple for line in lines)
    assert all(region.contains(line) for line in lines)
    assert len(lines) == len(connected_parts(region, spacing)) >= len(parts_at(region, spacing))
    return lines


def meander_promised(seed: int) -> None:
    spacing = random_spacing(seed)
    lines = promised(meander, seed)
    assert all(line.is_ring for line in lines)
    assert min((clearance(line, spacing) for line in lines), default=2.0) >= LEAST_CLEARANCE


@pytest.mark.parametrize("seed", range(20))
def test_a_meander_is_one_line_that_never_crosses_itself(seed: int) -> None:
    meander_promised(seed)


@pytest.mark.soak
@pytest.mark.parametrize("seed", range(20, 500))
def test_meanders_of_five_hundred_regions(seed: int) -> None:
    meander_promised(seed)


@pytest.mark.parametrize("seed", range(0, 120, 4))
def test_a_meander_keeps_its_margin(seed: int) -> None:
    region, spacing = random_region(seed), random_spacing(seed)
    lines = ground_lines(region, "meander", 2.0, GroundWish(spacing, 0.0, seed))
    assert all(region.contains(line) and region.boundary.distance(line) >= 2.0 for line in lines)


@pytest.mark.parametrize("seed", range(0, 120, 3))
def test_the_rough_walk_is_one_line_in_each_part(seed: int) -> None:
    region, spacing = random_region(seed), random_spacing(seed)
    for part in connected_parts(region, spacing):
        wall, rng = wall_of(part, spacing), np.random.default_rng(seed)
        sites = with_necks(part, sites_of(part, cover_of(part, spacing / 3), wall, spacing, rng), spacing, 0.6, 0.0)
        net = site_net(sites, wall)
        assert net.groups == 1
        (line,) = walks(net, net.tree(spacing, rng))
        ring = LineString([*line, line[0]])
        assert ring.is_simple
        assert region.contains(ring)


@pytest.mark.parametrize("seed", range(18))
@pytest.mark.parametrize("draw", [echo, spiral])
def test_an_echo_or_spiral_is_one_line_that_never_crosses_itself(draw: Draw, seed: int) -> None:
    promised(draw, seed)


@pytest.mark.soak
@pytest.mark.parametrize("seed", range(18, 500))
@pytest.mark.parametrize("draw", [echo, spiral])
def test_echoes_and_spirals_of_five_hundred_regions(draw: Draw, seed: int) -> None:
    promised(draw, seed)


@pytest.mark.parametrize("draw", [echo, spiral])
def test_echoes_and_spirals_hardly_ever_come_near_themselves(draw: Draw) -> None:
    """Ridges where two echoes meet cannot be even; 19 in 20 random regions keep 0.4 spacings all the same."""
    near = []
    for seed in range(40):
        spacing = random_spacing(seed)
        lines = draw(random_region(seed), GroundWish(spacing, 0.0, seed))
        near.append(min((clearance(line, spacing) for line in lines), default=2.0))
    assert np.mean(np.array(near) >= 0.4) >= 0.95
