from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Point, Polygon, box

from hoopwright.needle.accents.lattice import LEAST, along_rim, arcs_net, net_spacing, straight_net, to_and_fro

SQUARE = box(-10.0, -10.0, 10.0, 10.0)
FORKED = Polygon([(-10, -10), (10, -10), (10, 10), (0, -4), (-10, 10)])
RIM = LineString(SQUARE.exterior.coords)


@pytest.mark.parametrize("inside", [SQUARE, FORKED])
def test_all_lines_of_a_net_end_on_the_border(inside: Polygon) -> None:
    lines = straight_net(inside, 3.0, 30.0)
    assert len(lines) > 5
    for line in lines:
        assert line.length >= LEAST
        assert all(inside.exterior.distance(Point(line.coords[k])) < 1e-9 for k in (0, -1))
        angle = math.degrees(math.atan2(line.coords[-1][1] - line.coords[0][1], line.coords[-1][0] - line.coords[0][0]))
        assert (angle - 30.0) % 180.0 == pytest.approx(0.0, abs=1e-6) or (angle - 30.0) % 180.0 == pytest.approx(180.0)


def test_arcs_keep_their_distances_and_end_on_the_border() -> None:
    lines = arcs_net(SQUARE, 4.0, (0.0, -10.0), 5.0)
    radii = sorted({round(math.dist((0.0, -10.0), line.coords[0])) for line in lines})
    assert radii[:4] == [5, 9, 13, 17]
    assert all(SQUARE.exterior.distance(Point(line.coords[k])) < 1e-6 for line in lines for k in (0, -1))


def test_the_way_along_the_rim_is_the_shorter_one_and_may_pass_its_beginning() -> None:
    for a, b in ((5.0, 30.0), (30.0, 5.0), (78.0, 3.0), (3.0, 78.0), (0.0, 40.0)):
        row = along_rim(RIM, a, b)
        length = float(np.hypot(*np.diff(row, axis=0).T).sum())
        assert length == pytest.approx(min((b - a) % 80.0, (a - b) % 80.0))
        assert row[0].tolist() == pytest.approx(RIM.interpolate(a).coords[0])
        assert row[-1].tolist() == pytest.approx(RIM.interpolate(b).coords[0])


@pytest.mark.parametrize("inside", [SQUARE, FORKED])
def test_to_and_fro_sews_every_line_once_and_else_keeps_to_the_rim(inside: Polygon) -> None:
    rim, net = LineString(inside.exterior.coords), straight_net(inside, 2.5, 45.0)
    row, end = to_and_fro(rim, net, 3.0)
    line = LineString(row)
    assert row[0].tolist() == pytest.approx(rim.interpolate(3.0).coords[0])
    assert row[-1].tolist() == pytest.approx(rim.interpolate(end).coords[0])
    covered = line.buffer(1e-6)
    assert all(covered.covers(one) for one in net)
    inner = shapely.intersection(line, inside.buffer(-1e-3))
    assert inner.length == pytest.approx(
        sum(shapely.intersection(n, inside.buffer(-1e-3)).length for n in net), rel=1e-6
    )


def test_nothing_is_sewn_of_an_empty_net() -> None:
    row, end = to_and_fro(RIM, (), 7.0)
    assert row.shape == (0, 2) and end == 7.0


def test_nets_of_larger_motifs_are_wider_within_limits() -> None:
    assert [net_spacing(s) for s in (20.0, 60.0, 200.0)] == [2.3, 3.0, 3.2]
