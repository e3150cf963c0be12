"""Grounds in regions of any form: with holes, necks, points and slivers."""

from __future__ import annotations

import pytest
import shapely

from hoopwright.needle.grounds import clamshell, drawing, lines, motifs, vine
from hoopwright.needle.grounds.shapes import GroundWish
from tests.needle.grounds.parts import once, sewn
from tests.needle.grounds.regions import random_region

FAMILIES = [g for family in (lines, clamshell, motifs, vine, drawing) for g in family.GROUNDS]


def tried(seed: int) -> None:
    region = random_region(seed)
    for ground in FAMILIES:
        for spacing in (ground.spacing, ground.least_spacing):
            walks = sewn(ground, region, GroundWish(spacing, ground.angle + 7.0 * seed, seed))
            if not walks:
                continue
            assert region.buffer(1e-3).covers(shapely.union_all(list(walks))), ground.name
            assert len(walks) == 1 or ground.name == "vine", ground.name
            assert sum(walk.length for walk in walks) <= 1.25 * once(walks), ground.name


@pytest.mark.parametrize("seed", range(6))
def test_inside_in_one_walk_and_little_twice(seed: int) -> None:
    tried(seed)


@pytest.mark.soak
@pytest.mark.parametrize("seed", range(6, 80))
def test_inside_in_one_walk_and_little_twice_many_times(seed: int) -> None:
    tried(seed)
