"""Files that we did not write, placed on a panel: put together by hand from the published records.

Sources: the tape, achatina.de/sewing/main/DST.HTM (bits of the three bytes) and edutechwiki.unige.ch, Embroidery format DST
(header); the two-byte example, hwiegman.home.xs4all.nl/fileformats/M.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
from shapely.geometry import box

from hoopwright.core.types import Points
from hoopwright.needle.placed import plan_placed
from hoopwright.operations.vocabulary import DrawnStyle, Stitch
from hoopwright.piecing.shapes import Frame
from tests.needle.test_placed import placing
from tests.reference.test_two_byte_file import EXAMPLE

BITS = {
    ("y", 1): (0, 7), ("y", -1): (0, 6), ("y", 9): (0, 5), ("y", -9): (0, 4),
    ("x", -9): (0, 3), ("x", 9): (0, 2), ("x", -1): (0, 1), ("x", 1): (0, 0),
    ("y", 3): (1, 7), ("y", -3): (1, 6), ("y", 27): (1, 5), ("y", -27): (1, 4),
    ("x", -27): (1, 3), ("x", 27): (1, 2), ("x", -3): (1, 1), ("x", 3): (1, 0),
    ("y", 81): (2, 5), ("y", -81): (2, 4), ("x", -81): (2, 3), ("x", 81): (2, 2),
}  # fmt: skip
"""Byte and bit of each weight, from the published table."""

SEWN, JUMP, COLOUR, END = 0x03, 0x83, 0xC3, 0xF3


def record(x: int, y: int, command: int) -> bytes:
    """One record of the tape: a move in steps of 0.1 mm, its command in the third byte."""
    row = [0, 0, command]
    for axis, way in (("x", x), ("y", y)):
        for weight in (81, 27, 9, 3, 1):
            rest = (weight - 1) // 2
            if abs(way) > rest:
                part = weight if way > 0 else -weight
                at, bit = BITS[axis, part]
                row[at] |= 1 << bit
                way -= part
        assert way == 0
    return bytes(row)


def test_records_are_those_published() -> None:
    for move, shown in {
        (-12, 64): "A81223", (1, 0): "010003", (0, -1): "400003", (40, 0): "050503", (41, 0): "0A0A07",
        (25, 0): "010603", (0, 25): "806003", (121, 121): "A5A527", (121, -121): "555517",
    }.items():  # fmt: skip
        assert record(*move, SEWN).hex().upper() == shown


def tape(*blocks: Sequence[Sequence[tuple[int, int]]]) -> bytes:
    """A tape of blocks of rows of places, in steps: a jump to each row, a colour change between blocks."""
    body, at = b"", (0, 0)
    for number, rows in enumerate(blocks):
        body += record(0, 0, COLOUR) if number else b""
        for row in rows:
            for k, place in enumerate(row):
                move = (place[0] - at[0], place[1] - at[1])
                if k == 0:
                    body += record(*move, JUMP) + record(0, 0, SEWN)
                else:
                    body += record(*move, SEWN)
                at = place
    return b"LA:foreign".ljust(512, b" ") + body + record(0, 0, END)


LOCKED = [(0, 0), (5, 0), (0, 0), (40, 30), (80, 0), (75, 0), (80, 0)]
OTHER = [(60, 60), (60, 65), (60, 60), (100, 100), (100, 95), (100, 100)]
LAST = [(-20, 40), (-20, 45), (-20, 40), (-20, 100), (-20, 95), (-20, 100)]


def rows_of(blocks: Sequence[Stitch]) -> list[list[Points]]:
    found = []
    for block in blocks:
        assert isinstance(block.style, DrawnStyle)
        found.append([np.array(row) for row in block.style.rows])
    return found


def put(name: str, data: bytes, **model: object) -> list[list[Points]]:
    made = placing({"file": name, **model})
    blocks, findings = plan_placed(made.panel, Frame(), box(-60, -60, 60, 60), (), made, {name: data})
    assert {f.code for f in findings} <= {"HW385"}
    return rows_of(blocks)


def test_a_tape_of_another_hand_is_placed_block_by_block() -> None:
    first, second = put("mark.dst", tape([LOCKED, OTHER], [LAST]), at=[7, -3])
    middle = ((-20 + 100) / 2, 100 / 2)
    for row, was in zip([*first, *second], [LOCKED, OTHER, LAST], strict=True):
        wanted = (np.array(was) - middle) / 10.0 + (7.0, -3.0)
        assert row == pytest.approx(wanted, abs=1e-9)


def test_mirrored_and_turned_by_hand() -> None:
    (first, *_), _ = put("mark.dst", tape([LOCKED, OTHER], [LAST]), mirror=True, turn=-90)
    wanted = [((y - 50) / 10.0, (x - 40) / 10.0) for x, y in LOCKED]
    assert first == pytest.approx(np.array(wanted), abs=1e-9)


def test_the_published_two_byte_example_is_placed_with_its_middle_where_asked() -> None:
    rows = put("square.exp", EXAMPLE, at=[1, 2])
    points = np.concatenate([row for block in rows for row in block])
    assert points.min(axis=0) == pytest.approx([1.0 - 38.1 / 2, 2.0 - 25.4 / 2])
    assert points.max(axis=0) == pytest.approx([1.0 + 38.1 / 2, 2.0 + 25.4 / 2])
