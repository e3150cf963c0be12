from __future__ import annotations

import math
import time

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Polygon, box

from hoopwright.needle.grounds.cells import connected_parts, cover_of, sites_of, wall_of
from hoopwright.needle.grounds.meander import meander
from hoopwright.needle.grounds.shapes import GroundWish
from hoopwright.needle.grounds.tree_walk import site_net, walks
from hoopwright.needle.lines import LOCK_STITCHES, RING_OVERLAP
from hoopwright.needle.sewing import sew
from hoopwright.operations.vocabulary import GroundStyle, Role, Stitch
from hoopwright.plane.arcs import ellipse
from hoopwright.project.schema import MachineModel, StitchingModel
from tests.needle.grounds.evenness import boustrophedon, clearance, evenness, hilbert, lattice_walk

FLAP = Polygon([(-55, 0), (55, 0), (55, 55), *(p for p in ellipse((0, 55), 55, 25) if p[1] > 55.1), (-55, 55)])
RING = Polygon(ellipse((0, 0), 50, 50), [ellipse((0, 0), 22, 22)])
HOLES = Polygon(
    box(0, 0, 120, 90).exterior,
    [ellipse((30, 30), 12, 12), box(65, 50, 95, 75).exterior.coords, [(70, 10), (105, 15), (85, 35)]],
)
STAR = Polygon([(r * math.sin(k * math.pi / 5), r * math.cos(k * math.pi / 5)) for k, r in enumerate([50, 22] * 5)])
STRIP = box(0, 0, 200, 15)
REGIONS: dict[str, Polygon] = {"flap": FLAP, "ring": RING, "holes": HOLES, "star": STAR, "strip": STRIP}


def drawn(region: Polygon, spacing: float, seed: int = 1) -> tuple[LineString, ...]:
    return meander(region, GroundWish(spacing, 0.0, seed))


@pytest.mark.parametrize("spacing", [3.0, 6.0, 10.0])
@pytest.mark.parametrize("name", REGIONS)
def test_one_closed_line_inside(name: str, spacing: float) -> None:
    (line,) = drawn(REGIONS[name], spacing)
    assert line.is_ring
    assert REGIONS[name].contains(line)


def test_the_same_seed_draws_the_same_line_and_another_another() -> None:
    assert drawn(FLAP, 6.0)[0].equals_exact(drawn(FLAP, 6.0)[0], 0.0)
    assert not drawn(FLAP, 6.0)[0].equals_exact(drawn(FLAP, 6.0, seed=2)[0], 1.0)


def test_turns_are_soft() -> None:
    """No needle need come down in a corner: the line bends by less than 25 degrees at every place."""
    steps = np.diff(shapely.get_coordinates(drawn(FLAP, 4.0)[0]), axis=0)
    turns = np.arctan2(steps[:, 1], steps[:, 0])
    bends = (np.diff(turns) + math.pi) % (2 * math.pi) - math.pi
    assert math.degrees(np.abs(bends).max()) < 25.0


def test_a_region_cut_in_two_by_a_thin_neck_gets_two_lines() -> None:
    dumbbell = shapely.union_all([box(0, 0, 30, 30), box(29, 13, 61, 16), box(60, 0, 90, 30)])
    assert isinstance(dumbbell, Polygon)
    assert len(drawn(dumbbell, 4.0)) == len(connected_parts(dumbbell, 4.0)) == 2
    assert len(drawn(dumbbell, 2.9)) == 1


def test_nothing_where_nothing_fits() -> None:
    assert drawn(box(0, 0, 200, 3), 4.0) == ()
    assert drawn(box(0, 0, 5, 5), 4.0) == ()


def test_parallel_lines_are_measured_as_the_theory_says() -> None:
    """Parallel lines at spacing d have mean d/4, maximum d/2 and variation 1 / sqrt 3 = 0.577 (a uniform distribution)."""
    lines = tuple(LineString([(0, 2 + 4 * k), (400, 2 + 4 * k)]) for k in range(20))
    found = evenness(box(0, 0, 400, 80), lines, 4.0)
    assert found.mean == pytest.approx(0.25, abs=0.003)
    assert found.maximum == pytest.approx(0.5, abs=0.07)
    assert found.variation == pytest.approx(1 / math.sqrt(3), abs=0.01)
    assert found.bare < 0.002


def test_the_measures_see_a_bare_place_and_a_near_strand() -> None:
    """A comparator that could not fail would prove nothing."""
    gone = tuple(LineString([(0, 2 + 4 * k), (400, 2 + 4 * k)]) for k in range(20) if k not in (9, 10))
    found = evenness(box(0, 0, 400, 80), gone, 4.0)
    assert found.maximum > 1.4
    assert found.variation > 0.7
    assert clearance(LineString([(0, 0), (40, 0), (40, 1.0), (0, 1.0)]), 4.0) == pytest.approx(0.25, abs=0.01)
    assert clearance(LineString([(0, 0), (40, 0)]), 4.0) == pytest.approx(1.5)


@pytest.mark.parametrize("spacing", [4.0, 6.0])
@pytest.mark.parametrize("name", ["flap", "ring", "holes"])
def test_it_lies_nearly_as_evenly_as_parallel_lines(name: str, spacing: float) -> None:
    """Parallel lines have a variation of 0.577; nothing lies farther than a spacing, about a tenth farther than half of it."""
    (line,) = drawn(REGIONS[name], spacing)
    found = evenness(REGIONS[name], (line,), spacing)
    assert found.variation < 0.63
    assert found.maximum < 1.0
    assert found.bare < 0.12
    assert clearance(line, spacing) > 0.45
    assert line.length * spacing / REGIONS[name].area == pytest.approx(1.0, abs=0.09)


@pytest.mark.parametrize("order", [3, 4])
def test_beside_a_hilbert_curve_and_a_boustrophedon_of_the_same_length(order: int) -> None:
    """In a square that suits both baselines exactly they are a little more even, and only there can they be drawn.

    The meander varies by less than 8 % more than either (measured: 0.62 beside 0.59 and 0.58).
    """
    square, spacing = box(0, 0, 96, 96), 96.0 / 2**order
    grid, rows = hilbert(square, order), boustrophedon(square, spacing)
    (line,) = drawn(square, spacing * 0.95)
    assert line.length == pytest.approx(grid.length, rel=0.03)
    assert line.length == pytest.approx(rows.length, rel=0.03)
    found, *others = (evenness(square, (one,), spacing) for one in (line, grid, rows))
    assert all(found.variation < 1.08 * other.variation for other in others)
    assert found.bare < 0.1


def test_the_walk_round_a_tree_of_square_cells_is_four_spacings_a_cell() -> None:
    """Theory: a walk round a spanning tree of k square cells of side 2d is 4kd long, whatever the tree."""
    for seed in range(5):
        assert lattice_walk(6, 4, seed).length == pytest.approx(4 * 24)
        assert lattice_walk(6, 4, seed).is_ring


def test_the_rough_walk_is_about_four_spacings_a_cell() -> None:
    """Cells that are not square keep to the rule within a tenth: at the same area and count, d is half the root of a cell."""
    spacing = 4.0
    (part,) = connected_parts(FLAP, spacing)
    wall, rng = wall_of(part, spacing), np.random.default_rng(1)
    sites = sites_of(part, cover_of(part, spacing / 3), wall, spacing, rng)
    net = site_net(sites, wall)
    (line,) = walks(net, net.tree(spacing, rng))
    cell = part.area / len(sites)
    assert LineString([*line, line[0]]).length == pytest.approx(4 * len(sites) * math.sqrt(cell) / 2, rel=0.1)


@pytest.mark.parametrize("spacing", [2.0, 4.0])
def test_its_stitches_do_not_cross_either(spacing: float) -> None:
    style = GroundStyle("meander", spacing, 2.0, None, 1, 2.5)
    (run,) = sew(Stitch(Role.GROUND, "Ground", "thread", (), style, "", region=FLAP), StitchingModel(), MachineModel())
    once = run.points[LOCK_STITCHES : -LOCK_STITCHES - RING_OVERLAP]
    assert LineString(once).is_simple
    assert FLAP.boundary.distance(LineString(run.points)) >= 2.0


@pytest.mark.bench
def test_a_flap_is_drawn_while_one_blinks() -> None:
    """Processor time of a flap of 110 x 80 mm at a spacing of 4 mm: goal below 150 ms, measured about 70 ms."""
    start = time.process_time()
    for seed in range(5):
        drawn(FLAP, 4.0, seed + 100)
    each = (time.process_time() - start) / 5
    print(f"\nmeander, flap 110 x 80, spacing 4: {each * 1000:.0f} ms")
    assert each < 0.150
