"""What a device at the machine may ask for: the same for the maker's own screen and for one that she shares with."""

from __future__ import annotations

from typing import Annotated, Final

from pydantic import BaseModel, ConfigDict, Field

from hoopwright.worktable.machine.notes import LONGEST_NOTE

Key = Annotated[str, Field(min_length=1, max_length=80)]


class Asked(BaseModel):
    """What is asked, with nothing else beside it."""

    model_config = ConfigDict(extra="forbid", populate_by_name=True)


class HoopingBody(Asked):
    """A hooping."""

    hooping: Key


class GoBody(HoopingBody):
    """From which card to which; ``done``: with "next"."""

    come_from: Annotated[str, Field(min_length=1, max_length=80, alias="from")]
    to: Key
    done: bool = False


class RestBody(HoopingBody):
    """Whether a break begins or ends."""

    on: bool


class NoteBody(HoopingBody):
    """A note at a halt."""

    group: Key
    text: Annotated[str, Field(max_length=LONGEST_NOTE)]


MOST_BYTES: Final = 20_000
"""Bytes that a request of a device may carry: a note of the longest sort in any script."""
