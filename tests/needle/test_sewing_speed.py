"""How long it takes to sew a hundred thousand stitches, against the time the stitch file library takes to write them."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pystitch
import pytest
from shapely.geometry import LineString, box

from hoopwright.needle.block_order import reordered
from hoopwright.needle.sewing import steps_of
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import GroundStyle, OrnamentStyle, Role, RunStyle, Stitch
from hoopwright.outputs.machine.colours import block_colours
from hoopwright.outputs.machine.kinds import KINDS
from hoopwright.outputs.machine.pattern import pattern_of
from hoopwright.project.schema import MachineModel, StitchingModel

STITCHES = 100_000
MOST = 3.0
"""Planning may take this many times the writing."""
BLOCKS_IN_A_FILE = 200
"""Fewer than the 255 changes of colour that a file may hold; what they take to write is scaled to all stitches."""
SEAMS = ("feather", "herringbone", "chain")
CELL = 38.0

pytestmark = pytest.mark.bench


def blocks(shift: float) -> Iterator[Stitch]:
    """Yield the blocks of one patch after the other: layout, a tight crosshatch, seam stitches, an outline sewn twice.

    ``shift`` moves all, and no two patches lie quite alike, so that nothing remembered is of use.
    """
    for k in range(1000):
        x, y = (k % 8) * 40.0 - 160.0 + shift + 0.001 * k, (k // 8 % 5) * 40.0 - 100.0
        patch = box(x, y, x + CELL, y + CELL)
        border = LineString(patch.exterior.coords)
        cut = LineString([(x + 9, y), (x + 30, y + CELL)])
        yield Stitch(Role.LAYOUT, "Layout", "ecru", (border, cut), RunStyle(3.0), "")
        yield Stitch(
            Role.GROUND, "Ground", "ecru", (), GroundStyle("crosshatch", 3.0, 1.0, None, 1, 2.0), "", region=patch
        )
        for j, name in enumerate(SEAMS):
            seam = LineString([(x, y + 12.0 * j), (x + CELL, y + 12.0 * j)])
            yield Stitch(Role.ORNAMENT, name, "ecru", (seam,), OrnamentStyle(name, 6.0), "", seam=3 * k + j)
        yield Stitch(Role.OUTLINE, "Outline", "ecru", (border,), RunStyle(2.5, times=2), "")


def enough(shift: float) -> list[Stitch]:
    """Return as many blocks as give STITCHES stitches."""
    wanted: list[Stitch] = []
    count = 0
    for block in blocks(shift):
        steps, _ = steps_of([block], StitchingModel(), MachineModel())
        wanted.append(block)
        count += steps[0].count
        if count >= STITCHES:
            return wanted
    raise AssertionError("not enough blocks")


def seconds(work: Callable[[], object]) -> float:
    start = time.process_time()
    work()
    return time.process_time() - start


def writing(hooping: Hooping, kind: str, folder: Path) -> float:
    """Return what the library's own write takes for all stitches of a hooping, s."""
    part = replace(hooping, steps=hooping.steps[:BLOCKS_IN_A_FILE])
    colours = block_colours(["#f4eedd"] * len(part.steps), KINDS[kind])
    pattern = pattern_of(part, KINDS[kind], colours, ["Ecru"] * len(part.steps), None)
    return seconds(lambda: pystitch.write(pattern, str(folder / f"t.{kind}"))) * hooping.count / part.count


def test_planning_takes_no_more_than_three_times_the_writing_of_pes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    planned: list[float] = []
    written: dict[str, list[float]] = {kind: [] for kind in ("pes", "dst", "exp")}
    hooping = Hooping("big", "Big", "panel", 1, ())
    number = len(enough(0.0))
    for turn in range(1, 4):
        wanted = [b for b, _ in zip(blocks(0.01 * turn), range(number), strict=False)]
        start = time.process_time()
        steps = reordered(steps_of(wanted, StitchingModel(), MachineModel())[0])
        planned.append(time.process_time() - start)
        hooping = replace(hooping, steps=steps)
        for kind, times in written.items():
            times.append(writing(hooping, kind, tmp_path))
    plan = statistics.median(planned)
    with capsys.disabled():
        print(f"\n{hooping.count} stitches in {number} blocks planned in {plan:.2f} s")
        for kind, times in written.items():
            print(
                f"  {kind} written in {statistics.median(times):.2f} s: planning takes {plan / statistics.median(times):.2f} times that"
            )
    assert hooping.count >= STITCHES
    assert plan <= MOST * statistics.median(written["pes"])
