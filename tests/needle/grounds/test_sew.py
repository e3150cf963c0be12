from __future__ import annotations

import pytest
import shapely
from shapely.geometry import MultiPolygon, box

from hoopwright.core.errors import GeometryError
from hoopwright.needle.grounds import GROUNDS, GroundWish, ground_lines
from tests.needle.grounds.parts import FLAP, HOLES, SLIVER

PARTS = MultiPolygon([box(0, 0, 60, 50), box(80, 0, 130, 60)])


@pytest.mark.parametrize("kind", GROUNDS)
def test_every_ground_stays_its_margin_inside_and_is_one_line_a_part(kind: str) -> None:
    ground = GROUNDS[kind]
    wish = GroundWish(ground.spacing, ground.angle)
    for region, count in ((FLAP, 1), (PARTS, 2)):
        lines = ground_lines(region, kind, 2.0, wish)
        assert len(lines) == count
        assert region.buffer(-2.0 + 1e-3, join_style="mitre").covers(shapely.union_all(list(lines)))


def test_each_line_keeps_to_one_part() -> None:
    one, other = sorted(ground_lines(PARTS, "clamshell", 2.0, GroundWish(12.0, 0.0)), key=lambda line: line.bounds)
    assert one.bounds[2] < 70 < other.bounds[0]


@pytest.mark.parametrize("kind", GROUNDS)
def test_no_crumbs_are_sewn(kind: str) -> None:
    ground = GROUNDS[kind]
    wish = GroundWish(ground.spacing, ground.angle)
    crumbs = MultiPolygon([SLIVER, box(40, 0, 42, 1.5), box(50, 0, 51.5, 2)])
    assert all(line.length >= ground.spacing for line in ground_lines(crumbs, kind, 0.0, wish))
    assert ground_lines(box(0, 0, 3, 3), kind, 2.0, wish) == ()


def test_an_unknown_kind_is_refused_with_the_names_there_are() -> None:
    with pytest.raises(GeometryError, match="crosshatch"):
        ground_lines(HOLES, "crossroads", 2.0, GroundWish(8.0, 0.0))
