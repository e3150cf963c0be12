"""A project with a stitch file of the maker's own, from its folder to the files for machine and paper."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import shapely

from hoopwright.build import Build
from hoopwright.core.errors import ProjectError
from hoopwright.core.findings import Severity
from hoopwright.operations.vocabulary import Role
from hoopwright.outputs.booklet.halts import bench_of, grouped, halt
from hoopwright.outputs.machine.write import machine_files
from hoopwright.pipeline import build, check_files
from hoopwright.project.load import load
from hoopwright.stitchfiles.read import read_stitches
from tests.needle.test_placed import MARK, ring, written
from tests.outputs.machine_hoopings import hooping

FLAP = Path(__file__).parents[2] / "examples" / "tide-mill-flap" / "project.toml"

PLACED = """
[[panel.placed]]
file = "mark.pes"
at = [-1, 5]
threads = ["gold", "slate", "foam"]

[panel.ground]
kind = "crosshatch"
margin = 2
"""


def built(folder: Path, text: str = PLACED, data: bytes | None = None) -> Build:
    (folder / "project.toml").write_text(FLAP.read_text(encoding="utf-8") + text, encoding="utf-8")
    (folder / "mark.pes").write_bytes(written() if data is None else data)
    loaded = load(folder / "project.toml")
    return build(loaded.project, dict(loaded.drawings))


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Build:
    return built(tmp_path_factory.mktemp("mill"))


def test_the_blocks_come_after_the_seam_stitches_and_before_the_outline(made: Build) -> None:
    roles = [step.stitch.role for step in made.plan.hoopings[0].steps]
    assert roles[-4:] == [Role.PLACED] * 3 + [Role.OUTLINE] and roles[-5] is Role.ORNAMENT
    assert not [f for f in made.findings if f.severity is not Severity.NOTES]


def test_blocks_keep_the_order_of_their_file_whatever_their_threads(tmp_path: Path) -> None:
    """Blocks that do not touch, of which the first and the last have one thread, as a new order would like them together."""
    apart = hooping([ring(4, (-10, 0))], [ring(4)], [ring(4, (10, 0))], threads="ewn")
    text = PLACED.replace('["gold", "slate", "foam"]', '["gold", "slate", "gold"]')
    steps = built(tmp_path, text, written(plan=apart)).plan.hoopings[0].steps
    placed = [s.stitch.title for s in steps if s.stitch.role is Role.PLACED]
    assert placed == [f"Stitch file mark.pes, block {k}" for k in (1, 2, 3)]


def test_the_ground_leaves_its_place_free(made: Build) -> None:
    steps = made.plan.hoopings[0].steps
    regions = [s.stitch.region for s in steps if s.stitch.role is Role.PLACED]
    place = shapely.union_all([region for region in regions if region is not None])
    quilted = [run.points for s in steps if s.stitch.role is Role.GROUND for run in s.runs]
    gaps = shapely.distance(shapely.points(np.concatenate(quilted)), place)
    assert 1.9 < gaps.min() < 6.0


def test_what_is_written_holds_the_file_stitch_for_stitch(made: Build) -> None:
    assert not [f for f in check_files(made).findings if f.severity is Severity.BLOCKS]
    project = made.plan.project
    (pes,) = (f for f in machine_files(made.plan.hoopings[0], project, made.plan.field, "Mill")[0] if f.kind == "pes")
    blocks = read_stitches(pes.data, pes.name).blocks[-4:-1]
    for block, step in zip(blocks, MARK.steps, strict=True):
        wanted = np.concatenate([run.points for run in step.runs]) + np.array((-1.0, 5.0))
        assert np.abs(block.points - wanted).max() <= 0.1 + 1e-9


def test_estimate_and_booklet_know_the_blocks(made: Build) -> None:
    placed = [s for s in made.plan.hoopings[0].steps if s.stitch.role is Role.PLACED]
    times = {s.index: s for s in made.estimate.steps}
    assert all(times[s.index].machine > 0 and times[s.index].thread > 0 for s in placed)
    (group,) = (g for g in grouped(made.plan.hoopings[0].steps) if g[0].stitch.role is Role.PLACED)
    told = halt(bench_of(made, made.plan.hoopings[0], {}), group)
    assert told["title"] == "Steps 23 to 25: 3 blocks of stitch files"
    assert len(told["stitches"]) == 3  # type: ignore[arg-type]


def test_a_file_that_cannot_be_read_blocks_the_build_and_the_rest_is_planned(tmp_path: Path) -> None:
    spoilt = built(tmp_path, data=written()[:300])
    assert [f.code for f in spoilt.findings if f.severity is Severity.BLOCKS] == ["HW380"]
    assert Role.PLACED not in {s.stitch.role for s in spoilt.plan.hoopings[0].steps}


@pytest.mark.parametrize("name", ["../mark.pes", "/mark.pes", "mark.svg", "none.pes"])
def test_a_file_outside_the_folder_or_not_there_is_told_when_the_project_is_read(tmp_path: Path, name: str) -> None:
    with pytest.raises(ProjectError) as refused:
        built(tmp_path, f'\n[[panel.placed]]\nfile = "{name}"\n')
    assert [f.code for f in refused.value.findings] == ["HW130"]
