from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon, box

from hoopwright.needle.lettering.font import read_font
from hoopwright.needle.lettering.skeleton import skeleton
from tests.needle.lettering.fonts import SANS, SERIF, SOME


def turned(bar: Polygon, angle: float) -> Polygon:
    shape = affinity.rotate(bar, angle, origin=(0, 0))
    assert isinstance(shape, Polygon)
    return shape


@pytest.mark.parametrize("angle", [0, 20, 45, 77])
def test_of_a_bar_it_is_the_line_along_its_middle(angle: float) -> None:
    bar = turned(box(0, 0, 1.0, 0.12), angle)
    (branch,), joints = skeleton(bar)
    middle = affinity.rotate(LineString([(0, 0.06), (1.0, 0.06)]), angle, origin=(0, 0))
    assert not joints
    assert max(middle.distance(Point(p)) for p in branch.points) < 0.005
    assert branch.length == pytest.approx(1.0 - 0.12, abs=0.03)
    assert branch.radii == pytest.approx(0.06, abs=0.004)


def test_of_a_ring_it_is_a_closed_line() -> None:
    ring = Polygon(Point(0, 0).buffer(0.5, 64).exterior, [Point(0, 0).buffer(0.38, 64).exterior])
    (branch,), joints = skeleton(ring)
    assert branch.closed
    assert not joints
    assert np.hypot(*branch.points.T) == pytest.approx(0.44, abs=0.004)
    assert branch.length == pytest.approx(2 * math.pi * 0.44, rel=0.02)


def test_where_three_bars_meet_there_is_one_joint_without_branches_into_corners() -> None:
    tee = shapely.union_all([box(-0.4, 0.88, 0.4, 1.0), box(-0.06, 0, 0.06, 0.9)])
    assert isinstance(tee, Polygon)
    branches, joints = skeleton(tee)
    assert len(branches) == 3
    (joint,) = joints.values()
    assert math.dist(joint.at, (0, 0.94)) < 0.05


def test_a_noisy_edge_grows_no_branches() -> None:
    wave = [(x, 0.06 + 0.004 * math.sin(90 * x)) for x in np.linspace(0, 1, 200)]
    under = [(x, -0.06 - 0.004 * math.cos(70 * x)) for x in np.linspace(1, 0, 200)]
    branches, joints = skeleton(Polygon([*wave, *under]))
    assert len(branches) == 1
    assert not joints


@pytest.mark.parametrize("data", [SANS, SERIF], ids=["sans", "serif"])
@pytest.mark.parametrize("sign", SOME)
def test_every_disc_touches_the_border_and_leaves_it_nowhere(data: bytes, sign: str) -> None:
    for area in read_font(data).area(sign).geoms:
        branches, _ = skeleton(area)
        for branch in branches:
            off = shapely.distance(shapely.points(branch.points), area.exterior.union(area.boundary))
            assert np.abs(np.asarray(off) - branch.radii).max() < 0.006
