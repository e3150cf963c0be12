"""The common two-byte file against its published example, with an independent decoder.

Source: hwiegman.home.xs4all.nl/fileformats/M: signed bytes, 80 01 colour change, 80 02 and 80 04
jumps; the example closes at (0, 0) in a box of 38.1 x 25.4 mm.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from hoopwright.needle.shapes import Hooping
from hoopwright.outputs.machine.facts import facts
from hoopwright.outputs.machine.write import machine_files
from hoopwright.stitchfiles.read import read_stitches
from tests.outputs.machine_hoopings import FIELD, hooping, project, wandering

EXAMPLE = bytes.fromhex("007F 007F 7F00 8002 7F00 7F00 8001 0081 0081 8100 8002 8100 8100")


def signed(byte: int) -> int:
    return byte - 256 if byte > 127 else byte


def decode(data: bytes) -> list[tuple[str, int, int]]:
    """Return word and position after every record, in steps, y up."""
    rows, at, x, y = [], 0, 0, 0
    while at < len(data):
        word = "stitch"
        if data[at] == 0x80:
            word = {0x01: "colour", 0x02: "jump", 0x04: "jump", 0x80: "cut"}[data[at + 1]]
            at += 2
        if word != "cut":
            x, y = x + signed(data[at]), y + signed(data[at + 1])
        at += 2
        rows.append((word, x, y))
    return rows


def published() -> list[tuple[int, int]]:
    """The example as published: there a command stands alone and the move that follows is a record of its own."""
    x, y, places = 0, 0, []
    for at in range(0, len(EXAMPLE), 2):
        if EXAMPLE[at] != 0x80:
            x, y = x + signed(EXAMPLE[at]), y + signed(EXAMPLE[at + 1])
            places.append((x, y))
    return places


def test_the_published_example_closes_in_its_box() -> None:
    places = np.array(published())
    assert tuple(places[-1]) == (0, 0)
    assert (np.ptp(np.vstack([places, [(0, 0)]]), axis=0) / 10).tolist() == pytest.approx([38.1, 25.4])


def test_our_reader_reads_the_published_example() -> None:
    read = read_stitches(EXAMPLE, "example.exp")
    assert read.halts == 1
    assert read.points[-1].tolist() == pytest.approx([0, 0])
    got = facts(read, 600)
    assert [got.width, got.height] == pytest.approx([38.1, 25.4]) or [got.width, got.height] == pytest.approx(
        [38.1, 12.7]
    )


def exp(plan: Hooping, halt_at: object = "stay") -> bytes:
    return machine_files(plan, project(halt_at, ["exp"]), FIELD, "t")[0][0].data


def jef(plan: Hooping, halt_at: object = "stay") -> bytes:
    """The stitches of a jef file: the same records, from the place its first number tells, up to 80 10 (from memory)."""
    data = machine_files(plan, project(halt_at, ["jef"]), FIELD, "t")[0][0].data
    assert data.endswith(b"\x80\x10")
    return data[int.from_bytes(data[:4], "little") : -2]


@pytest.mark.parametrize("halt_at", ["stay", "front"])
@pytest.mark.parametrize("body", [exp, jef])
@pytest.mark.parametrize("seed", range(8))
def test_the_file_agrees_with_the_plan_for_every_step(
    seed: int, body: Callable[[Hooping, object], bytes], halt_at: object
) -> None:
    plan = wandering(seed, 160, blocks=1 + seed % 4)
    blocks: list[list[tuple[int, int]]] = [[]]
    for word, x, y in decode(body(plan, halt_at)):
        if word == "colour":
            blocks.append([])
        if word == "stitch":
            blocks[-1].append((x, y))
    assert len(blocks) == len(plan.steps)
    for block, step in zip(blocks, plan.steps, strict=True):
        wanted = np.concatenate([r.points for r in step.runs]) * 10
        assert np.abs(np.array(block) - wanted).max() <= 0.5 + 1e-6


def test_no_move_is_longer_than_a_signed_byte_or_the_command_byte() -> None:
    """-128 is the command byte 80 and must never be written as a move."""
    rows = [(0, 0), *((x, y) for _, x, y in decode(exp(hooping([[(-65, -90)], [(65, 90)]], [[(65, -90)]]), "front")))]
    assert np.abs(np.diff(np.array(rows), axis=0)).max() <= 127
