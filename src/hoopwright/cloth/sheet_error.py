"""Why something cannot be done with sheets of cloth, told with their names: a sheet is called by its key in a stack only."""

from __future__ import annotations

from collections.abc import Callable

from hoopwright.core.errors import GeometryError


class SheetError(GeometryError):
    """What is wrong with some sheets; ``saying`` holds {} for each of ``sheets``, which are keys of the stack."""

    def __init__(self, saying: str, sheets: tuple[str, ...], cure: str) -> None:
        super().__init__(saying.format(*sheets), cure)
        self.saying = saying
        self.sheets = sheets


def in_words(error: GeometryError, name: Callable[[str], str]) -> str:
    """Return what an error says, with each sheet called as ``name`` calls it."""
    return error.saying.format(*map(name, error.sheets)) if isinstance(error, SheetError) else error.message
