"""Parts of stitch files that we write ourselves, because the library's own are not good enough.

The header of the dst tape: its extents are measured from the start of the design and its count is that of the
records (layout: edutechwiki.unige.ch, Embroidery format DST). The entry numbers of the pec part: the library gives
two different threads the entry that is free, whatever stands next to it.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hoopwright.stitchfiles.structure import ENTRIES_AT, HEADER, LENGTH_AT


def plain_name(text: str, longest: int) -> str:
    """Return the text in printable ASCII, at most ``longest`` characters; "untitled" when nothing is left."""
    bare = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode("ascii")
    kept = "".join(c for c in bare if c.isprintable()).strip()[:longest].strip()
    return kept or "untitled"


def with_tape_header(data: bytes, name: str) -> bytes:
    """Return a dst file with a header that tells the truth about its records.

    The extents are those of the needle positions; the little moves that cut the thread are left out.
    """
    rows = np.frombuffer(data[HEADER:], dtype=np.uint8).reshape(-1, 3)
    body = rows[: _end_of(rows)]
    places = np.vstack([[(0, 0)], np.cumsum(tape_moves(body), axis=0)])
    sewn = np.concatenate([[True], (body[:, 2] & 0xC3) == 0x03])
    (left, low), (right, high) = places[sewn].min(axis=0), places[sewn].max(axis=0)
    changes = int(np.count_nonzero((body[:, 2] & 0xF3) == 0xC3))
    end = places[-1]
    fields = [
        f"LA:{name:<16}",
        f"ST:{len(body):7d}",
        f"CO:{changes:3d}",
        f"+X:{right:5d}",
        f"-X:{-left:5d}",
        f"+Y:{high:5d}",
        f"-Y:{-low:5d}",
        *(f"{label}:{'-' if v < 0 else '+'}{abs(v):5d}" for label, v in (("AX", end[0]), ("AY", end[1]))),
        "MX:+    0",
        "MY:+    0",
        "PD:******",
    ]
    head = ("\r".join(fields) + "\r\x1a").encode("ascii")
    return head.ljust(HEADER, b" ") + data[HEADER:]


def tape_moves(rows: NDArray[np.uint8]) -> NDArray[np.int64]:
    """Return the moves (x right, y up, machine steps) of three-byte tape records, shape (n, 2)."""
    bits = np.unpackbits(rows, axis=1).astype(np.int64)
    weights_y = np.array([1, -1, 9, -9, 0, 0, 0, 0, 3, -3, 27, -27, 0, 0, 0, 0, 0, 0, 81, -81, 0, 0, 0, 0])
    weights_x = np.array([0, 0, 0, 0, -9, 9, -1, 1, 0, 0, 0, 0, -27, 27, -3, 3, 0, 0, 0, 0, -81, 81, 0, 0])
    return np.stack([bits @ weights_x, bits @ weights_y], axis=1)


def _end_of(rows: NDArray[np.uint8]) -> int:
    ends = np.flatnonzero((rows[:, 2] & 0xF3) == 0xF3)
    return int(ends[0]) if len(ends) else len(rows)


def with_entry_numbers(data: bytes, numbers: Sequence[int]) -> bytes:
    """Return a pec file, or a pes file of version 6, with these palette entries for its blocks."""
    start = 8 if data.startswith(b"#PEC") else int.from_bytes(data[8:12], "little")
    out = bytearray(data)
    table = bytes([len(numbers) - 1, *numbers])
    out[start + ENTRIES_AT : start + ENTRIES_AT + len(table)] = table
    if data.startswith(b"#PES"):
        out_at = _addendum(data, start, len(numbers))
        out[out_at : out_at + len(table)] = table
    return bytes(out)


def _addendum(data: bytes, start: int, blocks: int) -> int:
    """Return where a pes file of version 6 repeats the entries: behind the little pictures of its pec part."""
    length = int.from_bytes(data[start + LENGTH_AT : start + LENGTH_AT + 3], "little")
    picture = data[start + 34] * data[start + 35]
    return start + HEADER + length + (blocks + 1) * picture
