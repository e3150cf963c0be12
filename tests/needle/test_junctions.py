"""Rows do not pile up where seams meet: in the examples and in generated panels, in all weights."""

from __future__ import annotations

import math
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Point

from hoopwright.core.types import Points
from hoopwright.needle.junctions import drawn_back
from hoopwright.needle.ornaments import Ornament, plan_ornaments
from hoopwright.needle.seam_stitches import sew_seam_stitch
from hoopwright.operations.vocabulary import Role
from hoopwright.piecing.patch_map import patch_map
from hoopwright.pipeline import plan
from hoopwright.project.load import load
from hoopwright.project.schema import (
    CutsPatchwork,
    GeneratedPatchwork,
    PanelModel,
    RectangleOutline,
    SeamStitchModel,
)
from tests.needle.seam_rows import DISC, most_in_a_disc, thickest

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*/project.toml"))
NEAR = 6.0
"""Junctions are looked at within this distance, mm."""


def rows_of(panel: PanelModel) -> tuple[tuple[Ornament, ...], list[Points]]:
    map_, _ = patch_map(panel, {})
    assert map_ is not None
    ornaments, _ = plan_ornaments(map_, panel, map_.outline)
    return ornaments, [row for o in ornaments for row in sew_seam_stitch(o.path, o.style, 1.0, 7.0)]


def generated(way: str, seed: int, weight: str) -> PanelModel:
    return PanelModel(
        outline=RectangleOutline(shape="rectangle", width=110, height=90),
        patchwork=GeneratedPatchwork(way=way, seed=seed, patches=7),
        seam_stitch=SeamStitchModel(stitch="feather" if seed % 2 else "cretan", weight=weight),
    )


@pytest.mark.parametrize("weight", ["fine", "bold", "corded"])
@pytest.mark.parametrize("way", ["crazy-centre", "crazy-cuts", "fan", "rounds"])
@pytest.mark.parametrize("seed", [1, *(pytest.param(s, marks=pytest.mark.soak) for s in range(2, 13))])
def test_no_more_holes_and_thread_in_generated_panels_than_cloth_bears(way: str, seed: int, weight: str) -> None:
    """3 to 4 holes a square millimetre (from memory of the trade), 14 mm of thread."""
    _, rows = rows_of(generated(way, seed, weight))
    assert most_in_a_disc(*rows) <= DISC + 1
    assert thickest(*rows) <= 14.0


@pytest.mark.parametrize("weight", ["bold", "corded"])
@pytest.mark.parametrize("example", EXAMPLES, ids=lambda p: p.parent.name)
def test_no_more_holes_near_the_junctions_of_the_examples(example: Path, weight: str) -> None:
    project = load(example).project
    wish = project.panel.seam_stitch.model_copy(update={"weight": weight})
    seams = {k: s.model_copy(update={"weight": weight, "width": None}) for k, s in project.panel.seams.items()}
    panel = project.panel.model_copy(update={"seam_stitch": wish, "seams": seams})
    for hooping in plan(project.model_copy(update={"panel": panel})).hoopings:
        steps = [s for s in hooping.steps if s.stitch.role is Role.ORNAMENT and s.stitch.seam is not None]
        rows = [run.points for step in steps for run in step.runs]
        for end in {p for step in steps for p in (step.stitch.paths[0].coords[0], step.stitch.paths[0].coords[-1])}:
            near = [r[np.hypot(*(r - end).T) < NEAR] for r in rows]
            assert most_in_a_disc(*[r for r in near if len(r)]) <= DISC + 1


def test_rows_that_end_at_one_point_stand_clear_of_each_other() -> None:
    """Eight seams from one point, 22.5 degrees apart in a half circle: neighbours' ends stand 2 mm apart or more."""
    angles = np.radians(np.arange(0.0, 180.1, 22.5))
    paths = {i: LineString([(0, 0), (40 * math.cos(a), 40 * math.sin(a))]) for i, a in enumerate(angles)}
    back = drawn_back(paths, dict.fromkeys(paths, 2.0))
    for a, b in combinations(back.values(), 2):
        assert Point(a.coords[0]).distance(Point(b.coords[0])) >= 2.0 - 0.01
    least = 2.0 / (2.0 * math.sin(math.radians(22.5) / 2))
    assert all(least <= 40.0 - p.length <= least + 0.5 for p in back.values())


def test_rows_lose_no_more_than_a_third_and_lone_ones_nothing() -> None:
    paths = {1: LineString([(0, 0), (10, 0)]), 2: LineString([(0, 0), (10, 0.4)]), 3: LineString([(0, 30), (10, 30)])}
    back = drawn_back(paths, dict.fromkeys(paths, 4.0))
    assert all(back[n].length >= 0.29 * 10 for n in (1, 2)) and back[3] is paths[3]


def test_opposite_ends_on_a_through_seam_are_left_where_they_are() -> None:
    through = [((-50.0, 0.0), (50.0, 0.0)), ((0.0, 0.0), (4.0, 40.0)), ((0.0, -40.0), (0.0, 0.0))]
    panel = PanelModel(
        outline=RectangleOutline(shape="rectangle", width=100, height=80),
        patchwork=CutsPatchwork(way="cuts", cuts=tuple(through)),
        seam_stitch=SeamStitchModel(),
    )
    ornaments, _ = rows_of(panel)
    stems = [o for o in ornaments if abs(o.path.bounds[3] - o.path.bounds[1]) > 20]
    assert len(stems) == 2
    assert all(shapely.distance(o.path, Point(0, 0)) == pytest.approx(2.0, abs=0.1) for o in stems)
