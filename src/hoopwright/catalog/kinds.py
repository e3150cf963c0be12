"""What each kind of stitch file can hold."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal, TypeAlias

from hoopwright.catalog.data import facts
from hoopwright.core.types import Mm

Colours: TypeAlias = Literal["none", "exact", "palette", "both", "needles"]
"""How a file names the thread of a block; the meanings stand at the head of the fact file."""


@dataclass(frozen=True, slots=True)
class FileKind:
    """A kind of stitch file: its key, file ending with the dot, longest recorded stitch in mm, colours, note, source.

    ``longest_jump`` is the longest move without sewing that is written at once (steps of 0.1 mm), ``most_blocks`` the most
    blocks a file can hold, ``waits`` whether the hoop can be sent somewhere at a halt, ``trims`` whether a cut of the thread
    is recorded where the needle does not move on, ``largest_hoop`` the side in mm of the largest hoop the kind can name.
    """

    key: str
    ending: str
    largest_stitch: Mm
    colours: Colours
    longest_jump: int
    most_blocks: int
    waits: bool
    trims: bool
    note: str
    source: str
    largest_hoop: Mm | None = None


@cache
def kinds() -> tuple[FileKind, ...]:
    """Return all kinds in the order of the fact file."""
    return tuple(FileKind(key, **row) for key, row in facts("kinds").items())


def kind_named(key: str) -> FileKind:
    """Return the kind with this key. Raises KeyError."""
    for kind in kinds():
        if kind.key == key:
            return kind
    raise KeyError(key)
