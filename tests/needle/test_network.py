from __future__ import annotations

import pytest
from shapely.geometry import LineString, box

from hoopwright.needle.network import network_of, parts_of


def test_lines_are_parted_where_they_meet() -> None:
    cross = network_of([LineString([(0, 5), (10, 5)]), LineString([(5, 0), (5, 10)])])
    assert cross.places == ((0.0, 5.0), (5.0, 0.0), (5.0, 5.0), (5.0, 10.0), (10.0, 5.0))
    assert sorted(cross.degrees) == [1, 1, 1, 1, 4]
    assert sum(cross.lengths) == pytest.approx(20.0)


def test_lines_that_only_run_on_are_one_stretch() -> None:
    bent = network_of([LineString([(0, 0), (5, 0)]), LineString([(5, 0), (5, 5)])])
    assert len(bent.joins) == 1
    assert bent.rows[0][1] == (5.0, 0.0)


def test_a_ring_is_a_stretch_from_a_place_to_itself() -> None:
    ring = network_of([LineString(box(0, 0, 10, 10).exterior.coords)])
    assert ring.joins == ((0, 0),)
    assert ring.degrees == [2]
    assert ring.lengths == pytest.approx((40.0,))


def test_a_wished_place_parts_the_stretch_nearest_to_it() -> None:
    parted = network_of([LineString([(0, 0), (4, 0), (10, 0)]), LineString([(0, 9), (9, 9)])], [(6.0, 1.0)])
    assert (6.0, 0.0) in parted.places
    assert sorted(parted.lengths) == pytest.approx([4.0, 6.0, 9.0])
    at_corner = network_of([LineString([(0, 0), (4, 0), (4, 6)])], [(4.5, -0.5)])
    assert sorted(at_corner.lengths) == pytest.approx([4.0, 6.0])
    at_end = network_of([LineString([(0, 0), (4, 0)])], [(-3.0, 0.0)])
    assert at_end.lengths == pytest.approx((4.0,))


def test_the_part_with_the_lowest_place_comes_first() -> None:
    parts = parts_of(
        network_of([LineString([(20, 0), (30, 0)]), LineString([(0, 9), (5, 9)]), LineString([(0, 9), (0, 20)])])
    )
    assert [p.places[0] for p in parts] == [(0.0, 20.0), (20.0, 0.0)]
    assert parts[0].at(0) == parts[0].joins[0][0]
