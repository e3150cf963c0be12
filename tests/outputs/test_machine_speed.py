"""Measurements of stitch files; docs/performance.md tells what was measured."""

from __future__ import annotations

import time

import pytest

from hoopwright.outputs.machine.compare import compare
from hoopwright.outputs.machine.facts import facts
from hoopwright.outputs.machine.write import machine_files
from hoopwright.stitchfiles.read import read_stitches
from tests.outputs.machine_hoopings import FIELD, project, wandering

SIX = ("dst", "exp", "pes", "jef", "vp3", "xxx")


@pytest.mark.bench
def test_six_thousand_stitches_in_six_kinds() -> None:
    plan = wandering(1, 6000, blocks=30)
    begin = time.perf_counter()
    files, _ = machine_files(plan, project(kinds=SIX), FIELD, "t")
    written = time.perf_counter()
    read = [read_stitches(f.data, f.name) for f in files]
    back = time.perf_counter()
    assert not any(compare(plan, r, FIELD, f.kind) for r, f in zip(read, files, strict=True))
    compared = time.perf_counter()
    facts(read[0], 600)
    print(f"write {written - begin:.3f} s, read {back - written:.3f} s, compare {compared - back:.3f} s")
    print(f"facts of one file {time.perf_counter() - compared:.3f} s")
    assert compared - begin < 0.6
