"""Every kind, written and read back, for random hoopings and for the awkward ones."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from hoopwright.needle.shapes import Hooping
from hoopwright.outputs.machine.compare import ROUNDING, compare, largest_error
from hoopwright.outputs.machine.write import MachineFile, machine_files
from hoopwright.stitchfiles.read import read_stitches
from hoopwright.stitchfiles.record import StitchFile
from tests.outputs.machine_hoopings import ALL_KINDS, FIELD, hooping, project, random_hoopings, wandering


def written(plan: Hooping, halt_at: object = "stay") -> tuple[MachineFile, ...]:
    files, _ = machine_files(plan, project(halt_at), FIELD, "Tide mill")
    assert [f.kind for f in files] == list(ALL_KINDS)
    return files


def read_back(file: MachineFile) -> StitchFile:
    return read_stitches(file.data, file.name)


@settings(max_examples=60, deadline=None)
@given(random_hoopings())
def test_any_hooping_survives_in_every_kind(plan: Hooping) -> None:
    for file in written(plan):
        read = read_back(file)
        assert compare(plan, read, FIELD, file.kind) == (), file.kind
        assert largest_error(plan, read) <= ROUNDING


@settings(max_examples=40, deadline=None)
@given(random_hoopings())
def test_any_hooping_survives_with_a_waiting_place(plan: Hooping) -> None:
    for file in written(plan, "front"):
        assert compare(plan, read_back(file), FIELD, file.kind) == (), file.kind


AWKWARD = {
    "one needle position": hooping([[(0, 0)]]),
    "one stitch": hooping([[(10.04, -3.06), (12.0, -3.0)]]),
    "one position a run, twice the same place": hooping([[(5, 5)], [(5, 5)]], [[(5, 5)]]),
    "corners of the field": hooping([[(-65, -90), (-65, -84)], [(65, 90), (65, 84)]], [[(65, -90)], [(-65, 90)]]),
    "wholly on one side": hooping([[(20.05, 30.05), (22.15, 30.05)]], [[(21, 31), (23.3, 33.3)]]),
    "odd extents": hooping([[(0.1, 0.2), (3.2, 0.2)]], [[(1.1, 5.3), (2, 2)]], [[(-0.3, 0), (0, -0.7)]]),
    "tiny locks": hooping([[(0, 0), (0.04, 0), (0.08, 0), (0.12, 0), (0.04, 0)]]),
    "on the axes": hooping([[(0, 1), (0, 2)]], [[(0, 0), (3, 0)]], [[(0, -7), (-7, 0)]]),
    "small steps back and forth, like a cut": hooping([[(0, 0), (0.2, -0.2), (-0.2, 0.2), (0, 0)]] * 2),
    "twenty-five blocks of one thread": hooping(*[[[(i, 0), (i, 2)]] for i in range(25)]),
    "long stitches": hooping([[(-60, -80), (60, 80), (60, 79)]]),
}


@pytest.mark.parametrize("name", AWKWARD)
@pytest.mark.parametrize("kind", ALL_KINDS)
def test_awkward_hoopings_survive(name: str, kind: str) -> None:
    plan = AWKWARD[name]
    file = next(f for f in written(plan) if f.kind == kind)
    assert compare(plan, read_back(file), FIELD, kind) == ()


@pytest.mark.parametrize("kind", ALL_KINDS)
def test_the_large_field_is_reached(kind: str) -> None:
    plan = hooping([[(-180, -100), (-178, -100)], [(180, 100), (178, 100)]], [[(-180, 100)]])
    files, _ = machine_files(plan, project(), (360, 200), "Large")
    file = next(f for f in files if f.kind == kind)
    assert compare(plan, read_back(file), (360, 200), kind) == ()


def test_errors_do_not_add_up() -> None:
    plan = hooping([[(i * 0.333, i * 0.0777) for i in range(190)]])
    assert all(largest_error(plan, read_back(f)) <= ROUNDING for f in written(plan))


def test_a_cut_is_recorded_between_runs_of_a_block() -> None:
    plan = hooping([[(0, 0), (2, 0)], [(30, 0), (32, 0)]])
    for file in written(plan):
        assert read_back(file).trims >= 1, file.kind


def test_travels_join_the_runs() -> None:
    plan = hooping([[(0, 0), (2, 0)], [(30, 0), (32, 0)]])
    for file in written(plan):
        assert read_back(file).travels.round(6).tolist() == [[[2, 0], [30, 0]]], file.kind


@pytest.mark.soak
@pytest.mark.parametrize("seed", range(200))
def test_wandering_hoopings_survive(seed: int) -> None:
    plan = wandering(seed, 800, blocks=1 + seed % 7)
    for file in written(plan, ("stay", "front", (10.0, 20.0))[seed % 3]):
        assert compare(plan, read_back(file), FIELD, file.kind) == (), file.kind
