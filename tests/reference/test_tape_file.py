"""The three-byte tape, decoded by an independent reader written from its published description.

Source: achatina.de/sewing/main/DST.HTM (bits of the record, jump and colour flags), edutechwiki.unige.ch, Embroidery
format DST (header). The code of the end record is from memory. Nothing here uses a stitch file library.
"""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from hoopwright.needle.shapes import Hooping
from hoopwright.outputs.machine.headers import tape_moves
from hoopwright.outputs.machine.write import machine_files
from tests.outputs.machine_hoopings import FIELD, hooping, project, wandering

BITS = (
    "y+1 y-1 y+9 y-9 x-9 x+9 x-1 x+1",
    "y+3 y-3 y+27 y-27 x-27 x+27 x-3 x+3",
    "jump colour y+81 y-81 x-81 x+81 1 1",
)
"""Bits 7 to 0 of the three bytes."""

EXAMPLES = {
    "A81223": (-12, 64),
    "A812A3": (-12, 64),
    "000003": (0, 0),
    "010003": (1, 0),
    "400003": (0, -1),
    "050503": (40, 0),
    "0A0A07": (41, 0),
    "010603": (25, 0),
    "806003": (0, 25),
    "A5A527": (121, 121),
    "5A5A1B": (-121, -121),
    "555517": (121, -121),
}


def decode(record: bytes) -> tuple[int, int, str]:
    """Return the move and what the record says: stitch, jump, colour or end."""
    move = {"x": 0, "y": 0}
    flags = set()
    for byte, names in zip(record, BITS, strict=True):
        for place, name in enumerate(names.split()):
            if byte >> (7 - place) & 1:
                if name[0] in "xy":
                    move[name[0]] += int(name[1:])
                else:
                    flags.add(name)
    assert "1" in flags, "the two lowest bits of the third byte are always set"
    word = {frozenset(): "stitch", frozenset({"jump"}): "jump", frozenset({"jump", "colour"}): "colour"}
    if record[2] == 0xF3:
        return 0, 0, "end"
    return move["x"], move["y"], word[frozenset(flags - {"1"})]


def tape(data: bytes) -> list[list[tuple[int, int]]]:
    """Return the needle positions of each block in steps, x right, y up."""
    x = y = 0
    blocks: list[list[tuple[int, int]]] = [[]]
    for at in range(512, len(data), 3):
        dx, dy, word = decode(data[at : at + 3])
        x, y = x + dx, y + dy
        if word == "end":
            assert at + 3 == len(data)
            return blocks
        if word == "colour":
            blocks.append([])
        if word == "stitch":
            blocks[-1].append((x, y))
    raise AssertionError("no end record")


def header(data: bytes) -> dict[str, str]:
    rows = data[:512].split(b"\x1a")[0].decode("ascii").rstrip("\r").split("\r")
    return {row[:2]: row[3:] for row in rows}


def dst(plan: Hooping, halt_at: object = "stay", title: str = "Tide mill flap, wide") -> bytes:
    return machine_files(plan, project(halt_at, ["dst"]), FIELD, title)[0][0].data


@pytest.mark.parametrize("record", EXAMPLES)
def test_our_decoder_reads_the_published_records(record: str) -> None:
    assert decode(bytes.fromhex(record))[:2] == EXAMPLES[record]


def test_flags_of_the_published_records() -> None:
    words = [decode(bytes.fromhex(r))[2] for r in ("A81223", "A812A3", "0000C3", "0000F3")]
    assert words == ["stitch", "jump", "colour", "end"]


@pytest.mark.parametrize("record", [r for r in EXAMPLES if r != "A812A3"])
def test_the_written_records_are_the_published_ones(record: str) -> None:
    """A design of two needle positions that far apart holds exactly this record."""
    x, y = EXAMPLES[record]
    body = dst(hooping([[(0, 0), (x / 10, y / 10)]]))[512:]
    long = max(abs(x), abs(y)) > 84  # more than 12 mm along the way: divided before writing
    assert (bytes.fromhex(record) in {body[i : i + 3] for i in range(0, len(body), 3)}) is not long


@pytest.mark.parametrize("move", [(121, 121), (-121, -121), (121, -121)])
def test_the_longest_moves_are_the_published_ones(move: tuple[int, int]) -> None:
    """Reached by travelling, as jumps: the published record with the jump bit set."""
    body = dst(hooping([[(0, 0)], [(move[0] / 10, move[1] / 10)]]))[512:]
    record = next(bytes.fromhex(r) for r, m in EXAMPLES.items() if m == move)
    assert record[:2] + bytes([record[2] | 0x80]) in {body[i : i + 3] for i in range(0, len(body), 3)}


def test_every_move_has_one_record() -> None:
    """Each of the 243 x 243 moves is written by exactly one choice of the weights 1, 3, 9, 27, 81 with signs."""
    sums = {
        sum(s * w for s, w in zip(signs, (1, 3, 9, 27, 81), strict=True)) for signs in product((-1, 0, 1), repeat=5)
    }
    assert sums == set(range(-121, 122))
    assert len(sums) == 3**5


def test_the_header_writer_and_this_decoder_agree_on_random_records() -> None:
    rng = np.random.default_rng(4)
    rows = rng.integers(0, 256, (2000, 3), dtype=np.uint8)
    rows[:, 2] = rows[:, 2] & 0x3F | 0x03
    expected = [decode(bytes(r))[:2] for r in rows if r[2] != 0xF3]
    assert [tuple(m) for m in tape_moves(rows).tolist()] == expected


PLANS = [wandering(s, 200, blocks=1 + s % 5) for s in range(12)] + [
    hooping([[(-65, -90), (-60, -90)], [(65, 90)]], [[(0, 0)]]),
    hooping([[(0.05, 0.15), (0.25, 0.35), (-0.05, -0.15)]]),
]


@pytest.mark.parametrize("plan", PLANS)
@pytest.mark.parametrize("halt_at", ["stay", "front", (5.0, -7.0)])
def test_the_tape_agrees_with_the_plan_for_every_step(plan: Hooping, halt_at: object) -> None:
    blocks = tape(dst(plan, halt_at))
    assert len(blocks) == len(plan.steps)
    for block, step in zip(blocks, plan.steps, strict=True):
        wanted = np.concatenate([r.points for r in step.runs]) * 10
        assert np.abs(np.array(block) - wanted).max() <= 0.5 + 1e-6


def test_header_fields() -> None:
    plan = hooping([[(3, 4), (5, -2)]], [[(-1, 2), (-2, 7)]])
    data = dst(plan)
    fields = header(data)
    assert fields["LA"] == "Tide mill flap, "
    assert len(fields["LA"]) == 16
    assert int(fields["ST"]) == (len(data) - 512) // 3 - 1
    assert int(fields["CO"]) == 1
    assert [int(fields[k]) for k in ("+X", "-X", "+Y", "-Y")] == [50, 20, 70, 20]
    assert [int(fields[k].replace(" ", "")) for k in ("AX", "AY", "MX", "MY")] == [-20, 70, 0, 0]
    assert fields["PD"] == "******"


def test_header_places() -> None:
    """Published places of the fields: LA 0 (20 bytes), ST 20 (11), CO 31 (7), +X 38 (9), -X 47, +Y 56, -Y 65."""
    data = dst(wandering(2, 100))
    for place, label in ((0, "LA"), (20, "ST"), (31, "CO"), (38, "+X"), (47, "-X"), (56, "+Y"), (65, "-Y"), (74, "AX")):
        assert data[place : place + 3] == f"{label}:".encode()
    assert data[511:512] == b" "
    assert data[:512].count(b"\x1a") == 1


def test_extents_count_from_the_start() -> None:
    """A design wholly to the right of the start reaches nothing to its left."""
    fields = header(dst(hooping([[(3, 4), (5, 6)]])))
    assert [int(fields[k]) for k in ("+X", "-X", "+Y", "-Y")] == [50, 0, 60, 0]
