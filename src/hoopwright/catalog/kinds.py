"""What each kind of stitch file can hold."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal, TypeAlias

from hoopwright.catalog.data import facts
from hoopwright.core.types import Mm

Colours: TypeAlias = Literal["none", "palette", "full"]
"""Whether a file carries no colours, the nearest of a fixed list, or any colour."""


@dataclass(frozen=True, slots=True)
class FileKind:
    """A kind of stitch file: its key, file ending with the dot, longest recorded move in mm, colours, note, source."""

    key: str
    ending: str
    largest_stitch: Mm
    colours: Colours
    note: str
    source: str


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
