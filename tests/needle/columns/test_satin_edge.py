from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Polygon, box

from hoopwright.core.types import Points
from hoopwright.needle.columns.satin_edge import PAST_START, satin_edge
from hoopwright.needle.sewing import sew
from hoopwright.operations.vocabulary import EdgeStyle, Role, Stitch
from hoopwright.plane.arcs import arc, ellipse
from hoopwright.project.schema import MachineModel, StitchingModel

STYLE = EdgeStyle(3.5, 0.4)
SQUARE = box(0, 0, 30, 30)
TAB = Polygon([(-8, 10), (-8, 50), (8, 50), (8, 10), (16, 10), *arc((0, -20), 16, 0, -180), (-16, 10)])
TRIANGLE = Polygon([(0, 0), (40, 0), (20, 34.64)])
ROUND = Polygon(ellipse((0, 0), 20, 12))
SHAPES = {"square": SQUARE, "tab": TAB, "triangle": TRIANGLE, "round": ROUND}


def border(shape: Polygon) -> LineString:
    return LineString(shape.exterior.coords)


def lengths(points: Points) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    steps = np.diff(points, axis=0)
    return np.hypot(steps[:, 0], steps[:, 1])


def test_a_straight_column_uses_the_thread_the_formula_says() -> None:
    """Width 4, spacing 0.4: 2 sqrt(w^2 + (p/2)^2) / p = 20.025 mm of thread a millimetre (arithmetic of the zigzag)."""
    points = satin_edge(LineString([(0, 0), (100, 0)]), EdgeStyle(4.0, 0.4), 1.0)
    assert float(lengths(points).sum()) / 100 == pytest.approx(20.025, abs=0.001)
    assert 2 * math.sqrt(4**2 + 0.2**2) / 0.4 == pytest.approx(20.025, abs=0.001)
    assert set(np.round(points[:, 1], 9)) == {2.0, -2.0}


@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES)
def test_stitches_keep_to_the_limits(shape: Polygon) -> None:
    steps = lengths(satin_edge(border(shape), STYLE, 1.0))
    assert steps.min() >= 1.0
    assert steps.max() <= math.hypot(STYLE.width, STYLE.spacing) + 0.01


@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES)
def test_the_column_covers_the_cut_edge_and_stays_in_its_band(shape: Polygon) -> None:
    """Threads lie about 0.4 mm wide; all of the edge and nearly all of the band must be covered by them, corners too."""
    line = border(shape)
    points = satin_edge(line, STYLE, 1.0)
    sewn = LineString(points).buffer(0.2)
    assert all(part.length < 0.1 for part in shapely.get_parts(shapely.difference(line, sewn)))
    band = line.buffer(STYLE.width / 2, join_style="mitre")
    assert shapely.difference(LineString(points), band.buffer(0.05)).length < 1.5
    core = line.buffer(STYLE.width / 2 - 0.2)
    assert shapely.difference(core, sewn).area < 0.02 * core.area


@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES)
def test_neighbouring_stitches_are_nowhere_wider_apart_than_the_spacing(shape: Polygon) -> None:
    points = satin_edge(border(shape), STYLE, 1.0)
    outer = points[
        shapely.distance(shapely.points(points), shape.buffer(STYLE.width / 2, join_style="mitre").exterior) < 0.01
    ]
    gaps = lengths(outer)
    assert len(outer) > shape.length / STYLE.spacing * 0.8
    assert np.quantile(gaps, 0.97) <= STYLE.spacing + 0.01


def test_no_hole_of_a_corner_is_used_more_than_once_by_each_leg() -> None:
    """Away from the overlap of start and end at most two needle holes, one of each leg, lie within 0.15 mm."""
    points = satin_edge(border(SQUARE), STYLE, 1.0)
    corner = np.asarray(shapely.points(points[(points[:, 0] > 26) & (points[:, 1] > 26)]))
    near = (shapely.distance(corner[:, None], corner[None, :]) < 0.15).sum(axis=1)
    assert len(corner) > 20
    assert near.max() <= 2


def test_the_legs_of_a_corner_meet_on_the_line_that_halves_it() -> None:
    """Stitches of the leg below never cross the diagonal through the corner of a square, nor those of the other leg."""
    points = satin_edge(border(SQUARE), STYLE, 1.0)
    near = [(a, b) for a, b in pairwise(points) if max(*a, *b) < 7 and min(*a, *b) < 0.5]
    crossing = [1 for a, b in near if (a[0] - a[1]) * (b[0] - b[1]) < -0.6]
    assert len(near) > 10
    assert len(crossing) <= 1  # the one stitch that leads from leg to leg


def test_a_closed_column_is_sewn_on_past_its_start() -> None:
    points = satin_edge(border(SQUARE), STYLE, 1.0)
    first, last = points[0], points[-1]
    assert PAST_START - 0.5 <= float(np.abs(last - first).max()) <= PAST_START + STYLE.width + 0.5
    side = points[:, 1] < 2 if first[1] < 2 else points[:, 0] < 2
    assert side.any()


def test_an_open_line_keeps_its_ends() -> None:
    points = satin_edge(LineString([(0, 0), (20, 0), (20, 15)]), STYLE, 1.0)
    assert points[0] == pytest.approx((0.0, 1.75))
    assert points[-1][1] == pytest.approx(15.0, abs=0.21)


def test_a_block_of_edge_satin_is_sewn_as_one_locked_run() -> None:
    block = Stitch(Role.EDGE, "Edge", "chalk", (border(TAB),), STYLE, "The edge is covered.")
    (run,) = sew(block, StitchingModel(), MachineModel())
    assert run.count == len(satin_edge(border(TAB), STYLE, 1.0)) + 4


def test_the_direction_of_the_line_does_not_matter_for_what_is_covered() -> None:
    one, other = (
        LineString(satin_edge(line, STYLE, 1.0)).buffer(0.25) for line in (border(TAB), border(TAB).reverse())
    )
    assert shapely.symmetric_difference(one, other).area < 0.05 * one.area
