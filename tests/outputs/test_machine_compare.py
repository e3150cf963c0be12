"""The comparison must be able to fail: every way a file can be wrong is made on purpose and must be found."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable

import numpy as np
import pytest

from hoopwright.core.errors import StitchFileError
from hoopwright.core.findings import Severity
from hoopwright.core.types import Points, frozen_points
from hoopwright.needle.shapes import Hooping
from hoopwright.outputs.machine.compare import compare, largest_error
from hoopwright.outputs.machine.kinds import KINDS
from hoopwright.outputs.machine.write import machine_files
from hoopwright.stitchfiles.read import read_stitches
from hoopwright.stitchfiles.record import FileBlock, StitchFile
from tests.outputs.machine_hoopings import ALL_KINDS, FIELD, hooping, project

PLAN = hooping([[(0, 0), (2.5, 0), (5, 0)], [(10, 10), (12, 10)]], [[(5, 5), (7, 5)]], [[(-20, -30), (-22, -30)]])


def good(kind: str, plan: Hooping = PLAN) -> StitchFile:
    file = machine_files(plan, project(kinds=[kind]), FIELD, "t")[0][0]
    return read_stitches(file.data, file.name)


def codes(read: StitchFile, kind: str, plan: Hooping = PLAN, margin: float = 0.0) -> set[str]:
    findings = compare(plan, read, FIELD, kind, margin)
    assert all(f.severity is Severity.BLOCKS and f.cure and kind in f.message for f in findings)
    return {f.code for f in findings}


def changed(read: StitchFile, index: int, **new: object) -> StitchFile:
    blocks = list(read.blocks)
    blocks[index] = dataclasses.replace(blocks[index], **new)  # type: ignore[arg-type]
    return dataclasses.replace(read, blocks=tuple(blocks))


def moved(points: Points, by: tuple[float, float], index: int = 1) -> Points:
    rows = np.array(points)
    rows[index] += by
    return frozen_points(rows)


def drop_a_stitch(read: StitchFile) -> StitchFile:
    return changed(read, 0, points=np.delete(read.blocks[0].points, 1, axis=0), starts=(0, 2))


def add_a_stitch(read: StitchFile) -> StitchFile:
    return changed(read, 1, points=np.vstack([read.blocks[1].points, [(7, 6)]]))


def shift_by_more_than_a_step(read: StitchFile) -> StitchFile:
    return changed(read, 0, points=moved(read.blocks[0].points, (0, 0.11)))


def shift_a_whole_block(read: StitchFile) -> StitchFile:
    return changed(read, 2, points=read.blocks[2].points + np.array([0.1, 0.0]))


def lose_a_halt(read: StitchFile) -> StitchFile:
    a, b, c = read.blocks
    joined = dataclasses.replace(a, points=np.vstack([a.points, b.points]), starts=(*a.starts, len(a.points)))
    return dataclasses.replace(read, blocks=(joined, c), halts=1)


def add_a_halt(read: StitchFile) -> StitchFile:
    return dataclasses.replace(read, halts=3)


def halt_too_early(read: StitchFile) -> StitchFile:
    a, b, c = read.blocks
    late = dataclasses.replace(b, points=np.vstack([a.points[-1:], b.points]), starts=(0, 1))
    early = dataclasses.replace(a, points=a.points[:-1])
    return dataclasses.replace(read, blocks=(early, late, c))


def sew_a_travel(read: StitchFile) -> StitchFile:
    return changed(read, 0, starts=(0,))


def same_thread(read: StitchFile) -> StitchFile:
    return changed(read, 1, colour=read.blocks[0].colour, number=read.blocks[0].number)


def out_of_field(read: StitchFile) -> StitchFile:
    return changed(read, 2, points=moved(read.blocks[2].points, (-60, 0)))


def wait_out_of_field(read: StitchFile) -> StitchFile:
    return changed(read, 2, waits_at=(0.0, 91.0))


FAULTS: list[tuple[Callable[[StitchFile], StitchFile], str]] = [
    (lose_a_halt, "HW810"),
    (add_a_halt, "HW810"),
    (drop_a_stitch, "HW811"),
    (add_a_stitch, "HW811"),
    (halt_too_early, "HW811"),
    (shift_by_more_than_a_step, "HW812"),
    (shift_a_whole_block, "HW812"),
    (sew_a_travel, "HW813"),
    (out_of_field, "HW815"),
    (wait_out_of_field, "HW815"),
]


@pytest.mark.parametrize("kind", ALL_KINDS)
@pytest.mark.parametrize(("fault", "code"), FAULTS)
def test_every_fault_is_found(kind: str, fault: Callable[[StitchFile], StitchFile], code: str) -> None:
    read = good(kind)
    assert codes(read, kind) == set()
    assert code in codes(fault(read), kind)


@pytest.mark.parametrize("kind", [k for k in ALL_KINDS if k not in ("dst", "exp")])
def test_neighbours_with_the_same_thread_are_found(kind: str) -> None:
    assert codes(same_thread(good(kind)), kind) == {"HW814"}


@pytest.mark.parametrize("kind", [k for k in ALL_KINDS if k not in ("dst", "exp")])
def test_a_thread_that_is_not_told_is_found(kind: str) -> None:
    assert codes(changed(good(kind), 1, colour=None, number=None), kind) == {"HW814"}


def test_pes_needs_both_colour_and_entry_to_differ() -> None:
    read = good("pes")
    assert codes(changed(read, 1, number=read.blocks[0].number), "pes") == {"HW814"}
    assert codes(changed(read, 1, colour=read.blocks[0].colour), "pes") == {"HW814"}


def test_a_stitch_longer_than_the_record_is_found() -> None:
    read = changed(good("dst"), 1, points=frozen_points([(5, 5), (23, 5)]))
    assert "HW816" in codes(read, "dst")


def test_the_margin_counts() -> None:
    plan = hooping([[(63, 0), (62, 0)]])
    assert codes(good("dst", plan), "dst", plan, margin=2.0) == set()
    assert codes(good("dst", plan), "dst", plan, margin=2.5) == {"HW815"}


def test_a_colour_record_turned_into_a_jump_is_found_from_the_bytes() -> None:
    file = machine_files(PLAN, project(kinds=["dst"]), FIELD, "t")[0][0]
    at = next(i for i in range(512, len(file.data), 3) if file.data[i + 2] == 0xC3)
    bad = file.data[: at + 2] + b"\x83" + file.data[at + 3 :]
    assert codes(read_stitches(bad, file.name), "dst") == {"HW810"}


@pytest.mark.parametrize("kind", ["dst", "exp", "jef", "xxx", "u01"])
def test_no_flipped_bit_of_a_stitch_goes_unseen(kind: str) -> None:
    """Change one bit of each stitch record in turn: each time the file is refused or the comparison speaks."""
    file = machine_files(PLAN, project(kinds=[kind]), FIELD, "t")[0][0]
    first = {"dst": 512, "exp": 0, "jef": int.from_bytes(file.data[:4], "little"), "xxx": 0x100, "u01": 0x100}[kind]
    last = len(file.data) - (100 if kind == "xxx" else 3)
    seen = 0
    for at in range(first, last):
        bad = file.data[:at] + bytes([file.data[at] ^ 0x01]) + file.data[at + 1 :]
        try:
            seen += bool(compare(PLAN, read_stitches(bad, file.name), FIELD, kind))
        except StitchFileError:
            seen += 1
    assert seen >= 0.75 * (last - first)  # cuts and waiting moves may change without harm


def test_the_largest_error_is_reported() -> None:
    read = good("exp")
    assert largest_error(PLAN, read) < 1e-9
    assert largest_error(PLAN, shift_by_more_than_a_step(read)) == pytest.approx(0.11)
    assert largest_error(PLAN, drop_a_stitch(read)) == float("inf")


@pytest.mark.parametrize("kind", [k for k, f in KINDS.items() if not f.waits])
def test_kinds_without_waiting_places_really_cannot_hold_them(kind: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The table of kinds says so because files written with a waiting place come back wrong."""
    monkeypatch.setitem(KINDS, kind, dataclasses.replace(KINDS[kind], waits=True))
    file = machine_files(PLAN, project("front", [kind]), FIELD, "t")[0][0]
    assert codes(read_stitches(file.data, file.name), kind) & {"HW811", "HW812"}


def test_blocks_part_into_runs() -> None:
    block: FileBlock = good("vp3").blocks[0]
    assert [r.tolist() for r in block.runs] == [[[0, 0], [2.5, 0], [5, 0]], [[10, 10], [12, 10]]]
    assert block.stitch_lengths.tolist() == [2.5, 2.5, 2.0]
