"""Measurements of the whole way, started by make bench. Limits are those of docs/performance.md."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from hoopwright.pipeline import build, write
from hoopwright.project.load import load
from hoopwright.project.schema import Project

FLAP = Path(__file__).parents[1] / "examples" / "tide-mill-flap" / "project.toml"
REPLAN_LIMIT = 0.060
BUILD_LIMIT = 3.0

pytestmark = pytest.mark.bench


def moved(project: Project, by: float) -> Project:
    """Return the project with its fourth cut moved by ``by`` mm, as a hand dragging it would."""
    patchwork = project.panel.patchwork
    assert patchwork is not None
    assert patchwork.way == "cuts"
    cuts = list(patchwork.cuts)
    (ax, ay), (bx, by_) = cuts[3]
    cuts[3] = ((ax, ay + by), (bx, by_ + by))
    changed = patchwork.model_copy(update={"cuts": tuple(cuts)})
    return project.model_copy(update={"panel": project.panel.model_copy(update={"patchwork": changed})})


def seconds(work: Callable[[], object]) -> float:
    """Return the processor time of ``work``: other work on the machine does not count."""
    start = time.process_time()
    work()
    return time.process_time() - start


def test_planning_again_after_one_moved_cut(capsys: pytest.CaptureFixture[str]) -> None:
    project = load(FLAP).project
    build(project)
    times = [seconds(lambda i=i: build(moved(project, 0.1 * i), prove=False)) for i in range(1, 21)]  # type: ignore[misc]
    made = build(moved(project, 0.05))
    with capsys.disabled():
        print(f"\nplanning again: median {statistics.median(times) * 1000:.0f} ms, worst {max(times) * 1000:.0f} ms")
        for name, spent in made.timings:
            print(f"  {name:<14} {spent * 1000:6.1f} ms")
    assert statistics.median(times) < REPLAN_LIMIT


def test_the_whole_build_of_the_example(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    project = load(FLAP).project
    write(build(project), tmp_path / "first")
    spent = seconds(lambda: write(build(project), tmp_path / "second"))
    with capsys.disabled():
        print(f"\nwhole build with all outputs, warm: {spent:.2f} s")
    assert spent < BUILD_LIMIT
