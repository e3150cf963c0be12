"""Is a stitch file whole? Light checks of the bytes, one function a kind, before anything is decoded.

A cut-short file often still decodes, with a design that stops in the middle. Each check looks for what the kind has
to say about its own end: an end record, a length, a place further on. The two-byte exp kind has no end mark: a file
cut between two records cannot be told from a whole one. In pes the pictures behind the stitches are asked for, the
list behind the pictures is not.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final, NoReturn

import numpy as np

from hoopwright.core.errors import StitchFileError

HEADER: Final = 512
"""Bytes of the tape's header, and of the first part of a pec block."""

ENTRIES_AT: Final = 48
"""Where in a pec block the number of entries less one stands; the entries follow."""

LENGTH_AT: Final = 514
"""Where in a pec block the three-byte length of its stitch part stands, counted from HEADER."""

Check = Callable[[bytes, str], None]

AGAIN: Final = "Copy the file again from where it came"
OTHER: Final = "Check that its ending tells its kind, and that it is a stitch file"


def check_structure(data: bytes, kind: str, name: str) -> None:
    """Raise StitchFileError when the bytes cannot be a whole stitch file of this kind."""
    if not data:
        raise StitchFileError(f"{name} is empty", AGAIN)
    if kind in CHECKS:
        CHECKS[kind](data, name)


def numbers_in(data: bytes, kind: str) -> tuple[int, ...]:
    """Return the entry numbers a whole jef, pec or pes file gives its blocks; other kinds have none."""
    if kind == "jef":
        return tuple(_little(data, 116 + 4 * i, 4) for i in range(_little(data, 24, 4)))
    if kind in ("pec", "pes"):
        at = _pec_start(data) + ENTRIES_AT
        return tuple(data[at + 1 : at + 2 + data[at]])
    return ()


def _cut(name: str, why: str) -> NoReturn:
    raise StitchFileError(f"{name} is cut short: {why}", AGAIN)


def _foreign(name: str, kind: str) -> NoReturn:
    raise StitchFileError(f"{name} is not a stitch file of the kind {kind}", OTHER)


def _little(data: bytes, at: int, size: int) -> int:
    return int.from_bytes(data[at : at + size], "little")


def _big(data: bytes, at: int, size: int) -> int:
    return int.from_bytes(data[at : at + size], "big")


def _dst(data: bytes, name: str) -> None:
    if not data.startswith(b"LA"):
        _foreign(name, "dst")
    if len(data) < HEADER + 3:
        _cut(name, "its header is not complete")
    body = data[HEADER : HEADER + (len(data) - HEADER) // 3 * 3]
    flags = np.frombuffer(body, dtype=np.uint8).reshape(-1, 3)[:, 2]
    ends = np.flatnonzero((flags & 0xF3) == 0xF3)
    if not len(ends):
        _cut(name, "the record that ends the design is missing")
    if np.any((flags[: ends[0]] & 0x03) != 0x03):
        _foreign(name, "dst")


def _exp(data: bytes, name: str) -> None:
    at = 0
    while at < len(data):
        if data[at] != 0x80:
            at += 2
        elif at + 1 < len(data) and data[at + 1] not in (0x01, 0x02, 0x04, 0x80):
            _foreign(name, "exp")
        else:
            at += 4
    if at != len(data):
        _cut(name, "its last record is not complete")


def _pec_start(data: bytes) -> int:
    return 8 if data.startswith(b"#PEC") else _little(data, 8, 4)


def _pes(data: bytes, name: str) -> None:
    if not data.startswith((b"#PES", b"#PEC")):
        _foreign(name, "pes")
    start = _pec_start(data)
    if len(data) < 12 or start + HEADER + 20 > len(data):
        _cut(name, f"its stitches should begin at byte {start}, it has {len(data)}")
    if data[start : start + 3] != b"LA:":
        _foreign(name, "pes")
    end = start + HEADER + _little(data, start + LENGTH_AT, 3)
    if end > len(data):
        _cut(name, f"its stitches should end at byte {end}, it has {len(data)}")
    if end <= start + HEADER + 20 or data[end - 1] != 0xFF:
        _cut(name, "the record that ends the design is missing")
    pictures = (data[start + ENTRIES_AT] + 2) * data[start + 34] * data[start + 35]
    if end + pictures > len(data):
        _cut(name, "the little pictures behind the stitches are not complete")


def _jef(data: bytes, name: str) -> None:
    if len(data) < 120:
        _cut(name, "its header is not complete")
    start, colours = _little(data, 0, 4), _little(data, 24, 4)
    if not 0 < colours < 10_000 or 116 + 4 * colours > start:
        _foreign(name, "jef")
    if start >= len(data):
        _cut(name, f"its stitches should begin at byte {start}, it has {len(data)}")
    at = start
    while at + 1 < len(data):
        if data[at] != 0x80:
            at += 2
            continue
        if data[at + 1] == 0x10:
            break
        if data[at + 1] not in (0x01, 0x02):
            _foreign(name, "jef")
        at += 4
    else:
        _cut(name, "the record that ends the design is missing")


def _vp3(data: bytes, name: str) -> None:
    if not data.startswith(b"%vsm%\x00"):
        _foreign(name, "vp3")
    if len(data) < 8:
        _cut(name, "its header is not complete")
    at = 8 + _big(data, 6, 2)
    if at + 7 > len(data):
        _cut(name, "its header is not complete")
    if data[at : at + 3] != b"\x00\x02\x00":
        _foreign(name, "vp3")
    end = at + 7 + _big(data, at + 3, 4)
    if end > len(data):
        _cut(name, f"it should have {end} bytes, it has {len(data)}")


def _xxx(data: bytes, name: str) -> None:
    if len(data) < 0x104:
        _cut(name, "its header is not complete")
    end, colours = _little(data, 0xFC, 4), _little(data, 0x27, 2)
    if end < 0x100 or colours == 0:
        _foreign(name, "xxx")
    if end + 6 + 4 * colours > len(data):
        _cut(name, f"its colours should end at byte {end + 6 + 4 * colours}, it has {len(data)}")
    if data[end : end + 2] not in (b"\x7f\x7f", b"\x7f\x18"):
        _foreign(name, "xxx")


def _u01(data: bytes, name: str) -> None:
    if len(data) < 0x103:
        _cut(name, "its header is not complete")
    body = data[0x100 : 0x100 + (len(data) - 0x100) // 3 * 3]
    commands = np.frombuffer(body, dtype=np.uint8).reshape(-1, 3)[:, 0]
    codes = commands & 0x1F
    ends = np.flatnonzero(codes >= 0x18)
    if not len(ends):
        _cut(name, "the record that ends the design is missing")
    if codes[ends[0]] != 0x18 or np.any(commands[: ends[0] + 1] < 0x80):
        _foreign(name, "u01")


CHECKS: Final[dict[str, Check]] = {
    "dst": _dst,
    "exp": _exp,
    "jef": _jef,
    "pec": _pes,
    "pes": _pes,
    "u01": _u01,
    "vp3": _vp3,
    "xxx": _xxx,
}
