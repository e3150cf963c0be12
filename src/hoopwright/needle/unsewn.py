"""Blocks that are sewn to be seen and of which nothing is left where they may lie."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.types import Point
from hoopwright.needle.shapes import Run
from hoopwright.operations.vocabulary import Operation, Role, Stitch

MAY_BE_EMPTY: Final = frozenset({Role.ORNAMENT, Role.GROUND})
"""Roles of blocks that are cut off where other things lie, so that nothing may be left of them."""


def is_left_out(stitch: Stitch, runs: Sequence[Run]) -> bool:
    """Whether a block is no step, because there is nothing to sew: a machine would halt for it, or lose a halt over it."""
    return not runs and stitch.role in MAY_BE_EMPTY


def left_out(operations: Iterable[Operation], sewn: Iterable[Stitch], hooping: str) -> tuple[Finding, ...]:
    """Return HW397 for each block among the operations of a hooping that is not among the blocks sewn in it."""
    there = {id(stitch) for stitch in sewn}
    return tuple(
        Finding(
            "HW397",
            Severity.NOTES,
            f"Nothing is sewn of “{o.title}”: no line of it has room",
            "Nothing needs doing; or choose a smaller width or spacing",
            Where(point=_place(o), hooping=hooping),
        )
        for o in operations
        if isinstance(o, Stitch) and o.role in MAY_BE_EMPTY and id(o) not in there
    )


def _place(stitch: Stitch) -> Point | None:
    """Return a place where a block would lie, mm, to a tenth."""
    shape = stitch.region if stitch.region is not None else next(iter(stitch.paths), None)
    if shape is None or shape.is_empty:
        return None
    at = shape.representative_point()
    return round(at.x, 1), round(at.y, 1)
