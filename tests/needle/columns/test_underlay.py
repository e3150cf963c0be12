from __future__ import annotations

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, box

from hoopwright.needle.columns.rails import spokes_between
from hoopwright.needle.columns.satin_edge import satin_edge
from hoopwright.needle.columns.underlay import INSIDE, fitting_underlay, underlay
from hoopwright.operations.vocabulary import EdgeStyle, Underlay

KINDS: tuple[Underlay, ...] = ("centre", "edges", "zigzag")


def column(width: float, length: float = 30.0) -> np.ndarray[tuple[int, int, int], np.dtype[np.float64]]:
    return spokes_between(LineString([(0, width), (length, width)]), LineString([(0, 0), (length, 0)]))


@pytest.mark.parametrize(
    ("width", "kind"),
    [(0.8, "none"), (1.5, "centre"), (2.9, "centre"), (3.5, "edges"), (5.0, "zigzag"), (9.0, "zigzag")],
)
def test_the_width_chooses_the_underlay(width: float, kind: Underlay) -> None:
    assert fitting_underlay(width) == kind


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("width", [1.5, 4.0, 7.0])
def test_it_lies_under_the_column_and_comes_back_to_its_start(kind: Underlay, width: float) -> None:
    points = underlay(column(width), kind, 1.0)
    inset = 0.0 if kind == "centre" else min(INSIDE, width / 4)
    assert points[:, 1].min() >= inset - 1e-9
    assert points[:, 1].max() <= width - inset + 1e-9
    assert points[:, 0].max() == pytest.approx(30.0, abs=1.1)
    assert points[[0, -1], 0].max() <= 1.1
    steps = np.hypot(*np.diff(points, axis=0).T)
    assert steps.min() >= 1.0 - 1e-9
    assert steps.max() <= 7.0


def test_none_is_none_and_a_column_of_no_length_has_none() -> None:
    assert len(underlay(column(4.0), "none", 1.0)) == 0
    assert len(underlay(column(4.0, 0.5), "centre", 1.0)) == 0


@pytest.mark.parametrize("kind", KINDS)
def test_an_edge_with_underlay_is_sewn_in_one_run_and_looks_the_same_from_above(kind: Underlay) -> None:
    line = LineString(box(0, 0, 40, 30).exterior.coords)
    plain, held = (satin_edge(line, EdgeStyle(4.0, underlay=k), 1.0) for k in ("none", kind))
    assert len(held) > len(plain)
    assert np.hypot(*np.diff(held, axis=0).T).min() >= 1.0 - 1e-9
    reach = shapely.union_all([LineString(plain).buffer(0.2), line.buffer(2.0, join_style="mitre")])
    assert bool(shapely.covers(reach.buffer(0.01), LineString(held)))


def test_round_corners_leave_the_tip_bare_and_cover_the_turn() -> None:
    line = LineString([(0, 0), (30, 0), (30, 30)])
    style = EdgeStyle(4.0, corners="round")
    sewn = LineString(satin_edge(line, style, 1.0)).buffer(0.25)
    turn = line.buffer(1.7, join_style="round").difference(line.buffer(0.05, cap_style="square"))
    inner = shapely.intersection(turn, box(5, -3, 31.5, 25))
    assert shapely.difference(inner, sewn).area < 0.06 * inner.area
    tip = shapely.Point(31.8, -1.8)
    assert sewn.distance(tip) > 1.0
    assert LineString(satin_edge(line, EdgeStyle(4.0), 1.0)).distance(tip) < 0.85


def test_pull_is_added_to_the_width() -> None:
    line = LineString([(0, 0), (30, 0)])
    assert set(satin_edge(line, EdgeStyle(4.0, pull=0.3), 1.0)[:, 1].round(9)) == {2.15, -2.15}
