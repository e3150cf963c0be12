"""Read a stitch file back, of any kind, without ever trusting it."""

from __future__ import annotations

import io
from functools import cache
from itertools import pairwise
from pathlib import PurePath
from types import ModuleType
from typing import Final

import numpy as np
import pystitch
from numpy.typing import NDArray
from pystitch.EmbConstant import COLOR_CHANGE, COMMAND_MASK, JUMP, NEEDLE_SET, STITCH, STOP, TRIM
from pystitch.EmbFunctions import decode_embroidery_command
from pystitch.EmbPattern import EmbPattern

from hoopwright.core.errors import StitchFileError
from hoopwright.core.tolerances import MACHINE_STEP
from hoopwright.core.types import frozen_points
from hoopwright.stitchfiles.record import FARTHEST, FileBlock, StitchFile
from hoopwright.stitchfiles.structure import AGAIN, OTHER, check_structure, numbers_in

LARGEST_FILE: Final = 32 * 2**20
"""Bytes; a million stitches need three to six megabytes."""

TEXT: Final = frozenset({"gcode"})
"""Endings of text files that steer other machines."""


def read_stitches(data: bytes, name: str) -> StitchFile:
    """Return what a stitch file holds. ``name`` is its file name; the ending tells its kind.

    Raises StitchFileError, in plain words, when the file is empty, cut short, of another kind, or absurd.
    """
    kind = PurePath(name).suffix[1:].lower()
    reader = readers().get(kind)
    if reader is None:
        known = ", ".join(sorted(readers()))
        raise StitchFileError(f"{name}: stitch files with the ending '{kind}' are not known", f"Known are: {known}")
    if len(data) > LARGEST_FILE:
        raise StitchFileError(f"{name} has {len(data) / 2**20:.0f} megabytes: no stitch file is so large", OTHER)
    check_structure(data, kind, name)
    return _record(_decoded(data, name, reader), data, kind, name)


@cache
def readers() -> dict[str, ModuleType]:
    """Return the readers of all binary stitch files, by ending."""
    rows = [f for f in pystitch.supported_formats() if f.get("category") == "embroidery" and "reader" in f]
    return {f["extension"]: f["reader"] for f in rows if f["extension"] not in TEXT}


class _Stream(io.BytesIO):
    """A stream that stops a reader which goes on past the end or round in circles."""

    def __init__(self, data: bytes) -> None:
        super().__init__(data)
        self._reads = 8 * len(data) + 4096
        self._empty = 64

    def read(self, size: int | None = -1, /) -> bytes:
        got = super().read(size)
        self._reads -= 1
        self._empty -= size != 0 and not got
        if self._reads < 0 or self._empty < 0:
            raise EOFError
        return got


def _decoded(data: bytes, name: str, reader: ModuleType) -> EmbPattern:
    pattern = EmbPattern()
    try:
        reader.read(_Stream(data), pattern, None)
    except EOFError:
        raise StitchFileError(f"{name} is cut short: it goes on past its end", AGAIN) from None
    except Exception as error:
        raise StitchFileError(f"{name} cannot be read: it is damaged or of another kind", OTHER) from error
    return pattern


def _record(pattern: EmbPattern, data: bytes, kind: str, name: str) -> StitchFile:
    table = np.array([s[:3] for s in pattern.stitches], dtype=np.float64).reshape(-1, 3)
    codes = table[:, 2].astype(np.int64) & COMMAND_MASK
    sewn = np.flatnonzero(codes == STITCH)
    if not len(sewn):
        raise StitchFileError(f"{name} holds no stitches", AGAIN)
    places = table[:, :2] * (MACHINE_STEP, -MACHINE_STEP) + 0.0  # no minus zero
    if not np.all(np.abs(places[sewn]) < FARTHEST):
        raise StitchFileError(f"{name} reaches farther than any hoop: it is damaged or of another kind", OTHER)
    changes = np.flatnonzero(np.isin(codes, (COLOR_CHANGE, STOP, NEEDLE_SET)))
    between = changes[(changes > sewn[0]) & (changes < sewn[-1])]
    blocks = _blocks(pattern, numbers_in(data, kind), places, codes, sewn, changes)
    cuts = np.unique(np.searchsorted(sewn, np.flatnonzero(codes == TRIM)))
    return StitchFile(name, kind, blocks, len(between), int(np.count_nonzero(cuts)))


def _blocks(
    pattern: EmbPattern,
    numbers: tuple[int, ...],
    places: NDArray[np.float64],
    codes: NDArray[np.int64],
    sewn: NDArray[np.intp],
    changes: NDArray[np.intp],
) -> tuple[FileBlock, ...]:
    """Part the stitches at the changes; changes with nothing sewn between them make no block of their own."""
    moved = np.cumsum(np.isin(codes, (JUMP, TRIM)))[sewn]
    arrived = np.flatnonzero(np.diff(moved, prepend=-1))
    firsts = np.unique(np.searchsorted(sewn, changes))
    edges = [0, *(int(f) for f in firsts if 0 < f < len(sewn)), len(sewn)]
    threads = np.concatenate([[0], np.cumsum(codes[changes] == COLOR_CHANGE)])
    blocks = []
    for first, last in pairwise(edges):
        before = int(np.searchsorted(changes, sewn[first]))
        inner = arrived[(arrived > first) & (arrived < last)] - first
        thread = int(threads[before])
        known = pattern.threadlist[thread] if thread < len(pattern.threadlist) else None
        blocks.append(
            FileBlock(
                points=frozen_points(places[sewn[first:last]]),
                starts=(0, *(int(i) for i in inner)),
                colour=None if known is None else f"#{known.color & 0xFFFFFF:06x}",
                number=_number(pattern, changes, before, numbers),
                waits_at=(float(places[changes[before - 1]][0]), float(places[changes[before - 1]][1]))
                if first
                else None,
            )
        )
    return tuple(blocks)


def _number(pattern: EmbPattern, changes: NDArray[np.intp], before: int, numbers: tuple[int, ...]) -> int | None:
    """Return the entry or needle of the block that has ``before`` changes in front of it."""
    if before < len(numbers):
        return numbers[before]
    if before:
        needle = decode_embroidery_command(pattern.stitches[changes[before - 1]][2])[2]
        return None if needle is None else int(needle)
    return None
