from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from scipy.sparse.csgraph import minimum_spanning_tree
from shapely.geometry import LineString, Point, Polygon, box

from hoopwright.core.findings import Severity, Where
from hoopwright.needle.grounds.drawing import BOAT, GROUNDS, drawing_findings
from hoopwright.needle.grounds.figure import GAP, figure_of
from hoopwright.needle.grounds.shapes import Ground, GroundWish
from hoopwright.needle.panel_grounds import DRAWN, ground_block, ground_faults, motif_said
from hoopwright.project.schema import GroundModel
from tests.needle.grounds.parts import FLAP, PARTS, SLIVER, barest, once, sewn

TURNS = np.linspace(0.0, 2.0 * math.pi, 61)
WAVE = (LineString([(x, 2.0 * math.sin(x)) for x in TURNS]),)
LOOP = (LineString([(3.0 * math.cos(t), 2.0 * math.sin(t)) for t in TURNS]),)
APART = (LineString([(0, 0), (4, 0), (2, 3), (0, 0)]), LineString([(1.5, 1), (2.5, 1), (2, 1.8), (1.5, 1)]))
COMB = (LineString([(0, 0), (10, 0)]), *(LineString([(x, 0), (x, 6)]) for x in (2, 4, 6, 8)))
TREE = (LineString([(0, 0), (5, 0), (10, 0)]), LineString([(5, 0), (5, 8)]), LineString([(2, 7), (5, 4), (8, 7)]))
MOTIFS = {"boat": BOAT, "wave": WAVE, "loop": LOOP, "apart": APART, "comb": COMB, "tree": TREE}
WHERE = Where(path="panel.ground")


def codes(region: Polygon, spacing: float, motif: tuple[LineString, ...]) -> list[str]:
    return [f.code for f in drawing_findings(region, GroundWish(spacing, 0.0, 1, motif), WHERE)]


@pytest.mark.parametrize("name", MOTIFS)
@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("ground", GROUNDS, ids=lambda g: g.name)
def test_one_walk_inside_that_covers(ground: Ground, part: str, name: str) -> None:
    region, wish = PARTS[part], GroundWish(ground.spacing, 0.0, 1, MOTIFS[name])
    walks = sewn(ground, region, wish)
    assert len(walks) == 1
    assert region.buffer(1e-3).covers(walks[0])
    assert barest(region, walks) <= 0.75 * ground.spacing
    assert walks[0].length <= 1.25 * once(walks)


@pytest.mark.parametrize("name", MOTIFS)
def test_a_figure_fits_its_cell_and_keeps_its_shape(name: str) -> None:
    figure = figure_of(MOTIFS[name], 20.0)
    left, low, right, high = shapely.total_bounds(MOTIFS[name])
    x0, y0, x1, y1 = shapely.total_bounds(figure.lines)
    assert max(x1 - x0, y1 - y0) == pytest.approx((1.0 - GAP) * 20.0)
    assert (y1 - y0) / (x1 - x0) == pytest.approx((high - low) / (right - left))
    assert (x0 + x1, y0 + y1) == pytest.approx((0.0, 0.0), abs=1e-9)


def test_whole_figures_show_again_and_again() -> None:
    """Oracle: every repeat of a loop is a mesh of the area of the loop in its cell."""
    lines = GROUNDS[0].draw(FLAP, GroundWish(20.0, 0.0, 1, LOOP))
    area = Polygon(figure_of(LOOP, 20.0).lines[0]).area
    meshes = shapely.get_parts(shapely.polygonize(shapely.get_parts(shapely.union_all(list(lines), grid_size=1e-4))))
    same = [m for m in meshes if m.area == pytest.approx(area, rel=0.01)]
    assert len(same) >= 15
    rows = sorted({round(m.centroid.y, 1) for m in same})
    for low, high in pairwise(rows):
        one, other = (sorted(m.centroid.x for m in same if abs(m.centroid.y - y) < 0.2) for y in (low, high))
        assert (one[0] - other[0]) % 20.0 == pytest.approx(10.0, abs=0.01)


def test_straight_rows_stand_above_each_other() -> None:
    lines = GROUNDS[1].draw(FLAP, GroundWish(20.0, 0.0, 1, LOOP))
    area = Polygon(figure_of(LOOP, 20.0).lines[0]).area
    meshes = shapely.get_parts(shapely.polygonize(shapely.get_parts(shapely.union_all(list(lines), grid_size=1e-4))))
    across = [m.centroid.x for m in meshes if m.area == pytest.approx(area, rel=0.01)]
    assert all((x - across[0] + 1.0) % 20.0 == pytest.approx(1.0, abs=0.01) for x in across)


def test_a_motif_that_goes_out_where_it_comes_in_runs_on_without_a_bridge() -> None:
    figure = figure_of(WAVE, 20.0)
    assert figure.link is None
    assert figure.width == pytest.approx((1.0 - GAP) * 20.0)
    assert figure_of(LOOP, 20.0).link is not None


def test_parts_that_do_not_touch_get_the_shortest_bridge() -> None:
    figure = figure_of(APART, 20.0)
    scale = (1.0 - GAP) * 20.0 / 4.0
    assert len(figure.bridges) == 1
    assert figure.bridges[0].length == pytest.approx(scale * APART[0].distance(APART[1]), abs=0.05)


@pytest.mark.parametrize(
    ("name", "free"), [("comb", 24 / 34), ("tree", (4 + 4 + 2 * 18**0.5) / (18 + 2 * 18**0.5)), ("boat", 0)]
)
def test_what_ends_free_is_sewn_there_and_back(name: str, free: float) -> None:
    """Twigs and what leads to nothing else, by hand: the teeth of a comb, trunk and branches of a tree."""
    figure = figure_of(MOTIFS[name], 20.0)
    assert figure.free == pytest.approx(free, abs=0.01)
    assert sum(line.length for line in figure.sewn) > (1.0 + free - 0.01) * once(figure.lines)
    walks = sewn(GROUNDS[0], FLAP, GroundWish(20.0, 0.0, 1, MOTIFS[name]))
    assert len(walks) == 1


def test_many_parts_are_bridged_like_a_least_tree() -> None:
    """Oracle: the least spanning tree of the distances between all parts."""
    rng = np.random.default_rng(3)
    dots = tuple(LineString([(x, y), (x + 0.3, y)]) for x, y in rng.uniform(0, 40, (30, 2)))
    figure = figure_of(dots, 40.0)
    away = shapely.distance(np.array(figure.lines)[:, None], np.array(figure.lines)[None])
    tree = minimum_spanning_tree(away)
    assert sum(b.length for b in figure.bridges) == pytest.approx(float(tree.sum()), rel=1e-6)


def test_a_flat_motif_keeps_its_rows_apart() -> None:
    flat = (LineString([(0, 0), (10, 0)]),)
    assert figure_of(flat, 20.0).height == pytest.approx(8.0)
    assert len(sewn(GROUNDS[0], FLAP, GroundWish(20.0, 0.0, 1, flat))) == 1


def test_the_same_motif_draws_the_same_lines_and_none_a_boat() -> None:
    one, other = (GROUNDS[0].draw(FLAP, GroundWish(20.0, 0.0, 1, motif)) for motif in ((), BOAT))
    assert all(a.equals_exact(b, 0.0) for a, b in zip(one, other, strict=True))
    assert all(SLIVER.buffer(1e-3).covers(walk) for walk in sewn(GROUNDS[0], SLIVER))


def test_a_good_motif_is_not_spoken_of() -> None:
    assert codes(FLAP, 20.0, BOAT) == []
    assert codes(FLAP, 20.0, WAVE) == []
    assert drawing_findings(FLAP, GroundWish(20.0, 0.0), WHERE) == ()


def test_what_is_wrong_with_a_motif_is_told() -> None:
    crowded = tuple(LineString([(0, y), (10, y + 0.2)]) for y in np.arange(0.0, 10.0, 0.5))
    assert "HW350" in codes(FLAP, 8.0, crowded)
    assert codes(FLAP, 20.0, APART) == ["HW351"]
    assert codes(FLAP, 20.0, COMB) == ["HW352"]
    assert codes(box(0, 0, 60, 8), 20.0, LOOP) == ["HW353"]


def test_findings_name_their_place_and_a_cure() -> None:
    for region, spacing, motif in ((box(0, 0, 60, 8), 20.0, LOOP), (FLAP, 20.0, APART)):
        for finding in drawing_findings(region, GroundWish(spacing, 0.0, 1, motif), WHERE, "in"):
            assert finding.where.path == "panel.ground"
            assert finding.cure
            assert finding.severity is not Severity.BLOCKS


def test_a_region_in_parts_has_room_where_one_part_has() -> None:
    parts = shapely.MultiPolygon([box(0, 0, 60, 8), Point(100, 0).buffer(20)])
    assert drawing_findings(parts, GroundWish(20.0, 0.0, 1, LOOP), WHERE) == ()


@pytest.mark.parametrize("kind", sorted(DRAWN))
def test_a_panel_s_ground_reads_the_file_of_either_kind_and_tells_of_its_motif(kind: str) -> None:
    model = GroundModel(kind=kind, spacing=20.0, file="two.svg")
    files = {
        "two.svg": b'<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40">'
        b'<path d="M0 20 L20 0 L40 20 Z M16 14 L24 14 L20 10 Z"/></svg>'
    }
    assert ground_faults(model, "panel.ground", files, "mm") == ()
    block = ground_block(model, FLAP, "Ground", 2.5, files)
    (finding,) = motif_said(block, "panel.ground.file", "mm")
    assert (finding.code, finding.where.path) == ("HW351", "panel.ground.file")
    (missing,) = ground_faults(GroundModel(kind=kind), "panel.ground", {}, "mm")
    assert missing.code == "HW392"
    plain = ground_block(GroundModel(kind="channels"), FLAP, "Ground", 2.5, {})
    assert motif_said(plain, "panel.ground", "mm") == ()
